package calc

import (
	"math"
	"strconv"

	"github.com/shopspring/decimal"
)

// norrishSolute is what lowers the water activity: Norrish's constant K (to base e) with its molar mass, and how much 100 g of water takes at 25 °C, 0
// where it mixes without end. Standards §8; a constant for propylene glycol is left out, since its sources differ in size and sign.
type norrishSolute struct {
	inci  string
	k     float64
	molar float64 // g/mol
	takes float64 // g per 100 g water at 25 °C
	from  Cite
}

var norrishMemory = Cite{Source: "Norrish 1966, K as compiled by Chirife and Favetto", Mark: "M"}

var norrishSolutes = []norrishSolute{
	{"Sucrose", 6.47, 342.297, 211.4, norrishMemory}, {"Glucose", 2.25, 180.156, 104, norrishMemory}, {"Fructose", 2.25, 180.156, 400, norrishMemory},
	{"Lactose", 10.2, 342.297, 22, norrishMemory}, {"Maltose", 4.54, 342.297, 100, norrishMemory}, {"Sorbitol", 1.65, 182.172, 235, norrishMemory},
	{"Xylitol", 1.66, 152.146, 169, norrishMemory}, {"Mannitol", 0.91, 182.172, 22, norrishMemory}, {"Erythritol", 1.34, 122.120, 61, norrishMemory},
	{"Glycerin", 1.16, 92.094, 0, norrishMemory},
}

const (
	waterMolar, saltMolar = 18.015, 58.443
	saltTakes             = 35.96 // g per 100 g water at 25 °C
)

// saltOsmotic are osmotic coefficients of sodium chloride by mol per kg of water at 25 °C; 6 mol/kg as read, the others from memory.
var saltOsmotic = [][2]float64{{0, 1}, {0.1, 0.932}, {0.5, 0.921}, {1, 0.936}, {2, 0.983}, {3, 1.045}, {4, 1.116}, {5, 1.192}, {6, 1.271}}

const awSource = "Norrish 1966, mixed: ln aw = ln Xw − (Σ √K·X)²; salt by Robinson and Stokes; the two multiplied (Ross). An estimate, typically within 0.02"

// Dissolving is one solute against the water: masses in one unit.
type Dissolving struct {
	INCI            string
	There, Dissolve decimal.Decimal // Dissolve is at most what the water takes at 25 °C
}

// WaterActivity is an estimate at 25 °C. Saturated names what comes to nine tenths of what the water takes, or more.
type WaterActivity struct {
	Known     bool
	AW        decimal.Decimal // to 0.0001
	Parts     []Dissolving
	Saturated []string
}

// WaterActivityOf estimates the water activity of so much water with these amounts beside it, in one unit of mass. Each solute is taken as if it
// had all the water, so that the answer is rather too low than too high when two solutes share it; others lower it little and are left out.
func WaterActivityOf(water decimal.Decimal, amounts map[string]decimal.Decimal) WaterActivity {
	var a WaterActivity
	if !water.IsPositive() {
		return a
	}
	w := water.InexactFloat64()
	moles, weighed := w/waterMolar, 0.0
	for i := range norrishSolutes {
		s := &norrishSolutes[i]
		m, ok := a.dissolve(s.inci, amounts[s.inci], water, s.takes)
		if !ok {
			continue
		}
		n := m / s.molar
		moles, weighed = moles+n, weighed+math.Sqrt(s.k)*n
	}
	mean := weighed / moles
	aw := w / waterMolar / moles * math.Exp(-mean*mean)
	if m, ok := a.dissolve("Sodium Chloride", amounts["Sodium Chloride"], water, saltTakes); ok {
		molal := m / saltMolar / w * 1000
		aw *= math.Exp(-2 * onTable(saltOsmotic, molal) * molal * waterMolar / 1000)
	}
	a.Known, a.AW = true, decimal.New(int64(math.Round(aw*10_000)), -4)
	return a
}

// dissolve notes how much of a solute the water takes and answers it as a float for the physics.
func (a *WaterActivity) dissolve(inci string, there, water decimal.Decimal, takes float64) (float64, bool) {
	if !there.IsPositive() {
		return 0, false
	}
	d := Dissolving{INCI: inci, There: there, Dissolve: there}
	if most := water.Mul(decimal.New(int64(math.Round(takes*100)), -4)); takes > 0 {
		d.Dissolve = decimal.Min(there, most)
		if there.GreaterThanOrEqual(most.Mul(decimal.New(9, -1))) { // a humectant beside it lets less dissolve, and no table says how much
			a.Saturated = append(a.Saturated, inci)
		}
	}
	a.Parts = append(a.Parts, d)
	return d.Dissolve.InexactFloat64(), true
}

// onTable reads a table by straight lines, and holds its last value beyond its end.
func onTable(table [][2]float64, x float64) float64 {
	for i := 1; i < len(table); i++ {
		if a, b := table[i-1], table[i]; x <= b[0] {
			return a[1] + (b[1]-a[1])*(x-a[0])/(b[0]-a[0])
		}
	}
	return table[len(table)-1][1]
}

// LowRiskMarker is one of the markers of ISO 29621: met is yes, no or not known.
type LowRiskMarker struct {
	Says, Met, Figure string
}

// lowRisk judges the markers of ISO 29621 that a formula can be asked for. Saturated sugar or salt never counts: the grain that is left, and the
// water that comes in use, keep a wet place beside it.
func lowRisk(e *evidence, a WaterActivity, fillMilliC *int64) []LowRiskMarker {
	yes := func(b bool) string {
		if b {
			return "yes"
		}
		return "no"
	}
	water := e.waterIn()
	out := []LowRiskMarker{{"no water in it", yes(water.IsZero()), show(water) + " % water"}}
	aw := LowRiskMarker{"water activity below 0.75", "not known", ""}
	if a.Known {
		aw.Figure = "about " + a.AW.StringFixed(2)
		aw.Met = yes(len(a.Saturated) == 0 && a.AW.LessThan(decimal.New(73, -2)))
		if aw.Met == "no" && len(a.Saturated) == 0 && a.AW.LessThan(decimal.New(77, -2)) {
			aw.Met = "not known" // within the error of the estimate
		}
	}
	if !water.IsZero() {
		out = append(out, aw)
	}
	alcohol := e.amount("Alcohol").Add(e.amount("Alcohol Denat."))
	out = append(out, LowRiskMarker{"more than 20 % alcohol", yes(alcohol.GreaterThan(decimal.New(20, 0))), show(alcohol) + " %"})
	ph := LowRiskMarker{"pH below 3 or above 10", "not known", ""}
	if e.pH > 0 {
		ph.Met, ph.Figure = yes(e.pH < 300 || e.pH > 1000), "pH "+showPH(e.pH)
	}
	hot := LowRiskMarker{"filled above 65 °C", "not known", ""}
	if fillMilliC != nil {
		hot.Met, hot.Figure = yes(*fillMilliC > 65_000), Celsius(*fillMilliC)
	}
	aluminium := e.amount("Aluminum Chlorohydrate")
	return append(out, ph, hot, LowRiskMarker{"more than 25 % aluminium chlorohydrate", yes(aluminium.GreaterThan(decimal.New(25, 0))), show(aluminium) + " %"})
}

const isoLowRisk = "ISO 29621 as quoted by a testing laboratory"

func awFindings(e *evidence, a WaterActivity, markers []LowRiskMarker, uncounted []string) []Finding {
	var out []Finding
	if a.Known {
		f := Finding{Rule: "water-activity", Level: Note, Says: "an estimate of how much of the water microbes can use", Figure: "about " + a.AW.StringFixed(2), Limit: "below 0.60 nothing grows; ISO 29621 speaks of low risk below 0.75",
			Source: awSource, Do: "have it measured before you rely on it"}
		if len(a.Saturated) > 0 {
			f.Level = Care
			f.Says = list(a.Saturated) + " is at or near all that this water can take, and a full sugar or salt solution is not dry enough to keep by itself: saturated sugar stands at about 0.84, saturated salt at about 0.75"
			f.Do = "add a preservative, and print: dry hands, keep water out"
		}
		out = append(out, f)
	}
	if len(uncounted) > 0 {
		out = append(out, Finding{Rule: "water-activity", Level: Unchecked, Says: "not checked: how much " + list(uncounted) + " lowers it; a sound figure is missing", Figure: strconv.Itoa(len(uncounted)) + " left out", Source: "the sources differ or none was found", Do: "the true figure may be a little lower"})
	}
	met := 0
	for _, m := range markers {
		if m.Met == "yes" {
			met++
		}
	}
	says := "none of the marks of a low-risk product is met: it needs a preservative and a challenge test"
	if met > 0 {
		which := "one mark of a low-risk product is met"
		if met > 1 {
			which = strconv.Itoa(met) + " marks of a low-risk product are met"
		}
		says = which + ". That is a part of an assessment, not a permission: water that gets in while it is used still counts"
	}
	return append(out, Finding{Rule: "water-activity", Level: Note, Says: says, Figure: strconv.Itoa(met) + " of " + strconv.Itoa(len(markers)), Source: isoLowRisk, Do: "a laboratory's challenge test tells more"})
}
