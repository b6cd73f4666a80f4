package calc_test

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"stillroom/calc"
)

// reference runs an independent program; without it the check is skipped, and says so.
func reference(t *testing.T, stdin, program string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		t.Skipf("NOT CHECKED against %s: it is not installed here", program)
	}
	cmd := exec.Command(program, args...)
	cmd.Stdin = strings.NewReader(stdin)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s %v: %v", program, args, err)
	}
	return strings.ReplaceAll(strings.TrimSpace(string(out)), "\\\n", "")
}

func TestConversionsAgreeWithGNUUnits(t *testing.T) {
	for _, c := range []struct{ value, to, from, into string }{
		{"7.3 oz", "g", "7.3 oz", "g"},
		{"1 lb", "oz", "1 lb", "oz"},
		{"2.5 kg", "lb", "2.5 kg", "lb"},
		{"8 fl oz", "mL", "8 usfloz", "ml"},
		{"250 mL", "fl oz", "250 ml", "usfloz"},
		{"0.1 g", "mg", "0.1 g", "mg"},
		{"100 F", "C", "tempF(100)", "tempC"},
		{"75 C", "F", "tempC(75)", "tempF"},
		{"-4 F", "C", "tempF(-4)", "tempC"},
	} {
		want := decimal.RequireFromString(reference(t, "", "units", "-t", "-o", "%.12f", c.from, c.into))
		got, err := calc.Convert(c.value, c.to, "")
		if err != nil {
			t.Errorf("%s: %v", c.value, err)
			continue
		}
		if got.Sub(want).Abs().GreaterThan(decimal.New(1, -8)) {
			t.Errorf("%s to %s: %s here, %s by GNU units", c.value, c.to, got, want)
		}
	}
}

// bc works in exact decimals of its own: bases three deep, multiplied out.
func TestExactSharesAgreeWithBC(t *testing.T) {
	k := calc.Given()
	base := func(key, inner, share string) {
		l := calc.Line{ID: "1", Percent: percent(t, share)}
		if inner == "" {
			l.Ingredient = "betaine-30"
		} else {
			l.Base = inner
		}
		k.Bases[key] = &calc.Formula{Key: key, Name: key, Lines: []calc.Line{l, {ID: "2", Ingredient: "sucrose", QS: true}}}
	}
	base("a", "", "33.3333")
	base("b", "a", "12.3457")
	base("c", "b", "77.7777")
	f := calc.Formula{Lines: []calc.Line{{ID: "1", Base: "c", Percent: percent(t, "99.9999")}, {ID: "2", Ingredient: "sucrose", QS: true}}}
	a, err := calc.TakeApart(f, k)
	if err != nil {
		t.Fatal(err)
	}
	want := decimal.RequireFromString(reference(t, "scale=40; 99.9999*77.7777*12.3457*33.3333*30/100000000\n", "bc"))
	for _, p := range a.Substances {
		if p.Key == "Cocamidopropyl Betaine" {
			if !p.Percent.Equal(want) {
				t.Errorf("%s here, %s by bc", p.Percent, want)
			}
			return
		}
	}
	t.Error("no betaine was found")
}
