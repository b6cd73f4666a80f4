package sync

import (
	"errors"
	"fmt"
	"strings"
)

// Crockford is the alphabet in which ids are written for people: no I, L, O or U.
const crockford = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// DeviceID names one device for good. A phone that lost its memory or was restored from its own backup gets a new one.
type DeviceID [8]byte

// String gives the 13 Crockford characters of the id, most significant first.
func (d DeviceID) String() string {
	var v uint64
	for _, b := range d {
		v = v<<8 | uint64(b)
	}
	var out [13]byte
	for i := len(out) - 1; i >= 0; i-- {
		out[i] = crockford[v&31]
		v >>= 5
	}
	return string(out[:])
}

// IsZero reports whether no id was given.
func (d DeviceID) IsZero() bool { return d == DeviceID{} }

// ParseDeviceID reads what String wrote. It refuses any other length, alphabet or a value above 64 bits.
func ParseDeviceID(s string) (DeviceID, error) {
	var d DeviceID
	if len(s) != 13 {
		return d, fmt.Errorf("a device id has 13 characters, not %d", len(s))
	}
	var v uint64
	for i := 0; i < len(s); i++ {
		n := strings.IndexByte(crockford, s[i])
		if n < 0 {
			return d, fmt.Errorf("a device id holds no %q", s[i])
		}
		if i == 0 && n > 15 {
			return d, errors.New("a device id has 64 bits; this one has more")
		}
		v = v<<5 | uint64(n)
	}
	for i := 7; i >= 0; i-- {
		d[i] = byte(v)
		v >>= 8
	}
	return d, nil
}

// Epoch names one life of a store: random, new on create and on restore. Zero means that nothing was ever folded from a store.
type Epoch [8]byte

// IsZero reports whether the epoch is that of a device that never met a store.
func (e Epoch) IsZero() bool { return e == Epoch{} }
