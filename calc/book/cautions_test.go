package book

import (
	"os"
	"strings"
	"testing"

	"stillroom/calc"
)

// Each caution of a maker's work stands where she is when it matters. A row names the caution and every place of it: a view or a print, asked
// here, or a screen's own words, read in its source. What has no place yet is a row without one, so that it is not forgotten.
func TestEveryCautionStandsInItsPlace(t *testing.T) {
	w := newWorld(t)
	lye := w.do("ingredient.define", ownIngredient{Name: "Fen lye", INCI: "Sodium Hydroxide", Corrosive: true}, "key")
	d := scrub()
	d.Wash, d.Site, d.Age = "leave-on", "body", "3 to 12"
	d.Phases[0].Treatment = calc.DraftTreatment{Do: "heat", To: "75 C"}
	d.Lines = append(d.Lines, calc.DraftLine{ID: "i", Phase: "A", Ingredient: "sci-powder", Percent: "5"}, calc.DraftLine{ID: "n", Phase: "A", Ingredient: "almond-oil", Percent: "3"},
		calc.DraftLine{ID: "h", Phase: "A", Ingredient: "wheat-protein", Percent: "1"}, calc.DraftLine{ID: "o", Phase: "B", Ingredient: "orange-oil", Percent: "0.2"}, calc.DraftLine{ID: "y", Phase: "A", Ingredient: lye, Percent: "0.1"})
	key := w.do("formula.save", d, "key")
	sheet := view[calc.Sheet](w, "sheet", d)
	card := view[CardView](w, "card", m{"key": key})
	class := view[ClassView](w, "class", m{"key": key, "learners": "3", "mass": "100"})
	share := view[ShareView](w, "share", m{"key": key})
	b := w.do("batch.start", m{"formula": key, "purpose": "trial", "jars": "4", "fill": "120", "step": "0.1"}, "key")
	bench := pretty(view[BenchView](w, "bench", m{"key": b}))
	for _, l := range []string{"w", "g", "i", "n", "h", "y", "p", "o"} {
		w.do("batch.weigh", m{"batch": b, "line": l, "asPlanned": true}, "entry")
	}
	w.do("batch.fill", m{"batch": b, "jars": "4"}, "entry")
	batch := view[BatchView](w, "batch", m{"key": b})
	label := pretty(w.s.PublicJars(b)[0].Card)
	code := w.s.PublicJars(b)[0].Code
	jar := pretty(view[JarView](w, "jar", m{"code": code}))
	w.do("batch.hold", m{"batch": b, "reason": "smells of paint"}, "")
	heldJar, heldCard := pretty(view[JarView](w, "jar", m{"code": code})), pretty(w.s.PublicJars(b)[0].Bar)
	baby := d
	baby.Age = "under 3"
	printed := view[PrintedView](w, "printed", m{"batch": b})

	screen := func(name string) string {
		text, err := os.ReadFile("../../" + name)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	app := func(name string) string { return screen("pwa/app/" + name) }
	if !strings.Contains(app("record/caution.tsx"), "'"+NoPromise+"'") {
		t.Error("the caution of the screens and of what is shared are not the same words")
	}
	says := func(notes []Note) string { return pretty(notes) }
	type places map[string]string
	for _, row := range []struct {
		caution string
		words   []string // all of them, in each place
		where   places
	}{
		{"this book does not find a product safe or legal", []string{"<Caution />"}, places{"first run": app("screens/firstpage.tsx"), "formula foot": app("formula/editor.tsx"), "release": app("record/standing.tsx"), "label print": app("record/labels.tsx"), "settings": app("screens/settings.tsx")}},
		{"the same on paper and in files", []string{"safety assessment by a qualified person", "21 CFR 740.10"}, places{"printed card": card.Foot, "class sheet": class.Foot, "export": share.Caution, "formula file": share.File}},
		{"the same, drawn", []string{"{of.foot}"}, places{"printed card": app("share/card.tsx"), "class sheet": app("share/class.tsx")}},
		{"the same of a whole book", []string{"book.NoPromise"}, places{"export on the command line": screen("cmd/stillroom/export.go")}},
		{"what was not checked, beside every list of findings", []string{"<NotChecked"}, places{"lists": app("parts/findings.tsx"), "formula": app("formula/editor.tsx"), "old revision": app("formula/revision.tsx"), "as printed": app("law/printed.tsx"), "label print": app("record/labels.tsx")}},
		{"what was not checked, with its count, on every print", []string{"not checked"}, places{"card": card.Counts, "card's list": says(card.Unchecked), "class": class.Counts, "class's list": strings.Join(class.Unchecked, "\n")}},
		{"what was not checked, drawn on every print", []string{"of.unchecked", "of.counts"}, places{"card": app("share/card.tsx"), "class": app("share/class.tsx")}},
		{"what was not checked, of a batch", []string{"not checked: "}, places{"batch": says(batch.Findings), "as printed": says(printed.Unchecked)}},
		{"day and coverage of each table of law", []string{"t.asOf", "t.rows"}, places{"release": app("law/tables.tsx")}},
		{"the tables, from where they are leant on", []string{"AboutTables"}, places{"settings": app("screens/settings.tsx")}},
		{"the tables at release", []string{"<LawLines />"}, places{"release": app("record/standing.tsx")}},
		{"the tables from a limit", []string{"/settings/law", "of.date"}, places{"limit finding": app("parts/note.tsx")}},
		{"respirator, goggles and gloves for all in the room", []string{"FFP2, N95 or better", "for everyone in the room", "fan off, no window across the tub"}, places{"own screen before the tub": bench, "class sheet": says(class.Wear), "printed card": says(card.Wear)}},
		{"hot melt, steam, the bath boiling dry, the mixer", []string{"steam burns", "boil dry", "dry hands at the mixer"}, places{"first hot step": bench, "formula": says(sheet.Findings)}},
		{"alcohol dries before the hot plate is on", []string{"let it dry before any hot plate"}, places{"clean step": app("screens/start.tsx")}},
		{"scents away from the hot plate", []string{"away from a flame or hot plate"}, places{"scent step": bench}},
		{"lye and acid: goggles, into the water, no children", []string{"goggles and gloves", "never water into it", "never with children near"}, places{"before the step": bench, "formula": says(sheet.Findings)}},
		{"eyes, irritation, children, food", []string{"Keep out of the eyes", "Stop using it if it irritates", "Not food", "out of children's reach"}, places{"label and public card": label, "printed card": strings.Join(card.Cautions, " "), "as printed": pretty(printed.Sides), "class sheet": strings.Join(class.Cautions, " ")}},
		{"nut and wheat", []string{"nut: sweet almond oil", "wheat: "}, places{"label and public card": label, "printed card": strings.Join(card.Cautions, " "), "class sheet": strings.Join(class.Contains, "\n")}},
		{"allergens of scents", []string{"Limonene"}, places{"label and public card": label, "as printed": printed.Sides[0].Text, "printed card": card.Ingredients}},
		{"nut and allergens at the stall", nil, places{}}, // the stall has no page “what is in it” yet
		{"under three", []string{"Not for children under 3"}, places{"label and public card": label, "printed card": strings.Join(card.Cautions, " ")}},
		{"under three asks for a special assessment", []string{"a special assessment is required"}, places{"formula head": says(view[calc.Sheet](w, "sheet", baby).Findings)}},
		{"under three, at the head", []string{"f.rule === 'under-three'"}, places{"formula head": app("formula/editor.tsx")}},
		{"pregnancy", []string{"not checked: pregnancy"}, places{"as printed": says(view[PrintedView](w, "printed", m{"draft": scrub()}).Unchecked), "formula": says(view[calc.Sheet](w, "sheet", scrub()).Findings)}},
		{"trial: not for sale", []string{"trial: not for sale"}, places{"jar page": strings.ToLower(app("record/jar.tsx")), "label": screen("server/labels.go")}},
		{"trial, to the screens", []string{`"purpose": "trial"`}, places{"jar page": jar}},
		{"a serious effect: what to do and by when", nil, places{}}, // there is no complaint form yet
		{"held: do not use", []string{"smells of paint"}, places{"jar page": heldJar, "what the shelf knows": heldCard}},
		{"held, to a stranger", []string{"do not use"}, places{"public card": strings.ToLower(screen("server/card.go"))}},
		{"recall: buyers are unknown, places and dates are known", nil, places{}}, // there is no recall sheet yet
		{"learners: allergies and asthma, under her eye", []string{"allergies", "asthma", "under your eye"}, places{"class sheet": class.Ask}},
		{"personal data of a report", nil, places{}}, // there is no complaint form yet
	} {
		for where, text := range row.where {
			for _, word := range row.words {
				if !strings.Contains(text, word) {
					t.Errorf("%s: %q does not stand in: %s\n%.1500s", row.caution, word, where, text)
				}
			}
		}
	}
}
