package store

import "stillroom/sync"

// Cut collects items until MaxBytes would be passed; the first is always taken.
type Cut struct {
	MaxBytes int
	Items    [][]byte
	bytes    int
}

// Take adds an item; false when it no longer fits.
func (c *Cut) Take(item []byte) bool {
	if c.MaxBytes > 0 && len(c.Items) > 0 && c.bytes+len(item) > c.MaxBytes {
		return false
	}
	c.bytes += len(item)
	c.Items = append(c.Items, item)
	return true
}

// Through is the hash after the items that follow a head.
func Through(h Head, items [][]byte) sync.Hash {
	hash := h.Hash
	for _, item := range items {
		hash = hash.Next(item)
	}
	return hash
}
