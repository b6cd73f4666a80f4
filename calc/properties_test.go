package calc_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

// fullShares draws shares that sum to exactly 100.
func fullShares(t *rapid.T, most int) []calc.Percent {
	n := rapid.IntRange(1, most).Draw(t, "lines")
	left := calc.Hundred
	out := make([]calc.Percent, n)
	for i := range n - 1 {
		out[i] = calc.Percent(rapid.Int64Range(0, int64(left)).Draw(t, "share"))
		left -= out[i]
	}
	out[n-1] = left
	return out
}

func TestGramsSumToTheBatchOnTheGridUnderTheMaxima(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shares := fullShares(t, 12)
		qs := rapid.IntRange(-1, len(shares)-1).Draw(t, "qs")
		step := rapid.SampledFrom([]calc.Mass{1, 10, 100, 1000}).Draw(t, "step")
		batch := calc.Mass(rapid.Int64Range(1, 50_000_000).Draw(t, "batch"))/step*step + step
		lines := make([]calc.ScaleLine, len(shares))
		free := false
		for i, p := range shares {
			lines[i] = calc.ScaleLine{ID: strconv.Itoa(i), Percent: p, QS: i == qs}
			if rapid.IntRange(0, 3).Draw(t, "has maximum") == 0 && i != qs {
				most := p
				lines[i].Max = &most
			} else if p > 0 {
				free = true
			}
		}
		got, err := calc.Scale(lines, batch, step)
		if err != nil {
			t.Fatal(err)
		}
		var sum calc.Mass
		for i, l := range got.Lines {
			sum += l.Mass
			if l.Mass < 0 || l.Mass%step != 0 {
				t.Fatalf("line %d weighs %s on a scale of %s", i, l.Mass, step)
			}
			if m := lines[i].Max; m != nil && int64(l.Mass)*int64(calc.Hundred) > int64(*m)*int64(got.Batch) && got.Batch == batch {
				t.Fatalf("line %d is rounded up past its maximum: %s of %s", i, l.Mass, got.Batch)
			}
		}
		if sum != got.Batch {
			t.Fatalf("the lines sum to %s, the batch is %s", sum, got.Batch)
		}
		if free && got.Batch != batch {
			t.Fatalf("the batch moved from %s to %s although a line without a maximum could take the rest", batch, got.Batch)
		}
	})
}

func TestTakenApartSumsTo100AtAnyDepthInAnyOrder(t *testing.T) {
	keys := []string{"water", "betaine-30", "sci-powder", "stearic-50", "phenoxyethanol-ehg", "lactic-80", "sucrose", "aloe-juice"}
	rapid.Check(t, func(t *rapid.T) {
		k := calc.Given()
		depth := rapid.IntRange(0, 6).Draw(t, "depth")
		formula := func(level int) calc.Formula {
			f := calc.Formula{Key: "f" + strconv.Itoa(level), Name: "f" + strconv.Itoa(level)}
			for i, p := range fullShares(t, 5) {
				l := calc.Line{ID: strconv.Itoa(i), Percent: p}
				if level > 0 && rapid.Bool().Draw(t, "base") {
					l.Base = "f" + strconv.Itoa(rapid.IntRange(0, level-1).Draw(t, "which"))
				} else {
					l.Ingredient = rapid.SampledFrom(keys).Draw(t, "ingredient")
				}
				f.Lines = append(f.Lines, l)
			}
			return f
		}
		for level := range depth {
			f := formula(level)
			k.Bases[f.Key] = &f
		}
		top := formula(depth)
		a, err := calc.TakeApart(top, k)
		if err != nil {
			t.Fatal(err)
		}
		hundred := decimal.New(100, 0)
		if s := sumOf(a.Supplied); !s.Equal(hundred) {
			t.Fatalf("supplied sums to %s", s)
		}
		if s := sumOf(a.Substances); !s.Equal(hundred) {
			t.Fatalf("substances sum to %s", s)
		}
		back := top
		back.Lines = nil
		for i := range top.Lines {
			back.Lines = append(back.Lines, top.Lines[len(top.Lines)-1-i])
		}
		b, err := calc.TakeApart(back, k)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range a.Substances {
			for _, q := range b.Substances {
				if p.Key == q.Key && !p.Percent.Equal(q.Percent) {
					t.Fatalf("%s is %s one way round and %s the other", p.Key, p.Percent, q.Percent)
				}
			}
		}
		if len(a.Substances) != len(b.Substances) {
			t.Fatal("the order of lines changes what is in it")
		}
	})
}

func sumOf(parts []calc.Part) decimal.Decimal {
	s := decimal.Decimal{}
	for _, p := range parts {
		s = s.Add(p.Percent)
	}
	return s
}

func TestUnitsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pair := rapid.SampledFrom([][2]string{{"g", "oz"}, {"kg", "lb"}, {"mL", "fl oz"}, {"g", "kg"}, {"C", "F"}}).Draw(t, "units")
		text := decimal.New(rapid.Int64Range(0, 1_000_000_000).Draw(t, "value"), -3).String()
		there, err := calc.Convert(text+" "+pair[0], pair[1], "")
		if err != nil {
			t.Fatal(err)
		}
		back, err := calc.Convert(there.String()+" "+pair[1], pair[0], "")
		if err != nil {
			t.Fatal(err)
		}
		if back.Sub(decimal.RequireFromString(text)).Abs().GreaterThan(decimal.New(1, -10)) {
			t.Fatalf("%s %s → %s %s → %s", text, pair[0], there, pair[1], back)
		}
	})
}

func TestMoreJarsOrMoreLossNeverNeedLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		jars := rapid.IntRange(1, 500).Draw(t, "jars")
		fill := calc.Mass(rapid.Int64Range(1000, 500_000).Draw(t, "fill"))
		loss := calc.Percent(rapid.Int64Range(0, int64(80*calc.OnePercent)).Draw(t, "loss"))
		step := rapid.SampledFrom([]calc.Mass{10, 100}).Draw(t, "step")
		m := calc.BatchMass(jars, fill, loss, step)
		if m%step != 0 {
			t.Fatalf("%s is not on the grid", m)
		}
		if calc.BatchMass(jars+1, fill, loss, step) < m || calc.BatchMass(jars, fill, loss+calc.OnePercent, step) < m {
			t.Fatal("more needs less")
		}
	})
}

func TestLessOfAnAcidWorksAsThePHRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pH, pKa := rapid.Float64Range(0, 13).Draw(t, "pH"), rapid.Float64Range(2, 7).Draw(t, "pKa")
		if calc.Undissociated(pH+0.5, pKa).GreaterThan(calc.Undissociated(pH, pKa)) {
			t.Fatal("the share rose")
		}
	})
}

func TestEverySingleWrongCharacterIsCaught(t *testing.T) {
	const all = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	rapid.Check(t, func(t *rapid.T) {
		key := calc.DrawKey(rapid.SliceOfN(rapid.Byte(), 5, 5).Draw(t, "key"), 5)
		numbers := calc.JarNumbers(key, 1, rapid.IntRange(0, 900).Draw(t, "from"))
		code, err := calc.JarCode(key, numbers[0])
		if err != nil {
			t.Fatal(err)
		}
		if back, how, err := calc.ReadJarCode(strings.ToLower(calc.ShowJarCode(code))); err != nil || back != code || how != "" {
			t.Fatalf("%s reads back as %s (%s) %v", code, back, how, err)
		}
		if k, n := calc.SplitJarCode(code); k != key || n != numbers[0] {
			t.Fatalf("%s splits into %s and %d", code, k, n)
		}
		for i := range code {
			for _, c := range []byte(all) {
				if c == code[i] {
					continue
				}
				got, how, err := calc.ReadJarCode(code[:i] + string(c) + code[i+1:])
				meant := (c == 'O' && code[i] == '0') || ((c == 'I' || c == 'L') && code[i] == '1')
				if meant && (err != nil || got != code || how == "") {
					t.Fatalf("%c for %c at %d of %s was not read with a word about it: %q %v", c, code[i], i, code, how, err)
				}
				if !meant && err == nil {
					t.Fatalf("%c for %c at %d of %s was not caught", c, code[i], i, code)
				}
			}
		}
	})
}

func TestATraceGoesThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b calc.TraceBook
		n := rapid.IntRange(1, 12).Draw(t, "batches")
		for i := range n {
			key := "B" + strconv.Itoa(i)
			batch := calc.TraceBatch{Key: key, Lots: []string{"L" + strconv.Itoa(i)}}
			b.Lots = append(b.Lots, calc.TraceLot{Key: "L" + strconv.Itoa(i), Supplier: "S" + strconv.Itoa(i)})
			if i > 0 && rapid.Bool().Draw(t, "from a made base") {
				lot := calc.TraceLot{Key: "M" + strconv.Itoa(i), FromBatch: "B" + strconv.Itoa(rapid.IntRange(0, i-1).Draw(t, "base"))}
				b.Lots = append(b.Lots, lot)
				batch.Lots = append(batch.Lots, lot.Key)
			}
			if i > 0 && rapid.Bool().Draw(t, "part") {
				batch.Parent = "B" + strconv.Itoa(rapid.IntRange(0, i-1).Draw(t, "parent"))
			}
			b.Batches = append(b.Batches, batch)
			b.Jars = append(b.Jars, calc.TraceJar{Code: "J" + strconv.Itoa(i), Batch: key, Place: "home"})
		}
		for _, lot := range b.Lots {
			forward, err := calc.TraceForward(b, lot.Key)
			if err != nil {
				t.Fatal(err)
			}
			for _, jar := range b.Jars {
				back, err := calc.TraceBack(b, jar.Code)
				if err != nil {
					t.Fatal(err)
				}
				if has(forward.Jars, jar.Code) != has(back.Lots, lot.Key) {
					t.Fatalf("from lot %s jar %s is reached: %v; from the jar the lot: %v", lot.Key, jar.Code, has(forward.Jars, jar.Code), has(back.Lots, lot.Key))
				}
			}
		}
	})
}

func has(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}
