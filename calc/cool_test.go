package calc_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func degrees(t *testing.T, text string) calc.Degrees {
	t.Helper()
	d, err := calc.ReadDegrees(text, "")
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// newton gives readings of a pot by Newton's law, to 0.001 °C.
func newton(from, room, k float64, minutes ...float64) (out []calc.CoolReading) {
	for _, m := range minutes {
		out = append(out, calc.CoolReading{Minutes: decimal.NewFromFloat(m), MilliC: int64(math.Round(1000 * (room + (from-room)*math.Exp(-k*m))))})
	}
	return out
}

func TestPublishedCooling(t *testing.T) {
	for _, row := range published(t, "cool") {
		first, second, room, limit := degrees(t, row["first"]), degrees(t, row["second"]), degrees(t, row["room"]), degrees(t, row["limit"])
		minutes := decimal.RequireFromString(row["minutes"])
		k := calc.CoolingConstant(first.MilliC, second.MilliC, room.MilliC, minutes)
		if row["what"] == "k" {
			near(t, row, k)
		} else {
			near(t, row, calc.CoolsIn(first.MilliC, limit.MilliC, room.MilliC, k))
		}
		// the forecast from three readings on the same curve says the same, reckoned from the first
		m, _ := minutes.Float64()
		c := float64(room.MilliC) / 1000
		got, err := calc.Cool(calc.CoolAsk{Limit: limit, Room: &room, Readings: newton(float64(first.MilliC)/1000, c, k.InexactFloat64(), 0, m/2, m)})
		if err != nil || !got.Known {
			t.Fatalf("check %s: %+v %v", row["check"], got, err)
		}
		want := calc.CoolsIn(first.MilliC, limit.MilliC, room.MilliC, k).Sub(minutes)
		if got.Minutes.Sub(want).Abs().GreaterThan(decimal.New(15, -2)) || got.From.GreaterThan(want) || got.To.LessThan(want) {
			t.Errorf("check %s: %s (%s to %s), want %s", row["check"], got.Minutes, got.From, got.To, want)
		}
	}
}

// TestTheFitAgreesWithGonum: gonum's weighted regression is written by others.
func TestTheFitAgreesWithGonum(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		room, k := 15+10*rng.Float64(), 0.01+0.05*rng.Float64()
		readings := newton(75, room, k, 0, 3, 5, 9, 12)
		var x, y, w []float64
		for i := range readings {
			readings[i].MilliC += rng.Int64N(401) - 200
			rise := float64(readings[i].MilliC)/1000 - room
			x, y, w = append(x, readings[i].Minutes.InexactFloat64()), append(y, math.Log(rise)), append(w, rise*rise)
		}
		a, b := stat.LinearRegression(x, y, w, false)
		at := calc.Degrees{MilliC: int64(room * 1000)}
		room = float64(at.MilliC) / 1000
		got, err := calc.Cool(calc.CoolAsk{Limit: calc.Degrees{MilliC: 40_000, Unit: "C", Text: "40 °C"}, Room: &at, Readings: readings})
		if err != nil || got.Used != 5 {
			t.Fatalf("%+v %v", got, err)
		}
		want := (math.Log(40-room)-a)/b - 12
		if math.Abs(got.K.InexactFloat64()+b) > 2e-5 || math.Abs(got.Minutes.InexactFloat64()-want) > 0.06 {
			t.Errorf("k %s, %s min here; k %f, %f min by gonum", got.K, got.Minutes, -b, want)
		}
	}
}

// TestTheRangeHoldsTheTruth: with readings off by a thermometer's error, at least nine ranges in ten hold the true minute, room known or not.
func TestTheRangeHoldsTheTruth(t *testing.T) {
	for _, known := range []bool{true, false} {
		rng := rand.New(rand.NewPCG(3, 4))
		held, asked := 0, 0
		for range 400 {
			room, k := 18+6*rng.Float64(), 0.01+0.03*rng.Float64()
			readings := newton(70, room, k, 0, 4, 8, 12, 16, 20)
			for i := range readings {
				readings[i].MilliC += int64(300 * rng.NormFloat64())
			}
			ask := calc.CoolAsk{Limit: calc.Degrees{MilliC: 37_800, Unit: "C", Text: "37.8 °C"}, Readings: readings}
			if known {
				ask.Room = &calc.Degrees{MilliC: int64(room * 1000), Unit: "C", Text: "room"}
			}
			got, err := calc.Cool(ask)
			if err != nil {
				t.Fatal(err)
			}
			truth := math.Log((70-room)/(37.8-room))/k - 20
			if !got.Known || truth <= 0 || got.Used < 6 {
				continue
			}
			asked++
			if got.From.InexactFloat64()-0.1 <= truth && (got.Open || truth <= got.To.InexactFloat64()+0.1) {
				held++
			}
		}
		if asked < 300 || held*10 < asked*9 {
			t.Errorf("room known %v: %d of %d ranges hold the truth", known, held, asked)
		}
	}
}

func TestNoForecastWhereNothingHonestCanBeSaid(t *testing.T) {
	room := calc.Degrees{MilliC: 20_000, Unit: "C", Text: "20 °C"}
	limit := calc.Degrees{MilliC: 40_000, Unit: "C", Text: "40 °C"}
	falling := newton(75, 20, 0.02697, 0, 5, 10, 15)
	changed := newton(75, 20, 0.02697, 0, 5, 10, 15)
	changed[2].Changed = "stirred"
	for _, c := range []struct {
		name     string
		readings []calc.CoolReading
		room     *calc.Degrees
		limit    calc.Degrees
		known    bool
		says     string
	}{
		{"none", nil, &room, limit, false, "read the pot three times"},
		{"two", falling[:2], &room, limit, false, "once more"},
		{"two since it was stirred", changed, &room, limit, false, "since something changed (stirred)"},
		{"warming", append(falling[:3:3], calc.CoolReading{Minutes: decimal.New(20, 0), MilliC: 70_000}), &room, limit, false, "warming"},
		{"not falling", []calc.CoolReading{{MilliC: 60_000}, {Minutes: decimal.New(5, 0), MilliC: 60_000}, {Minutes: decimal.New(9, 0), MilliC: 60_000}}, &room, limit, false, "do not fall"},
		{"room above the limit", falling, &room, calc.Degrees{MilliC: 15_000, Unit: "C", Text: "15 °C"}, false, "will not come down"},
		{"there already", falling, &room, calc.Degrees{MilliC: 60_000, Unit: "C", Text: "60 °C"}, true, "may go in"},
		{"enough", falling, &room, limit, true, "minutes more"},
		{"room not measured", falling, nil, limit, true, "Not sure yet"},
	} {
		got, err := calc.Cool(calc.CoolAsk{Limit: c.limit, Room: c.room, Readings: c.readings})
		if err != nil || got.Known != c.known || !strings.Contains(got.Says, c.says) || (!c.known && (len(got.Findings) != 1 || got.Findings[0].Level != calc.Unchecked)) {
			t.Errorf("%s: %+v %v", c.name, got, err)
		}
	}
	if _, err := calc.Cool(calc.CoolAsk{Limit: limit, Readings: []calc.CoolReading{{Minutes: decimal.New(5, 0)}, {Minutes: decimal.New(5, 0)}}}); err == nil {
		t.Error("two readings at one moment are taken")
	}
}

func TestASettingFatHoldsThePotBack(t *testing.T) {
	room := calc.Degrees{MilliC: 20_000, Unit: "C", Text: "20 °C"}
	limit := degrees(t, "100 F")
	fat := []calc.SettingFat{{Name: "stearic acid (grade 50)", LowMilliC: 53_000, HighMilliC: 59_000}}
	above := newton(75, 20, 0.03, 0, 3, 6)
	// a plateau of ten minutes at 57 °C, then 52 °C and on
	later := append(above[:3:3], calc.CoolReading{Minutes: decimal.New(16, 0), MilliC: 57_000}, calc.CoolReading{Minutes: decimal.New(20, 0), MilliC: 56_000})
	for _, r := range newton(52, 20, 0.025, 0, 4, 8) {
		r.Minutes = r.Minutes.Add(decimal.New(26, 0))
		later = append(later, r)
	}
	for _, c := range []struct {
		name     string
		readings []calc.CoolReading
		fats     []calc.SettingFat
		atLeast  bool
		used     int
		rule     string
		level    calc.Level
	}{
		{"above it", above, fat, true, 3, "cool-plateau", calc.Care},
		{"no fat in it", above, nil, false, 3, "", ""},
		{"through it", later, fat, false, 3, "cool-plateau", calc.Note},
		{"through it, and nobody said that a fat is in it", later, nil, false, 3, "cool-changed", calc.Note},
	} {
		got, err := calc.Cool(calc.CoolAsk{Limit: limit, Room: &room, Fats: c.fats, Readings: c.readings})
		rule, level := "", calc.Level("")
		if len(got.Findings) > 0 {
			rule, level = got.Findings[0].Rule, got.Findings[0].Level
		}
		if err != nil || !got.Known || got.AtLeast != c.atLeast || got.Used < c.used || rule != c.rule || level != c.level {
			t.Errorf("%s: %+v %v", c.name, got, err)
		}
		if c.name == "through it" && !got.K.Equal(decimal.New(25, -3)) {
			t.Errorf("it trusts the latest readings: k %s", got.K)
		}
	}
}

// TestWarmerTakesLonger: whatever the pot, a lower limit never comes sooner, and the answer is in its own range.
func TestWarmerTakesLonger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.Float64Range(0.005, 0.1).Draw(t, "k")
		from := rapid.Float64Range(50, 90).Draw(t, "from")
		room := calc.Degrees{MilliC: 20_000, Unit: "C", Text: "20 °C"}
		high := rapid.Int64Range(25_000, 45_000).Draw(t, "limit")
		low := rapid.Int64Range(22_000, high).Draw(t, "lower limit")
		readings := newton(from, 20, k, 0, 2, 4, 6)
		at := func(limit int64) calc.Cooled {
			got, err := calc.Cool(calc.CoolAsk{Limit: calc.Degrees{MilliC: limit, Unit: "C", Text: "x"}, Room: &room, Readings: readings})
			if err != nil || !got.Known {
				t.Fatalf("%+v %v", got, err)
			}
			if got.From.GreaterThan(got.Minutes) || !got.Open && got.To.LessThan(got.Minutes) || got.From.IsNegative() {
				t.Fatalf("%+v", got)
			}
			return got
		}
		if at(low).Minutes.LessThan(at(high).Minutes) {
			t.Fatal("a lower limit comes sooner")
		}
	})
}

func TestStudentsTAgreesWithGonum(t *testing.T) {
	for _, df := range []int{1, 2, 3, 4, 7, 11, 19, 29, 49, 119, 999} {
		for _, confidence := range []float64{0.5, 0.9, 0.95, 0.99, 0.999} {
			want := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(df)}.Quantile(0.5 + confidence/2)
			if got := calc.StudentT(confidence, df); math.Abs(got-want) > 1e-6*want {
				t.Errorf("df %d, %v: %f here, %f by gonum", df, confidence, got, want)
			}
		}
	}
}
