package badger

import (
	"errors"
	"fmt"
	"io/fs"

	"stillroom/server/store"
	"stillroom/server/store/witness"
)

// witnessing writes the witness one batch behind the journal: while the next batch is being synced, so that it costs
// next to nothing, and never ahead of it. What phones were told of the batch in between is their own witness.
type witnessing struct {
	file *witness.File
	// under is not nil while one is being written.
	under chan error
}

// begin starts to write how far the journal reaches; wait gives how that went. Only the committing goroutine calls them.
func (w *witnessing) begin(m witness.Marks) {
	if w.file == nil {
		return
	}
	w.under = make(chan error, 1)
	go func() { w.under <- w.file.Write(m) }()
}

func (w *witnessing) wait() error {
	if w.under == nil {
		return nil
	}
	err := <-w.under
	w.under = nil
	if err != nil {
		return fmt.Errorf("the witness beside the journal was not written: %w", err)
	}
	return nil
}

// marks are what the witness is to say now.
func (s *Store) marks() witness.Marks {
	m := witness.Marks{Epoch: s.epoch, Heads: map[string]store.Head{}}
	for _, stream := range s.Ledger.Streams() {
		m.Heads[stream] = s.Ledger.Head(stream)
	}
	return m
}

// readWitness gives nil when there is none or it says nothing; a bad one becomes a note, since the journal has hashes of
// its own.
func (s *Store) readWitness() (*witness.Marks, error) {
	if s.o.Witness == "" {
		return nil, nil
	}
	m, err := witness.Read(s.o.Witness)
	var bad *witness.Bad
	switch {
	case err == nil:
		return &m, nil
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case errors.As(err, &bad):
		s.notes = append(s.notes, bad.Error()+". "+bad.Hint())
		return nil, nil
	}
	return nil, inWords(s.dir, err)
}

// witnessOf is the path that a check is told, or "" when there is nothing to compare with.
func (s *Store) witnessOf(seen *witness.Marks) string {
	if seen == nil {
		return ""
	}
	return s.o.Witness
}

// openWitness goes on with the witness, or makes one that says how far the journal reaches now.
func (s *Store) openWitness(seen *witness.Marks) (err error) {
	switch {
	case s.o.Witness == "":
		return nil
	case seen != nil:
		s.witness.file, err = witness.Open(s.o.Witness, s.o.Disk)
	default:
		if err := witness.SetAside(s.o.Witness); err != nil {
			return err
		}
		if len(s.notes) == 0 && len(s.Streams()) > 0 {
			s.notes = append(s.notes, "There was no witness beside the journal, so nobody can tell whether its end was lost before; one was written now.")
		}
		s.witness.file, err = witness.Make(s.o.Witness, s.o.Disk, s.marks())
	}
	if err != nil {
		return err
	}
	// A crash may have come between a batch and its witness.
	s.witness.begin(s.marks())
	return s.witness.wait()
}

func (s *Store) closeWitness() error {
	if s.witness.file == nil {
		return nil
	}
	return errors.Join(s.witness.wait(), s.witness.file.Close())
}
