package book

import (
	"fmt"
	"strconv"
	"strings"

	"stillroom/sync"
)

// Ref names one entry of a stream for ever: the device that wrote it and that device's own number. The kind of the
// pointing entry says which stream is meant. The zero Ref names nothing.
type Ref struct {
	Device sync.DeviceID
	Seq    uint64
}

func (r Ref) String() string {
	if r.Seq == 0 {
		return ""
	}
	return r.Device.String() + "." + strconv.FormatUint(r.Seq, 10)
}

// ParseRef reads "device.seq". The empty text is the zero Ref.
func ParseRef(s string) (Ref, error) {
	if s == "" {
		return Ref{}, nil
	}
	dev, seq, ok := strings.Cut(s, ".")
	if !ok {
		return Ref{}, fmt.Errorf("%q is not device.number", s)
	}
	d, err := sync.ParseDeviceID(dev)
	if err != nil {
		return Ref{}, err
	}
	n, err := strconv.ParseUint(seq, 10, 64)
	if err != nil || n == 0 || n > maxWhole {
		return Ref{}, fmt.Errorf("%q is not the number of an entry", seq)
	}
	r := Ref{d, n}
	if r.String() != s {
		return Ref{}, fmt.Errorf("%q is not written as an entry is", s)
	}
	return r, nil
}
