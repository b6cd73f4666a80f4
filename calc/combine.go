package calc

import (
	"sort"
	"strconv"

	"github.com/shopspring/decimal"
)

// CombinePart is one pot that is poured together with others, or something cold that is folded in.
type CombinePart struct {
	Name   string
	MilliC int64
	Things []HeatThing
}

// HeatThing is a mass of one ingredient; Capacity in J per gram and degree is 0 to take it from this book's table.
type HeatThing struct {
	Ingredient string // key
	Mass       Mass
	Capacity   decimal.Decimal
}

// Combined is how warm it is after combining, at once and without loss to the air, with the range that the heat capacities leave open.
type Combined struct {
	MilliC, Low, High int64
	Says              string
	Findings          []Finding
}

// heatCapacity of one substance, in thousandths of J/(g·K) (the same as kJ/(kg·K)), and by how much it may be off.
type heatCapacity struct {
	inci      string
	milli, pm int64
	from      Cite
}

// heatCapacities by substance (standards §10); what is not here is estimated as an oil or a solid.
var heatCapacities = []heatCapacity{
	{"Aqua", 4180, 20, Cite{Source: "Fasina & Colley 2008, as a published table of specific heats cites it", Mark: "R"}},
	{"Glycerin", 2420, 100, Cite{Source: "Fasina & Colley 2008, as a published table of specific heats cites it", Mark: "R"}},
	{"Helianthus Annuus Seed Oil", 2240, 250, Cite{Source: "Fasina & Colley 2008, as a published table of specific heats cites it, sunflower at 35 °C", Mark: "R"}},
	{"Olea Europaea Fruit Oil", 1750, 250, Cite{Source: "Fasina & Colley 2008, as a published table of specific heats cites it, olive", Mark: "R"}},
	{"Sucrose", 1220, 60, Cite{Source: "Mohos, 0.2712 + 0.00103 t kcal/(kg·°C) at 20 °C", Mark: "R"}},
}

// otherCapacity stands for every other oil, fat and solid of a bench.
var otherCapacity = heatCapacity{"", 2000, 500, Cite{Source: "estimate for oils, fats and dry matter, within the oils that were read", Mark: "own"}}

const combineSource = "heat balance Σ mass × heat capacity × temperature, without loss to vessel and air; heat capacities are estimates (standards §10)"

// Combine works out the temperature of pots poured together (M2). Where the highest-setting fat of fats would set, the mix may go lumpy: below
// the upper end of its setting range and 5 °C is take care.
func Combine(parts []CombinePart, fats []SettingFat, k Known) (Combined, *FieldError) {
	var heats []partHeat
	for i := range parts {
		h, err := parts[i].heat(k)
		if err != nil {
			return Combined{}, err.under("parts[" + strconv.Itoa(i) + "]")
		}
		heats = append(heats, h)
	}
	if len(heats) < 2 {
		return Combined{}, &FieldError{Field: "parts", Says: "there is nothing to combine", Want: "name two pots or more, each with its temperature and what is in it"}
	}
	// the lowest answer takes the colder parts at their largest heat capacity and the warmer ones at their least, and the other way round
	order := append([]partHeat(nil), heats...)
	sort.SliceStable(order, func(a, b int) bool { return order[a].milliC < order[b].milliC })
	out := Combined{MilliC: balanceOf(order, nil)}
	out.Low, out.High = out.MilliC, out.MilliC
	for cut := range order {
		warm := func(i int) bool { return i > cut }
		cold := func(i int) bool { return i <= cut }
		out.Low, out.High = min(out.Low, balanceOf(order, cold)), max(out.High, balanceOf(order, warm))
	}
	out.Says = "Together they come to about " + Celsius(out.MilliC) + " (" + Fahrenheit(out.MilliC) + "), between " + Celsius(out.Low) + " and " + Celsius(out.High) + ". An estimate: vessel and air take a little more of the heat."
	var high *SettingFat
	for i := range fats {
		if high == nil || fats[i].HighMilliC > high.HighMilliC {
			high = &fats[i]
		}
	}
	switch {
	case high == nil:
		out.Findings = append(out.Findings, Finding{Rule: "combine", Level: Unchecked, Says: "not checked: will a fat set in lumps; which fat is in it is missing", Source: combineSource, Do: "name the fat and its grade"})
	case out.Low < high.HighMilliC+5000:
		f := Finding{Rule: "combine", Level: Care, Says: "the fat may set in lumps: " + high.Name + " begins to set at " + Celsius(high.HighMilliC) + ", and together they would be too close to that", Figure: Celsius(out.MilliC), Limit: "at least " + Celsius(high.HighMilliC+5000),
			Source: combineSource + "; 5 °C above the setting range: this book's own rule (M2)", Do: "warm both again before you pour them together"}
		if name, to, ok := warmTo(order, high.HighMilliC+5000); ok {
			f.Do = "warm " + name + " to about " + Celsius(to) + " before you pour them together"
		}
		out.Findings = append(out.Findings, f)
	}
	return out, nil
}

// partHeat is a part's heat per degree at the middle, least and most, in mg × thousandths of J/(g·K).
type partHeat struct {
	name             string
	milliC           int64
	mid, least, most decimal.Decimal
}

// balanceOf is Σ heat × temperature ÷ Σ heat; parts for which most says so count with their largest capacity, the others with their least;
// nil takes the middle.
func balanceOf(parts []partHeat, most func(int) bool) int64 {
	var top, all decimal.Decimal
	for i, p := range parts {
		h := p.mid
		if most != nil {
			h = p.least
			if most(i) {
				h = p.most
			}
		}
		top, all = top.Add(h.Mul(decimal.New(p.milliC, 0))), all.Add(h)
	}
	return top.DivRound(all, 0).IntPart()
}

// warmTo is how warm the part that holds most heat must be for the mix to reach a temperature, rounded up to half a degree; false when that
// is beyond 95 °C.
func warmTo(parts []partHeat, want int64) (string, int64, bool) {
	big := 0
	for i := range parts {
		if parts[i].mid.GreaterThan(parts[big].mid) {
			big = i
		}
	}
	var rest decimal.Decimal // heat that the others lack
	for i, p := range parts {
		if i != big {
			rest = rest.Add(p.most.Mul(decimal.New(want-p.milliC, 0)))
		}
	}
	to := want + rest.DivRound(parts[big].least, 0).IntPart()
	to = (to + 499) / 500 * 500
	return parts[big].name, to, to > parts[big].milliC && to <= 95_000
}

func (p *CombinePart) heat(k Known) (partHeat, *FieldError) {
	h := partHeat{name: nameOr(p.Name, "this pot"), milliC: p.MilliC}
	if len(p.Things) == 0 {
		return h, &FieldError{Field: "things", Says: "nothing is in this pot", Want: "name what is in it, with its grams"}
	}
	for i, t := range p.Things {
		at := "things[" + strconv.Itoa(i) + "]"
		ing := k.Ingredients[t.Ingredient]
		mass := decimal.New(int64(t.Mass), 0)
		switch {
		case t.Mass <= 0:
			return h, &FieldError{Field: at + ".grams", Says: "nothing of this is in the pot", Want: "write a mass above 0"}
		case t.Capacity.IsPositive():
			v := mass.Mul(t.Capacity.Shift(3))
			h.mid, h.least, h.most = h.mid.Add(v), h.least.Add(v), h.most.Add(v)
		case ing == nil:
			return h, &FieldError{Field: at + ".ingredient", Says: "“" + short(t.Ingredient) + "” is not among the ingredients known here", Want: "use a key of the given list, or give its heat capacity"}
		default:
			for _, s := range ing.Composition {
				c := otherCapacity
				for _, known := range heatCapacities {
					if known.inci == s.INCI {
						c = known
					}
				}
				part := mass.Mul(decimal.New(int64(s.Percent), -6))
				h.mid, h.least, h.most = h.mid.Add(part.Mul(decimal.New(c.milli, 0))), h.least.Add(part.Mul(decimal.New(c.milli-c.pm, 0))), h.most.Add(part.Mul(decimal.New(c.milli+c.pm, 0)))
			}
		}
	}
	return h, nil
}
