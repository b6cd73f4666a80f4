package given

import (
	"reflect"
	"strings"
	"testing"

	"stillroom/calc/matter"
)

func marked(c matter.Cite) bool { return c.Source != "" && strings.Contains(marks, " "+c.Mark+" ") }

// uncited walks every figure of a value and names the first whose Cite lacks source or mark.
func uncited(v reflect.Value, path string) string {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return ""
		}
		return uncited(v.Elem(), path)
	case reflect.Slice:
		for i := range v.Len() {
			if p := uncited(v.Index(i), path); p != "" {
				return p
			}
		}
	case reflect.Struct:
		if c, ok := v.Interface().(matter.Cite); ok {
			if !marked(c) {
				return path
			}
			return ""
		}
		for i := range v.NumField() {
			if p := uncited(v.Field(i), path+"."+v.Type().Field(i).Name); p != "" {
				return p
			}
		}
	}
	return ""
}

// A line that is not understood must never be passed over: the figure on it would be missing, and a rule would stay silent.
func TestTheTablesAreRead(t *testing.T) {
	if faulty != nil {
		t.Fatal(faulty)
	}
}

func TestEveryFigureHasSourceAndMark(t *testing.T) {
	list := Ingredients()
	if len(list) < 150 {
		t.Fatalf("the list has %d ingredients, want at least 150", len(list))
	}
	for _, ing := range list {
		if p := uncited(reflect.ValueOf(ing), ing.Key); p != "" {
			t.Errorf("%s has no source or no known mark", p)
		}
	}
	for _, s := range Substances() {
		if !marked(s.ChargeFrom) {
			t.Errorf("%s: charge without source or mark", s.INCI)
		}
		if s.Keeping != "" && (!marked(s.KeepingFrom)) {
			t.Errorf("%s: keeping without source or mark", s.INCI)
		}
	}
}

func TestTheSearchForUncitedFiguresFindsOne(t *testing.T) {
	bad := matter.Ingredient{Key: "x", Maximum: &matter.Limit{Percent: 1}}
	if uncited(reflect.ValueOf(bad), "x") == "" {
		t.Fatal("a maximum without a source was passed")
	}
}

func TestCompositionsSumTo100AndAreKnown(t *testing.T) {
	known := map[string]bool{}
	for _, s := range Substances() {
		if known[s.INCI] {
			t.Errorf("%s stands twice among the substances", s.INCI)
		}
		known[s.INCI] = true
	}
	keys := map[string]bool{}
	for _, ing := range Ingredients() {
		var sum matter.Percent
		for _, c := range ing.Composition {
			sum += c.Percent
			if !known[c.INCI] {
				t.Errorf("%s: nothing is known of %s", ing.Key, c.INCI)
			}
			if c.Listed != "yes" && c.Listed != "no" && c.Listed != "" {
				t.Errorf("%s: listed is %q", ing.Key, c.Listed)
			}
		}
		if sum != matter.Hundred {
			t.Errorf("%s sums to %s", ing.Key, sum)
		}
		if keys[ing.Key] || ing.Key == "" || ing.Key != strings.ToLower(ing.Key) || strings.ContainsAny(ing.Key, " _") {
			t.Errorf("key %q is taken or is no slug", ing.Key)
		}
		keys[ing.Key] = true
		if ing.Name == "" || ing.INCI == "" || ing.About == "" || len(ing.Functions) == 0 || ing.Soluble == "" {
			t.Errorf("%s: name, INCI, about, functions or solubility is missing", ing.Key)
		}
		if ing.Usual != nil && (ing.Usual.Low > ing.Usual.High || ing.Maximum != nil && ing.Maximum.Percent < ing.Usual.Low) {
			t.Errorf("%s: range and maximum contradict each other", ing.Key)
		}
		for _, r := range []*matter.PHRange{ing.PHSupplied, ing.PHKeeps} {
			if r != nil && (r.Low > r.High || r.High > 1400 || r.Low < 0) {
				t.Errorf("%s: a pH range is upside down", ing.Key)
			}
		}
	}
}

// 100 °F is 37.8 °C; 38 °C would be 100.4 °F and too hot.
func TestPreservativesGoInBelow100F(t *testing.T) {
	for _, ing := range Ingredients() {
		if ing.Highest != nil && strings.HasSuffix(ing.Highest.Text, "F") && ing.Highest.MilliC != 37_778 {
			t.Errorf("%s: %s is %d m°C", ing.Key, ing.Highest.Text, ing.Highest.MilliC)
		}
	}
}
