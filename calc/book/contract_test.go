package book

import (
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"stillroom/calc"
)

// The app and the engine meet in pwa/shell/contract.ts. A field that one has and the other has not would be an empty
// place on the screen that no compiler sees.
func TestViewsHaveTheNamesOfTheContract(t *testing.T) {
	said := map[string][]string{}
	files, err := filepath.Glob("../../pwa/shell/contract*.ts")
	if err != nil || len(files) < 2 {
		t.Fatalf("the contract is not where it was: %v, %v", files, err)
	}
	for _, name := range files {
		file, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		maps.Copy(said, interfaces(string(file)))
	}
	for name, v := range map[string]any{
		"Finding": Note{}, "Refusal": Refusal{}, "Figure": Figure{}, "Treatment": calc.DraftTreatment{}, "DraftPhase": calc.DraftPhase{},
		"DraftLine": calc.DraftLine{}, "Plan": calc.Plan{}, "Draft": calc.Draft{}, "Layer": Layer{}, "SheetLine": calc.SheetLine{}, "Sheet": calc.Sheet{},
		"FormulaRow": FormulaRow{}, "Formula": FormulaView{}, "IngredientRow": IngredientRow{}, "BatchRow": BatchRow{}, "Row": RowView{},
		"JarRow": JarRow{}, "Batch": BatchView{}, "LotChoice": LotChoice{}, "Step": Step{}, "Bench": BenchView{}, "LotRow": LotRow{},
		"Lot": LotView{}, "Jar": JarView{}, "Today": TodayView{}, "Workshop": WorkshopView{}, "Pot": Pot{},
		"Choice": Choice{}, "NotebookLine": NotebookLine{}, "Notebook": NotebookView{}, "SubstanceShare": SubstanceShare{}, "SourcedFigure": SourcedFigure{},
		"Ingredient": IngredientView{}, "OwnIngredient": ownIngredient{}, "ContainerRow": ContainerRow{}, "OwnContainer": ownContainer{}, "Compare": CompareView{},
		"PlaceRow": PlaceRow{}, "Standing": Standing{}, "Tile": Tile{}, "StallRow": StallRow{}, "Stall": StallView{}, "Places": PlacesView{}, "Look": lookArgs{},
		"AgedWord": AgedWord{}, "AgedAsk": AgedAsk{}, "AgedTick": AgedTick{}, "AgedPoint": AgedPoint{}, "AgedSeries": AgedSeries{}, "AgedChart": AgedChart{}, "AgedSaid": AgedSaid{},
		"Ageing": AgeingView{}, "ChallengeOrganism": ChallengeOrganism{}, "ChallengeTyped": ChallengeTyped{}, "ChallengeLine": ChallengeLine{}, "ChallengeVerdict": ChallengeVerdict{}, "ChallengeTest": ChallengeTest{}, "Challenges": ChallengesView{},
		"HoldingPart": calc.HoldingPart{}, "HoldingSource": calc.HoldingSource{}, "HoldingFigure": calc.HoldingFigure{}, "HoldingMark": calc.HoldingMark{},
		"BesideAged": BesideAged{}, "AgedBeside": AgedBeside{}, "AgedArgs": agedArgs{},
		"Photo": PhotoView{}, "Habits": Habits{}, "AttendRow": AttendRow{}, "Attend": AttendView{}, "Waiting": WaitingView{},
		"LineBeside": calc.LineBeside{}, "FigureBeside": calc.FigureBeside{}, "Swap": SwapView{}, "Ruler": RulerView{}, "RulerBar": calc.RulerBar{}, "RulerOverlap": calc.RulerOverlap{},
		"RulerShare": calc.RulerShare{}, "RulerPoint": calc.RulerPoint{}, "RulerNotch": calc.RulerNotch{},
		"Aim": AimView{}, "AimOffer": AimOffer{}, "AimLine": AimLine{}, "AimTarget": AimTarget{}, "Amounts": AmountsView{}, "Amount": Amount{},
		"Share": ShareView{}, "CardLine": CardLine{}, "CardPhase": CardPhase{}, "Card": CardView{}, "ClassLine": ClassLine{}, "ClassPhase": ClassPhase{}, "ClassBuy": ClassBuy{},
		"Class": ClassView{}, "ImportLine": ImportLine{}, "ImportFormula": ImportFormula{}, "ImportTrouble": ImportTrouble{}, "Import": ImportView{},
		"Printed": PrintedView{}, "PrintedSide": calc.PrintedSide{}, "PrintedName": calc.PrintedName{}, "PrintedText": calc.PrintedText{}, "PrintedDifference": calc.PrintedDifference{}, "Law": LawView{}, "LawTable": calc.LawTable{},
		"Addition": Addition{}, "Cup": Cup{}, "CupArgs": cupArgs{}, "Tonight": Tonight{},
		"Rescue": RescueView{}, "RescueWay": RescueWay{}, "RescueLine": RescueLine{}, "Nets": Nets{}, "NetArgs": netArgs{}, "NetJar": NetJar{}, "NetRule": NetRule{}, "Adjust": Adjust{}, "AdjustArgs": adjustArgs{}, "AdjustPoint": AdjustPoint{}, "TopUp": TopUp{}, "TopUpArgs": topUpArgs{}, "Cooling": Cooling{}, "Combining": Combining{}, "BatchCost": BatchCost{}, "CostLine": CostLine{},
	} {
		var have []string
		for i := range reflect.TypeOf(v).NumField() {
			tag, optional, _ := strings.Cut(reflect.TypeOf(v).Field(i).Tag.Get("json"), ",")
			if optional == "" && tag != "" {
				have = append(have, tag)
			}
		}
		want := said[name]
		slices.Sort(have)
		slices.Sort(want)
		if len(want) == 0 || !slices.Equal(have, want) {
			t.Errorf("%s: the engine answers %v, the contract says %v", name, have, want)
		}
	}
}

// interfaces reads the required fields of each interface, those of objects within it left out.
func interfaces(ts string) map[string][]string {
	out := map[string][]string{}
	begin, field := regexp.MustCompile(`^export interface (\w+) \{`), regexp.MustCompile(`^  (\w+): `)
	name := ""
	for _, line := range strings.Split(ts, "\n") {
		if m := begin.FindStringSubmatch(line); m != nil {
			name = m[1]
		} else if line == "}" {
			name = ""
		} else if m := field.FindStringSubmatch(line); m != nil && name != "" {
			out[name] = append(out[name], m[1])
		}
	}
	return out
}

// Lists are never null in JSON: the app walks them without asking.
func TestListsAreNeverNull(t *testing.T) {
	s, _ := demo(t)
	for _, s := range []*State{s, New()} {
		w := &world{t: t, s: s, ctx: Context{Device: device(9), Letter: "D", Now: noon}}
		if text := look(t, s) + pretty(view[[]IngredientRow](w, "ingredients", m{"q": "zzz"})); strings.Contains(strings.ReplaceAll(text, "\nnull\n", ""), ": null") {
			t.Errorf("a list is null in\n%s", text)
		}
		for _, r := range view[[]BatchRow](w, "batches", nil) {
			for _, name := range []string{"batch", "bench", "ageing"} {
				v, no := s.View(w.ctx, name, []byte(`{"key":"`+r.Key+`"}`))
				if no != nil || strings.Contains(pretty(v), "null") {
					t.Errorf("%s of %s: %v %s", name, r.Code, no, pretty(v))
				}
			}
		}
		for _, r := range view[[]FormulaRow](w, "formulas", nil) {
			if v := pretty(view[FormulaView](w, "formula", m{"key": r.Key})) + pretty(view[CompareView](w, "compare", m{"key": r.Key, "from": r.Revision})) + pretty(view[ChallengesView](w, "challenges", m{"formula": r.Key})); strings.Contains(v, "null") {
				t.Errorf("formula %s: %s", r.Name, v)
			}
		}
		for _, r := range view[[]IngredientRow](w, "ingredients", nil) {
			if v := view[IngredientView](w, "ingredient", m{"key": r.Key}); strings.Contains(pretty(v), "null") || len(v.Figures) == 0 || v.Figures[0].Source == "" {
				t.Errorf("ingredient %s: %s", r.Name, pretty(v))
			}
		}
		for _, r := range view[[]LotRow](w, "lots", nil) {
			if v := pretty(view[LotView](w, "lot", m{"key": r.Key})); strings.Contains(v, "null") {
				t.Errorf("lot %s: %s", r.Code, v)
			}
		}
	}
}

func TestTwoFillingsOfOneBatch(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.weighAll(b)
	away := w.s.Overlay()
	ctx := w.ctx
	ctx.Device, ctx.Letter = device(2), "C"
	drafts, _, no := away.Decide(ctx, "batch.fill", []byte(`{"batch":"`+b+`","jars":"22"}`))
	if no != nil {
		t.Fatal(no)
	}
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	w.ctx = ctx
	for _, d := range drafts {
		w.write(d)
	}
	v := view[BatchView](w, "batch", m{"key": b})
	last := v.Rows[len(v.Rows)-1]
	if len(v.Jars) != 23 || last.Clash != "the batch was already filled" || last.Value != "22 jars" || len(w.s.Clashes()) != 1 {
		t.Fatalf("two phones filled it: %s", pretty(last))
	}
	if got := w.s.Missing(ctx); got != nil {
		t.Fatal("the second filling is completed as if it counted")
	}
}
