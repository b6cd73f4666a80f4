package calc

import (
	"math"
	"strconv"

	"github.com/shopspring/decimal"
)

// CoolReading is one temperature of the pot, in the middle after a stir. Changed says what changed in the cooling just before it (stirred,
// bath, other bowl, lid); "" for nothing.
type CoolReading struct {
	Minutes decimal.Decimal // since any moment that suits, growing
	MilliC  int64
	Changed string
}

// SettingFat is what sets in the pot, by its grade: while it sets the pot hardly cools.
type SettingFat struct {
	Name                  string
	LowMilliC, HighMilliC int64
}

// CoolAsk asks when a pot will have cooled to the limit of the next addition.
type CoolAsk struct {
	Readings []CoolReading
	Limit    Degrees
	Room     *Degrees // nil when not measured
	Fats     []SettingFat
}

// Cooled is the forecast, in minutes after the last reading; From and To hold it in about 95 of 100 cases. Known is false when nothing
// honest can be said, and Says then tells why and what to do.
type Cooled struct {
	Known             bool
	Minutes, From, To decimal.Decimal // to 0.1
	Open              bool            // To is not bound: it may not come by itself
	AtLeast           bool            // a fat has still to set: it will take longer
	Used              int             // readings, the latest
	K                 decimal.Decimal // per minute, to 0.00001
	Says              string
	Findings          []Finding
}

// mostReadings keeps a forecast quick: every fit looks at all of them.
const mostReadings = 300

const coolSource = "Newton's law of cooling, least squares on the latest readings; two thermometer errors of 0.3 °C at the least (this book's own rule)"

// CoolingConstant is Newton's k per minute from two readings, to 0.00001; the room is below both, the second is the cooler one.
func CoolingConstant(first, second, room int64, minutes decimal.Decimal) decimal.Decimal {
	k := math.Log(float64(first-room)/float64(second-room)) / minutes.InexactFloat64()
	return rounded(k, 5)
}

// CoolsIn is how many minutes a pot takes from one temperature to a lower one above the room, at Newton's k per minute, to 0.01.
func CoolsIn(from, to, room int64, k decimal.Decimal) decimal.Decimal {
	return rounded(math.Log(float64(from-room)/float64(to-room))/k.InexactFloat64(), 2)
}

// rounded takes a figure of physics through the door: to so many decimals, and to 0 when it is no number.
func rounded(v float64, places int32) decimal.Decimal {
	if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e12 {
		return decimal.Decimal{}
	}
	return decimal.NewFromFloat(v).Round(places)
}

// Cool forecasts from the readings since the cooling last changed (E15). It leaves out earlier ones that lie on another curve, trusts only
// what was read below the setting range of a fat where there is enough of it (E1), and refuses with fewer than 3 readings or while warming.
func Cool(ask CoolAsk) (Cooled, *FieldError) {
	for i := 1; i < len(ask.Readings); i++ {
		if !ask.Readings[i].Minutes.GreaterThan(ask.Readings[i-1].Minutes) {
			return Cooled{}, &FieldError{Field: "readings[" + strconv.Itoa(i) + "].minutes", Says: "this reading is not later than the one before", Want: "write the readings in the order in which they were taken"}
		}
	}
	if len(ask.Readings) > mostReadings {
		return Cooled{}, &FieldError{Field: "readings", Says: "that is more than one pot is read", Want: "write the latest " + strconv.Itoa(mostReadings) + " readings"}
	}
	limit := ask.Limit.Show()
	since, why := 0, ""
	for i, r := range ask.Readings {
		if r.Changed != "" {
			since, why = i, r.Changed
		}
	}
	list := ask.Readings[since:]
	if len(list) == 0 {
		return unsure("no temperature was read yet", "read the pot three times, a few minutes apart"), nil
	}
	last := list[len(list)-1]
	switch {
	case last.MilliC <= ask.Limit.MilliC:
		return Cooled{Known: true, Used: 1, Says: "It is at " + ask.Limit.like(last.MilliC) + ", which is not above " + limit + ": the next addition may go in."}, nil
	case ask.Room != nil && ask.Room.MilliC > ask.Limit.MilliC-500:
		return unsure("the room is at "+ask.Room.Show()+": the pot will not come down to "+limit+" by itself", "stand it in cool water, stir, note that, and read it three times again"), nil
	case len(list) < 3:
		says := "fewer than three readings"
		if why != "" {
			says += " since something changed (" + short(why) + ")"
		}
		return unsure(says, "read it "+[]string{"three times", "twice more", "once more"}[len(list)]+", a few minutes apart, in the middle after a stir"), nil
	case last.MilliC > list[len(list)-2].MilliC+200:
		return unsure("the pot is warming, not cooling", "take it off the heat, and read again"), nil
	case ask.Room != nil && ask.Room.MilliC > last.MilliC-1000:
		return unsure("the pot is as cool as the room", "measure the room again"), nil
	}
	return ask.forecast(list), nil
}

func unsure(says, do string) Cooled {
	return Cooled{Says: capital(says) + ". No forecast: " + do + ".", Findings: []Finding{{Rule: "cool", Level: Unchecked, Says: "not known when it is cool enough: " + says, Source: coolSource, Do: do}}}
}

func (ask *CoolAsk) forecast(list []CoolReading) Cooled {
	var out Cooled
	all := len(list)
	plateau, below := ask.plateau(list)
	if plateau != nil {
		if below >= 3 {
			list = list[len(list)-below:]
		} else {
			list = list[len(list)-3:]
		}
	}
	f, ok := ask.fit(list)
	for ok && len(list) > 3 && f.curve.worst(split(list)) > 1 { // what lies more than 1 °C off shows that something changed
		list = list[1:]
		f, ok = ask.fit(list)
	}
	if !ok {
		return unsure("the readings do not fall as a cooling pot's do", "stir, and read again in a few minutes")
	}
	now := list[len(list)-1].Minutes.InexactFloat64()
	out.Known, out.Used = true, len(list)
	out.Minutes, out.From, out.To, out.Open = rounded(max(0, f.minute-now), 1), rounded(max(0, f.from-now), 1), rounded(max(0, f.to-now), 1), f.never
	out.K = rounded(f.curve.k, 5)
	if f.to-now > 100_000 {
		out.Open, out.To = true, decimal.Decimal{}
	}
	out.AtLeast = plateau != nil && below < 3
	out.say(ask.Limit.Show())
	if plateau != nil {
		span := ask.Limit.like(plateau.LowMilliC) + " to " + ask.Limit.like(plateau.HighMilliC)
		x := Finding{Rule: "cool-plateau", Level: Note, Says: plateau.Name + " sets between " + span + " and gives off heat meanwhile: only readings below that were used", Figure: strconv.Itoa(below) + " readings below", Limit: "3", Source: coolSource + "; setting range by grade", Do: "nothing"}
		if out.AtLeast {
			x.Level, x.Do = Care, "read again once it is below "+ask.Limit.like(plateau.LowMilliC)
			x.Says = plateau.Name + " sets between " + span + " and gives off heat meanwhile: the pot then hardly cools for a while, so it will take longer than this"
		}
		out.Findings = append(out.Findings, x)
	}
	if gone := all - len(list); gone > 0 && plateau == nil {
		out.Findings = append(out.Findings, Finding{Rule: "cool-changed", Level: Note, Says: "the first " + strconv.Itoa(gone) + " readings do not fit the later ones and were left out: something changed how fast it cools", Figure: strconv.Itoa(len(list)) + " used",
			Source: coolSource, Do: "note it when you stir, set it into a bath, change the bowl or put the lid on"})
	}
	return out
}

// say writes the forecast; what is still wide is called so.
func (c *Cooled) say(limit string) {
	about, from := wholeMinutes(c.Minutes.Round(0)), c.From.RoundFloor(0).String()
	until := " until it is at " + limit
	switch {
	case c.AtLeast:
		c.Says = "At least " + about + " more" + until + ", and longer while the fat sets."
	case c.Open:
		c.Says = "At least " + wholeMinutes(c.From.RoundFloor(0)) + " more" + until + "; it may not come by itself, since the room was not measured."
	case c.To.Sub(c.From).GreaterThan(c.Minutes) && c.To.GreaterThan(decimal.New(5, 0)):
		c.Says = "Not sure yet: between " + from + " and " + wholeMinutes(c.To.RoundCeil(0)) + " more" + until + ". Read again in a few minutes."
	default:
		c.Says = "About " + about + " more" + until + " (between " + from + " and " + c.To.RoundCeil(0).String() + ")."
	}
	c.Says += " The thermometer decides, not this figure."
}

func wholeMinutes(d decimal.Decimal) string {
	switch {
	case d.LessThan(decimal.New(1, 0)):
		return "less than a minute"
	case d.Equal(decimal.New(1, 0)):
		return "1 minute"
	}
	return d.String() + " minutes"
}

// plateau is the lowest-setting fat whose setting range lies between the warmest reading and the limit, and how many of the latest readings
// are below its range; nil for none.
func (ask *CoolAsk) plateau(list []CoolReading) (*SettingFat, int) {
	var found *SettingFat
	for i := range ask.Fats {
		f := &ask.Fats[i]
		if ask.Limit.MilliC < f.HighMilliC && list[0].MilliC > f.LowMilliC && (found == nil || f.LowMilliC < found.LowMilliC) {
			found = f
		}
	}
	if found == nil {
		return nil, 0
	}
	below := 0
	for i := len(list) - 1; i >= 0 && list[i].MilliC < found.LowMilliC; i-- {
		below++
	}
	return found, below
}

func split(list []CoolReading) (at, warm []float64) {
	for _, r := range list {
		at, warm = append(at, r.Minutes.InexactFloat64()), append(warm, float64(r.MilliC)/1000)
	}
	return at, warm
}

func (ask *CoolAsk) fit(list []CoolReading) (coolFit, bool) {
	at, warm := split(list)
	limit := float64(ask.Limit.MilliC) / 1000
	if ask.Room == nil {
		return fitUnknown(at, warm, limit)
	}
	room := float64(ask.Room.MilliC) / 1000
	for _, w := range warm {
		if w <= room {
			return coolFit{}, false
		}
	}
	f := fitKnown(at, warm, room, limit)
	return f, f.curve.k > 1e-6
}
