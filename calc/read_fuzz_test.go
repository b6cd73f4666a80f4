package calc_test

import (
	"testing"

	"stillroom/calc"
)

// FuzzReaders: whatever is typed or scanned is read the same again from how it is shown, or refused with words.
func FuzzReaders(f *testing.F) {
	for _, text := range []string{"7K3QX-04-D", "https://x/j/7k3qxo4d", "100 °F", "1,5", "−3", "4 oz", "1e9", "٣", "9%", "\xff", ".", "00000000000000000000000000000000000"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		refused := func(err *calc.FieldError) bool {
			if err != nil && (err.Says == "" || err.Want == "") {
				t.Fatalf("%q is refused without words: %+v", text, err)
			}
			return err != nil
		}
		if code, _, err := calc.ReadJarCode(text); !refused(err) {
			if again, how, err := calc.ReadJarCode(calc.ShowJarCode(code)); err != nil || again != code || how != "" {
				t.Fatalf("%q → %s → %s %q %v", text, code, again, how, err)
			}
		}
		if p, err := calc.ReadPercent(text); !refused(err) && (p < 0 || p > calc.Hundred) {
			t.Fatalf("%q → %d", text, p)
		}
		if m, err := calc.ReadGrams(text); !refused(err) && m <= 0 {
			t.Fatalf("%q → %d", text, m)
		}
		if d, err := calc.ReadDegrees(text, ""); !refused(err) {
			if again, err := calc.ReadDegrees(d.Text, ""); err != nil || again != d {
				t.Fatalf("%q → %+v → %+v %v", text, d, again, err)
			}
		}
		if h, err := calc.ReadPH(text); !refused(err) && (h < 0 || h > 1400) {
			t.Fatalf("%q → %d", text, h)
		}
		_, err := calc.Convert(text, "g", "1")
		refused(err)
	})
}
