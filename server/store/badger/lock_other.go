//go:build !unix

package badger

// lock does nothing on this system: a journal that another process holds is found when Badger opens it.
func (s *Store) lock() error { return nil }
