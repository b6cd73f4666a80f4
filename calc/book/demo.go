package book

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"stillroom/sync"
)

// Written is an entry with the stream that it was written to.
type Written struct {
	Stream string
	Entry  sync.Entry
}

// demoStep is one command of the script: when, which, with what, and under which name its answer is spoken of later.
type demoStep struct {
	At   string          `json:"at"` // "-12d 09:05": days before now, local hour
	Do   string          `json:"do"`
	As   string          `json:"as"`
	Args json.RawMessage `json:"args"`
	at   int64           // ms since 1970
}

// demoSteps reads all files of a script and puts their steps in the order of time.
func demoSteps(script []byte, now int64, zone int) ([]demoStep, error) {
	var steps []demoStep
	for files := json.NewDecoder(bytes.NewReader(script)); ; {
		var file struct {
			Steps []demoStep `json:"steps"`
		}
		if err := files.Decode(&file); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			return nil, fmt.Errorf("the demo's script does not parse: %w", err)
		}
		for _, step := range file.Steps {
			var err error
			if step.at, err = demoTime(step.At, now, zone); err != nil {
				return nil, fmt.Errorf("demo step %s: %w", step.Do, err)
			}
			steps = append(steps, step)
		}
	}
	slices.SortStableFunc(steps, func(a, b demoStep) int { return cmp.Compare(a.at, b.at) })
	return steps, nil
}

// Demo plays a script of commands through Decide as a device of its own, with fixed randomness and with times relative
// to now (ms since 1970; zone in minutes east of UTC), and answers the entries in the order in which they were written.
// The script is one file or several, one after the other; steps are played in the order of their times, those of one
// minute as they stand. The workshop that it names is marked as the demo's. It fails when a command is refused, naming it.
func Demo(script []byte, device sync.DeviceID, now int64, zone int) ([]Written, error) {
	steps, err := demoSteps(script, now, zone)
	if err != nil {
		return nil, err
	}
	s := New()
	said := map[string]map[string]string{}
	var out []Written
	for i, step := range steps {
		at := step.at
		var seed [8]byte
		binary.BigEndian.PutUint64(seed[:], uint64(i))
		ctx := Context{Device: device, Letter: "D", Role: Owner, Who: "demo", Now: at, Zone: zone, Rand: sha256.Sum256(append([]byte("stillroom demo"), seed[:]...))}
		drafts, value, no := s.Decide(ctx, step.Do, fillIn(step.Args, said, now, zone))
		if no != nil {
			return nil, fmt.Errorf("demo step %d, %s at %s: %w", i+1, step.Do, step.At, no)
		}
		for _, d := range drafts {
			if d.Body, err = markDemo(d.Kind, d.V, d.Body); err != nil {
				return nil, err
			}
			e := sync.Entry{Seq: s.Head(d.Stream, device) + 1, At: at, Kind: d.Kind, V: d.V, Body: d.Body}
			s.Apply(d.Stream, device, nil, e)
			out = append(out, Written{d.Stream, e})
		}
		if step.As != "" {
			said[step.As] = answers(value)
		}
	}
	return out, nil
}

// markDemo marks the kinds that can say of themselves that they are invented.
func markDemo(kind, v uint32, body []byte) ([]byte, error) {
	b, err := open(kind, v, body)
	if err != nil {
		return nil, err
	}
	switch b := b.(type) {
	case *WorkshopNamed:
		b.Demo = true
	case *PlaceNamed:
		b.Demo = true
	default:
		return body, nil
	}
	return encode(b)
}

// answers are the texts of a command's value by their JSON names.
func answers(value any) map[string]string {
	out := map[string]string{}
	raw, err := json.Marshal(value)
	if err != nil {
		return out
	}
	fields := map[string]any{}
	if json.Unmarshal(raw, &fields) != nil {
		return out
	}
	for k, v := range fields {
		if s, ok := v.(string); ok {
			out[k] = s
		}
	}
	return out
}

// fillIn puts earlier answers and days into the arguments of a step. Names with dots are matched whole.
func fillIn(args json.RawMessage, said map[string]map[string]string, now int64, zone int) []byte {
	parts := strings.Split(string(args), `"$`)
	for i := 1; i < len(parts); i++ {
		word, rest, _ := strings.Cut(parts[i], `"`)
		text := ""
		if days, ok := strings.CutPrefix(word, "day+"); ok {
			n, _ := strconv.Atoi(days) // a script with a bad day yields today, and its test says so
			text = local(now, zone).AddDate(0, 0, n).Format("2006-01-02")
		} else if dot := strings.LastIndexByte(word, '.'); dot > 0 {
			text = said[word[:dot]][word[dot+1:]]
		}
		parts[i] = `"` + text + `"` + rest
	}
	return []byte(strings.Join(parts, ""))
}

func demoTime(text string, now int64, zone int) (int64, error) {
	days, hour, ok := strings.Cut(text, "d ")
	n, err := strconv.Atoi(days)
	clock, err2 := time.Parse("15:04", hour)
	if !ok || err != nil || err2 != nil {
		return 0, fmt.Errorf("%q is not a time such as -12d 09:05", text)
	}
	day := local(now, zone).AddDate(0, 0, n)
	t := time.Date(day.Year(), day.Month(), day.Day(), clock.Hour(), clock.Minute(), 0, 0, time.UTC)
	return t.UnixMilli() - int64(zone)*60000, nil
}
