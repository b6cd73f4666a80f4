package calc_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"stillroom/calc"
)

// interaction is a whole formula at the door in which several things bear on one another: what must be answered, what must be found, and which rules must
// keep quiet.
type interaction struct {
	Check   string            `json:"check"`
	Asks    string            `json:"asks"`
	Request json.RawMessage   `json:"request"`
	Answers map[string]string `json:"answers"` // a path such as limits.0.share, and what stands there
	Finds   []struct {
		Rule, Level, Subject, Says, Figure, Do string
	} `json:"finds"`
	Quiet  []string `json:"quiet"`
	Source string   `json:"source"`
	Mark   string   `json:"mark"`
}

func interactions(t *testing.T) []interaction {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "testdata", "published", "interaction.json"))
	if err != nil {
		t.Fatal(err)
	}
	var all []interaction
	if err := json.Unmarshal(raw, &all); err != nil {
		t.Fatal(err)
	}
	for _, c := range all {
		if c.Check == "" || c.Source == "" || !strings.Contains(" R R~ M M+ M? C T CP own ", " "+c.Mark+" ") || len(c.Answers)+len(c.Finds)+len(c.Quiet) == 0 {
			t.Fatalf("%q lacks a source, a mark or anything to hold it against", c.Check)
		}
	}
	return all
}

func TestHardInteractions(t *testing.T) {
	for _, c := range interactions(t) {
		t.Run(c.Check, func(t *testing.T) {
			var answer map[string]any
			ask(t, c.Asks, string(c.Request), &answer)
			for path, want := range c.Answers {
				if got := at(answer, path); got != want {
					t.Errorf("%s is %s, want %s (%s)", path, got, want, c.Source)
				}
			}
			raw, err := json.Marshal(answer["findings"])
			if err != nil {
				t.Fatal(err)
			}
			// a margin note calls the subject its line
			var found []struct {
				calc.Finding
				Line string `json:"line"`
			}
			if err := json.Unmarshal(raw, &found); err != nil {
				t.Fatal(err)
			}
			for _, want := range c.Finds {
				met := false
				for _, f := range found {
					met = met || f.Rule == want.Rule && string(f.Level) == want.Level && f.Subject+f.Line == want.Subject && strings.Contains(f.Says, want.Says) &&
						(want.Figure == "" || f.Figure == want.Figure) && strings.Contains(f.Do, want.Do) && f.Source != ""
				}
				if !met {
					t.Errorf("not found: %+v (%s) in %s", want, c.Source, raw)
				}
			}
			for _, rule := range c.Quiet {
				for _, f := range found {
					if f.Rule == rule {
						t.Errorf("%s must say nothing, says %+v (%s)", rule, f, c.Source)
					}
				}
			}
		})
	}
}

// at reads what stands at a path of an answer: a text as it is, all else as JSON.
func at(v any, path string) string {
	for _, step := range strings.Split(path, ".") {
		switch x := v.(type) {
		case map[string]any:
			v = x[step]
		case []any:
			i, err := strconv.Atoi(step)
			if err != nil || i >= len(x) {
				return "nothing"
			}
			v = x[i]
		default:
			return "nothing"
		}
	}
	if s, ok := v.(string); ok {
		return s
	}
	raw, err := json.Marshal(v)
	if err != nil {
		return err.Error()
	}
	return string(raw)
}
