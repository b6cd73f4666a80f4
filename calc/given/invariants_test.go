package given

import (
	"slices"
	"strings"
	"testing"

	"stillroom/calc/matter"
)

func TestTheListCoversAnEverydayWorkshop(t *testing.T) {
	list := Ingredients()
	if len(list) < 150 {
		t.Fatalf("%d ingredients, want at least 150", len(list))
	}
	count := map[string]int{}
	for _, i := range list {
		for _, f := range i.Functions {
			count[f]++
		}
	}
	for function, least := range map[string]int{"emollient": 12, "structure": 4, "humectant": 5, "surfactant": 10, "emulsifier": 6, "solubiliser": 3, "thickener": 5, "conditioning": 4,
		"preservative": 6, "pH adjuster": 3, "chelating agent": 3, "skin feel": 4, "clay": 3, "grit": 6, "colour": 6, "scent": 3, "water": 3} {
		if count[function] < least {
			t.Errorf("%d with the function %s, want at least %d", count[function], function, least)
		}
	}
}

// functions, kinds and solubilities are read by rules, so a slip in one would silence a rule.
func TestOnlyKnownWordsStandInTheList(t *testing.T) {
	functions := strings.Split("antioxidant,booster,buffer,chelating agent,clay,co-emulsifier,colour,conditioning,emollient,emulsifier,foam booster,grit,humectant,pH adjuster,powder,preservative,scent,skin feel,solubiliser,solvent,structure,surfactant,thickener,water", ",")
	for _, i := range Ingredients() {
		for _, f := range i.Functions {
			if !slices.Contains(functions, f) {
				t.Errorf("%s: function %q is read by nothing", i.Key, f)
			}
		}
		if !slices.Contains([]string{"water", "oil", "both", "neither"}, i.Soluble) {
			t.Errorf("%s: soluble in %q", i.Key, i.Soluble)
		}
		for _, h := range i.Hazards {
			if !slices.Contains([]string{"airborne powder", "eye", "corrosive", "flammable", "skin"}, h.Kind) || h.Says == "" || h.Wear == "" {
				t.Errorf("%s: hazard %+v", i.Key, h)
			}
		}
		if slices.Contains(i.Functions, "powder") && len(i.Hazards) == 0 {
			t.Errorf("%s is a powder that flies and warns of nothing", i.Key)
		}
		if slices.Contains(i.Functions, "preservative") && (i.Usual == nil || i.PHKeeps == nil) {
			t.Errorf("%s is a preservative without range or pH", i.Key)
		}
	}
}

func TestFiguresLieWhereTheyCan(t *testing.T) {
	for _, i := range Ingredients() {
		if d := i.Density; d != nil && (d.MgPerML < 700 || d.MgPerML > 6000) {
			t.Errorf("%s: %d mg/mL", i.Key, d.MgPerML)
		}
		if m := i.Melts; m != nil && (m.LowMilliC >= m.HighMilliC || m.LowMilliC < 15_000 || m.HighMilliC > 100_000) {
			t.Errorf("%s: sets between %d and %d m°C", i.Key, m.LowMilliC, m.HighMilliC)
		}
		if u := i.Usual; u != nil && (u.Low <= 0 || u.High > matter.Hundred) {
			t.Errorf("%s: used at %s to %s", i.Key, u.Low, u.High)
		}
		if h := i.Highest; h != nil && (h.MilliC < 30_000 || h.MilliC > 100_000) {
			t.Errorf("%s: added below %d m°C", i.Key, h.MilliC)
		}
		if p := i.PHSupplied; p != nil && p.At == "" {
			t.Errorf("%s: a pH without the strength at which it was measured", i.Key)
		}
		for _, part := range strings.Split(i.INCI, " (and) ") {
			if !slices.ContainsFunc(i.Composition, func(s matter.Share) bool { return s.INCI == part && s.Listed == "yes" }) {
				t.Errorf("%s: %s of its INCI name is not in its composition as listed", i.Key, part)
			}
		}
		for _, s := range i.Composition {
			if s.Percent <= 0 {
				t.Errorf("%s: %s at %s", i.Key, s.INCI, s.Percent)
			}
		}
	}
}

// A word of a notebook must not point at two ingredients.
func TestEveryIngredientHasWordsOfItsOwn(t *testing.T) {
	whose := map[string]string{}
	for _, i := range Ingredients() {
		if len(i.Also) == 0 {
			t.Errorf("%s has no common names", i.Key)
		}
		for _, name := range append([]string{i.Name, i.Key}, i.Also...) {
			name = strings.ToLower(strings.TrimSpace(name))
			if other := whose[name]; name == "" || other != "" && other != i.Key {
				t.Errorf("%q stands for %s and %s", name, other, i.Key)
			}
			whose[name] = i.Key
			if strings.ContainsAny(name, "®™©") {
				t.Errorf("%q is a brand", name)
			}
		}
	}
}

// The published bands of actives and pH (the design's surfactant table, marks there); the one value of the list lies within them.
func TestSurfactantsLieWithinThePublishedBands(t *testing.T) {
	list := map[string]matter.Ingredient{}
	for _, i := range Ingredients() {
		list[i.Key] = i
	}
	for _, c := range []struct {
		key           string
		low, high     matter.Percent
		lowPH, highPH int
		charge        matter.Charge
	}{
		{"sci-powder", 78, 85, 450, 650, matter.Anionic},
		{"betaine-30", 29, 32, 450, 600, matter.Amphoteric},
		{"sarcosinate-30", 29, 31, 700, 850, matter.Anionic},
		{"decyl-glucoside", 50, 55, 1150, 1250, matter.NonIonic},
		{"coco-glucoside", 50, 53, 1150, 1250, matter.NonIonic},
		{"lauryl-glucoside", 50, 53, 1150, 1250, matter.NonIonic},
		{"capryl-glucoside", 58, 62, 550, 900, matter.NonIonic},
		{"laureth-sulfosuccinate-35", 30, 40, 550, 700, matter.Anionic},
		{"sles-27", 26, 28, 650, 850, matter.Anionic},
		{"olefin-sulfonate-40", 38, 40, 750, 900, matter.Anionic},
		{"coco-sulfate", 90, 95, 900, 1100, matter.Anionic},
		{"cocoyl-glutamate-30", 25, 40, 500, 650, matter.Anionic},
		{"cocoamphoacetate-35", 30, 40, 800, 1000, matter.Amphoteric},
		{"cetrimonium-29", 25, 30, 500, 700, matter.Cationic},
	} {
		i := list[c.key]
		var active matter.Percent
		for _, s := range i.Composition {
			if s.INCI == i.INCI {
				active = s.Percent
			}
		}
		if active < c.low*matter.OnePercent || active > c.high*matter.OnePercent {
			t.Errorf("%s: active %s, published %d to %d", c.key, active, c.low, c.high)
		}
		if i.PHSupplied == nil || i.PHSupplied.Low != c.lowPH || i.PHSupplied.High != c.highPH {
			t.Errorf("%s: pH %+v", c.key, i.PHSupplied)
		}
		for _, s := range Substances() {
			if s.INCI == i.INCI && s.Charge != c.charge {
				t.Errorf("%s: %s", c.key, s.Charge)
			}
		}
	}
}
