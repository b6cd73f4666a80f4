package calc_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"stillroom/calc"
)

var update = flag.Bool("update", false, "write the golden answers anew")

// ask runs a computation that must answer, and reads its answer.
func ask(t *testing.T, name, request string, into any) {
	t.Helper()
	out, err := calc.Do(name, []byte(request))
	if err != nil {
		t.Fatalf("%s %s: %v", name, request, err)
	}
	if err := json.Unmarshal(out, into); err != nil {
		t.Fatal(err)
	}
}

func TestWorkedExamplesAnswerAsRecorded(t *testing.T) {
	for _, n := range calc.Names() {
		request, err := calc.Example(n.Name)
		if err != nil || n.Line == "" {
			t.Fatalf("%s: %v", n.Name, err)
		}
		got, err := calc.Do(n.Name, request)
		if err != nil {
			t.Errorf("%s: its own example is refused: %v", n.Name, err)
			continue
		}
		path := filepath.Join("testdata", "golden", n.Name+".json")
		if *update {
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s differs from %s; look, then run with -update\n%s", n.Name, path, got)
		}
	}
}

func TestTheDoorNamesWhatIsWrong(t *testing.T) {
	for _, c := range []struct{ name, computation, request, field, says, want string }{
		{"no such computation", "totall", `{}`, "name", "no computation", "total"},
		{"empty", "total", ``, "", "empty", ""},
		{"cut off", "total", `{"lines":[`, "lines", "too soon", ""},
		{"not an object", "total", `[]`, "", "not a set of fields", ""},
		{"unknown field", "total", `{"lines":[{"percnt":"9"}]}`, "lines[0].percnt", "no field of this name", "percent"},
		{"other spelling", "total", `{"Lines":[]}`, "Lines", "no field of this name", "lines"},
		{"twice", "total", `{"lines":[],"lines":[]}`, "lines", "twice", ""},
		{"null", "total", `{"lines":null}`, "lines", "not a list", ""},
		{"behind the end", "total", `{"lines":[]} {}`, "", "behind the end", ""},
		{"not a number", "total", `{"lines":[{"name":"a","percent":"nine"}]}`, "lines[0].percent", "not a number", "digits"},
		{"exponent", "total", `{"lines":[{"name":"a","percent":1e9}]}`, "lines[0].percent", "not a share", ""},
		{"negative", "total", `{"lines":[{"name":"a","percent":"-3"}]}`, "lines[0].percent", "below nothing", "0 or more"},
		{"more than a jar", "total", `{"lines":[{"name":"a","percent":"100,0001"}]}`, "lines[0].percent", "more than a full jar", "100"},
		{"absurd", "total", `{"lines":[{"name":"a","percent":"99999999999999999999999999"}]}`, "lines[0].percent", "more than a full jar", ""},
		{"two signs", "total", `{"lines":[{"name":"a","percent":"2,084.2"}]}`, "lines[0].percent", "more than one decimal sign", ""},
		{"too fine", "total", `{"lines":[{"name":"a","percent":"0.00001"}]}`, "lines[0].percent", "finer", "four decimals"},
		{"nothing", "total", `{"lines":[{"name":"a"}]}`, "lines[0].percent", "nothing is written", ""},
		{"negative batch", "scale", `{"batch":"-300","lines":[{"percent":"100"}]}`, "batch", "below nothing", ""},
		{"sum not 100", "scale", `{"batch":"300","lines":[{"percent":"99"}]}`, "lines", "99.00 %", "100"},
		{"no loss of all", "scale", `{"jars":"1","fill":"1","loss":"100","lines":[{"percent":"100"}]}`, "loss", "leaves next to nothing", ""},
		{"half a jar", "scale", `{"jars":"1.5","fill":"1","lines":[{"percent":"100"}]}`, "jars", "not a number of jars", ""},
		{"ring", "takeapart", `{"formula":{"lines":[{"base":"a","percent":"100"}]},"bases":[{"key":"a","name":"first","lines":[{"base":"b","percent":"100"}]},{"key":"b","name":"second","lines":[{"base":"a","percent":"100"}]}]}`,
			"formula.lines[0].base", "first → second → first", ""},
		{"own key", "takeapart", `{"formula":{"key":"a","name":"first","lines":[{"base":"a","percent":"100"}]},"bases":[{"key":"a","name":"first","lines":[{"ingredient":"water","percent":"100"}]}]}`,
			"formula.lines[0].base", "first → first", ""},
		{"unknown base", "takeapart", `{"formula":{"lines":[{"base":"a","percent":"100"}]}}`, "formula.lines[0].base", "not known", ""},
		{"unknown ingredient", "takeapart", `{"formula":{"lines":[{"ingredient":"moon dust","percent":"100"}]}}`, "formula.lines[0].ingredient", "moon dust", ""},
		{"composition", "charge", `{"formula":{"lines":[]},"ingredients":[{"key":"x","composition":[{"inci":"Aqua","percent":"99"}]}]}`, "ingredients[0].composition", "99.00 %", "100"},
		{"charge class", "charge", `{"formula":{"lines":[]},"ingredients":[{"key":"x","composition":[{"inci":"Aqua","percent":"100","charge":"plus"}]}]}`, "ingredients[0].composition[0].charge", "plus", "cationic"},
		{"pH", "preservation", `{"formula":{"lines":[]},"ph":"15"}`, "ph", "outside 0 to 14", ""},
		{"unit", "units", `{"value":"3 stone","to":"g"}`, "value", "stone", "kg"},
		{"no unit", "units", `{"value":"3","to":"g"}`, "value", "no unit", ""},
		{"kinds", "units", `{"value":"3 g","to":"C"}`, "to", "cannot become", ""},
		{"density missing", "units", `{"value":"3 g","to":"mL"}`, "density", "missing", "g/mL"},
		{"cold", "units", `{"value":"-300 C","to":"F"}`, "value", "colder", ""},
		{"wrong character", "codes", `{"read":"7K3QX-01-K"}`, "read", "check character", "label"},
		{"long payload", "qr", `{"payload":"` + strings.Repeat("a", 501) + `"}`, "payload", "501", ""},
		{"no such lot", "trace", `{"lot":"L9"}`, "lot", "L9", ""},
	} {
		out, err := calc.Do(c.computation, []byte(c.request))
		var f *calc.FieldError
		switch {
		case err == nil:
			t.Errorf("%s: answered %s", c.name, out)
		case !errors.As(err, &f):
			t.Errorf("%s: %T", c.name, err)
		case !strings.HasPrefix(f.Field, c.field) || !strings.Contains(f.Says, c.says) || f.Want == "" || !strings.Contains(f.Want, c.want):
			t.Errorf("%s: field %q, says %q, want %q", c.name, f.Field, f.Says, f.Want)
		}
	}
}

// TestSumsThatCannotStand: what is wrong with the sum itself is a finding, since a half-written formula must still be shown.
func TestSumsThatCannotStand(t *testing.T) {
	for _, c := range []struct{ name, lines, rule, gap string }{
		{"full", `{"name":"a","percent":"40"},{"name":"b","qs":true}`, "", ""},
		{"comma", `{"name":"a","percent":"40,5"},{"name":"b","percent":"59.5"}`, "", ""},
		{"air", `{"name":"a","percent":"96.8"}`, "sum", "3.20 % of air under the rim"},
		{"over", `{"name":"a","percent":"60"},{"name":"b","percent":"41.4"}`, "sum", "1.40 % over the rim"},
		{"two q.s.", `{"name":"a","qs":true},{"name":"b","qs":true}`, "two-qs", ""},
		{"negative q.s.", `{"name":"a","percent":"60"},{"name":"b","percent":"41.4"},{"name":"c","qs":true}`, "negative-qs", "1.40 % over the rim"},
		{"nameless", `{"percent":"100"}`, "nameless", ""},
		{"finest", `{"name":"a","percent":"99.9999"}`, "sum", "0.0001 % of air under the rim"},
	} {
		var got struct {
			Gap      string
			Findings []calc.Finding
		}
		ask(t, "total", `{"lines":[`+c.lines+`]}`, &got)
		rule := ""
		if len(got.Findings) > 0 {
			rule = got.Findings[0].Rule
			if got.Findings[0].Level != calc.Stop {
				t.Errorf("%s: level %s", c.name, got.Findings[0].Level)
			}
		}
		if rule != c.rule || got.Gap != c.gap {
			t.Errorf("%s: rule %q, gap %q; want %q, %q", c.name, rule, got.Gap, c.rule, c.gap)
		}
	}
}

// FuzzDo: whatever bytes arrive, the door answers JSON or a FieldError and never panics.
func FuzzDo(f *testing.F) {
	for i, n := range calc.Names() {
		example, err := calc.Example(n.Name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(byte(i), example)
		f.Add(byte(i), []byte(`{"lines":[{"percent":-1e999}]}`))
	}
	f.Fuzz(func(t *testing.T, which byte, request []byte) {
		names := calc.Names()
		name := names[int(which)%len(names)].Name
		out, err := calc.Do(name, request)
		var fe *calc.FieldError
		switch {
		case err == nil && !json.Valid(out):
			t.Fatalf("%s answered what is not JSON: %s", name, out)
		case err != nil && (!errors.As(err, &fe) || fe.Says == "" || fe.Want == ""):
			t.Fatalf("%s: %#v", name, err)
		}
	})
}
