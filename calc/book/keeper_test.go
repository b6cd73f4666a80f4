package book

import (
	"strings"
	"testing"

	"stillroom/calc"
)

// waterAnd is a formula of distilled water and 1 % of one ingredient.
func waterAnd(ingredient string) calc.Draft {
	d := scrub()
	d.Lines = []calc.DraftLine{{ID: "w", Phase: "A", Ingredient: "water", QS: true}, {ID: "p", Phase: "B", Ingredient: ingredient, Percent: "1"}}
	return d
}

func findings(w *world, ingredient string) string {
	return pretty(view[calc.Sheet](w, "sheet", waterAnd(ingredient)).Findings)
}

// An own preservative keeps a product, and what nobody said of it is named.
func TestAnOwnPreservativeCountsAndItsGapsAreNamed(t *testing.T) {
	w := newWorld(t)
	plain := w.do("ingredient.define", m{"name": "Marram blend", "inci": "Marramium"}, "key")
	if text := findings(w, plain); !strings.Contains(text, "there is water in it and no preservative") {
		t.Fatalf("not marked, and still taken for one: %s", text)
	}
	keeper := w.do("ingredient.define", m{"name": "Dune keeper", "inci": "Arenarium", "preservative": true}, "key")
	text := findings(w, keeper)
	for _, want := range []string{"at which pH works Dune keeper", "the highest temperature is missing", "range for Dune keeper is missing"} {
		if !strings.Contains(text, want) {
			t.Errorf("not said: %s in %s", want, text)
		}
	}
	if strings.Contains(text, "no preservative") {
		t.Errorf("it is not taken for a preservative: %s", text)
	}
	whole := w.do("ingredient.define", m{"name": "Whole keeper", "inci": "Integrum", "preservative": true, "phLow": "3", "phHigh": "8", "worksLow": "2", "worksHigh": "5,5", "useLow": "0.5", "useHigh": "1.5", "maxTemperature": "45 C", "charge": "none"}, "key")
	if text := findings(w, whole); strings.Contains(text, "own-keeper") || strings.Contains(text, "no preservative") {
		t.Errorf("all is said of it: %s", text)
	}
	if v := pretty(view[IngredientView](w, "ingredient", m{"key": whole})); !strings.Contains(v, "3.0 to 5.5") || !strings.Contains(v, `"preservative"`) {
		t.Errorf("it lasts from 3 to 8 and works up to 5.5: %s", v)
	}
}

// Vitamin E is no preservative, whatever a tub says.
func TestCallingItAPreservativeDoesNotMakeItOne(t *testing.T) {
	w := newWorld(t)
	key := w.do("ingredient.define", m{"name": "E keeper", "inci": "Tocopherol", "preservative": true}, "key")
	if text := findings(w, key); !strings.Contains(text, "there is water in it and no preservative") {
		t.Errorf("%s", text)
	}
}

func TestWhatAnIngredientCountsAs(t *testing.T) {
	w := newWorld(t)
	infusion := w.do("ingredient.define", m{"name": "Thrift infusion", "inci": "Armeria Maritima Extract", "counts": []string{"water", "food for microbes"}}, "key")
	d := waterAnd(infusion)
	d.Lines[0] = calc.DraftLine{ID: "o", Phase: "A", Ingredient: "sunflower-oil", QS: true}
	text := pretty(view[calc.Sheet](w, "sheet", d).Findings)
	if !strings.Contains(text, "1.00 % water") || !strings.Contains(text, "feeds microbes") {
		t.Errorf("%s", text)
	}
	w.refused("ingredient.define", m{"name": "X", "inci": "X", "counts": []string{"gold"}}, "not offered", "counts")
	w.refused("ingredient.define", m{"name": "X", "inci": "X", "worksLow": "6", "worksHigh": "4"}, "upside down", "worksHigh")
}
