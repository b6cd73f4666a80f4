package folder

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	gosync "sync"
	"time"

	"stillroom/server/store"
	"stillroom/sync"
)

// Device is one that may write, as the table keeps it.
type Device struct {
	ID     sync.DeviceID `json:"-"`
	Name   string        `json:"device"`
	Letter string        `json:"letter"`
	Role   string        `json:"role"`
	// Token is the SHA-256 of the token, in hexadecimal.
	Token string `json:"token"`
	Added string `json:"added"`
	// Revoked is when it was taken off the list; "" while it is on it. A row is never deleted: its letter stands in codes.
	Revoked string `json:"revoked,omitempty"`
}

type table struct {
	Format  int      `json:"format"`
	Devices []Device `json:"devices"`
	// Spent counts letters that a table gave out which was lost, beside those of the rows: none is given twice.
	Spent int `json:"spent,omitempty"`
	// Sum is the SHA-256 of the rows' own JSON, in hexadecimal, with the count of spent letters behind it when there are
	// any; "" in a table of an earlier version.
	Sum string `json:"sum,omitempty"`
}

// Table is the file that holds rows, where spent letters beside theirs were given out.
func Table(rows []Device, spent int) ([]byte, error) {
	sum, err := sumOf(rows, spent)
	if err != nil {
		return nil, err
	}
	data, err := json.MarshalIndent(table{Format: format, Devices: rows, Spent: spent, Sum: sum}, "", "  ")
	return append(data, '\n'), err
}

func sumOf(rows []Device, spent int) (string, error) {
	data, err := json.Marshal(append([]Device{}, rows...))
	if spent > 0 {
		data = strconv.AppendInt(data, int64(spent), 10)
	}
	return hash(string(data)), err
}

// Devices is the table of who may write. It may be used from many goroutines.
type Devices struct {
	path string
	o    Options
	mu   gosync.Mutex
	rows []Device
	// spent is the table's.
	spent int
	lost  error
}

// Lost says why there is no list of devices, where only what is left was asked for; nil otherwise.
func (d *Devices) Lost() error { return d.lost }

// readDevices reads the table; must tells that a missing one was lost.
func readDevices(path string, must bool, o Options) (*Devices, error) {
	d, err := readTable(path, must, o)
	if lost := new(Altered); o.Left && errors.As(err, &lost) {
		return &Devices{path: path, o: o, lost: lost}, nil
	}
	return d, err
}

func readTable(path string, must bool, o Options) (*Devices, error) {
	if o.Rand == nil {
		o.Rand = rand.Reader
	}
	d := &Devices{path: path, o: o}
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		if must {
			return nil, &Altered{path, "is missing: it says which phones belong to this book"}
		}
		return d, nil
	}
	if err != nil {
		return nil, err
	}
	var t table
	if err := json.Unmarshal(data, &t); err != nil {
		return nil, &Altered{path, "cannot be read: " + err.Error()}
	}
	switch {
	case t.Format > format && !o.Left:
		return nil, &store.Newer{What: path}
	case t.Format != format:
		return nil, &Altered{path, fmt.Sprintf("has layout %d, which this program cannot read", t.Format)}
	}
	if sum, err := sumOf(t.Devices, t.Spent); err != nil || t.Sum != "" && t.Sum != sum {
		return nil, &Altered{path, "was altered: it does not match the sum that was written with it"}
	}
	for i := range t.Devices {
		if t.Devices[i].ID, err = sync.ParseDeviceID(t.Devices[i].Name); err != nil {
			return nil, &Altered{path, fmt.Sprintf("was altered: it names %q as a device", t.Devices[i].Name)}
		}
	}
	d.rows, d.spent = t.Devices, t.Spent
	return d, nil
}

// Add takes in a new device and gives its token, which is kept nowhere else. It is on disk when Add returns.
func (d *Devices) Add(role string) (Device, string, error) {
	var id sync.DeviceID
	var secret [32]byte
	if _, err := io.ReadFull(d.o.Rand, id[:]); err != nil {
		return Device{}, "", err
	}
	if _, err := io.ReadFull(d.o.Rand, secret[:]); err != nil {
		return Device{}, "", err
	}
	token := base64.RawURLEncoding.EncodeToString(secret[:])
	d.mu.Lock()
	defer d.mu.Unlock()
	row := Device{ID: id, Name: id.String(), Letter: letter(d.spent + len(d.rows)), Role: role, Token: hash(token), Added: d.o.Now().UTC().Format(time.RFC3339)}
	if err := d.keep(append(slices.Clone(d.rows), row)); err != nil {
		return Device{}, "", fmt.Errorf("the new device was not taken in: %w", err)
	}
	return row, token, nil
}

// Revoke takes a device off the list. It is on disk when Revoke returns; a device that is not on the list stays so.
func (d *Devices) Revoke(id sync.DeviceID) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	rows := slices.Clone(d.rows)
	for i := range rows {
		if rows[i].ID == id && rows[i].Revoked == "" {
			rows[i].Revoked = d.o.Now().UTC().Format(time.RFC3339)
			if err := d.keep(rows); err != nil {
				return fmt.Errorf("the device was not taken off the list: %w", err)
			}
		}
	}
	return nil
}

// keep puts a new table in the place of the old one, first on disk.
func (d *Devices) keep(rows []Device) error {
	if d.o.ReadOnly {
		return &store.ReadOnly{Dir: filepath.Dir(d.path)}
	}
	data, err := Table(rows, d.spent)
	if err != nil {
		return err
	}
	if err := d.o.Disk.Replace(d.path, data); err != nil {
		return err
	}
	d.rows = rows
	return nil
}

// ByToken finds the device that a token belongs to, also one that was revoked.
func (d *Devices) ByToken(token string) (Device, bool) {
	want := []byte(hash(token))
	d.mu.Lock()
	defer d.mu.Unlock()
	for _, row := range d.rows {
		if subtle.ConstantTimeCompare([]byte(row.Token), want) == 1 {
			return row, true
		}
	}
	return Device{}, false
}

// Listed tells whether a device is on the list and was not taken off it.
func (d *Devices) Listed(id sync.DeviceID) bool {
	d.mu.Lock()
	defer d.mu.Unlock()
	return slices.ContainsFunc(d.rows, func(row Device) bool { return row.ID == id && row.Revoked == "" })
}

// All lists the devices in the order in which they came.
func (d *Devices) All() []Device {
	d.mu.Lock()
	defer d.mu.Unlock()
	return slices.Clone(d.rows)
}

func hash(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

// Letters tells how many letters had been given out when this one was, itself among them; 0 for what is none.
func Letters(mark string) (n int) {
	for _, c := range mark {
		if c < 'A' || c > 'Z' || n > 1000 {
			return 0
		}
		n = 26*n + int(c-'A') + 1
	}
	return n
}

// letter is the n-th device's mark in batch codes, from 0: A to Z, then AA, AB and on.
func letter(n int) string {
	if n < 26 {
		return string(rune('A' + n))
	}
	return letter(n/26-1) + letter(n%26)
}
