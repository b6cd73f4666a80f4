package calc

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
	"pgregory.net/rapid"
)

func TestPublishedDrifts(t *testing.T) {
	f, err := os.Open(filepath.Join("..", "testdata", "published", "ageing.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatal(err)
	}
	for _, r := range rows[1:] {
		if r[7] == "" || r[8] == "" {
			t.Fatalf("%s has no source or mark", r[0])
		}
		var g []Aged
		values := strings.Split(r[2], ";")
		step, _ := strconv.ParseFloat(r[3], 64)
		for i, d := range strings.Split(r[1], ";") {
			day, _ := strconv.ParseFloat(d, 64)
			v, _ := strconv.ParseFloat(values[i], 64)
			g = append(g, Aged{What: "pH", Day: day, Value: v, Step: step})
		}
		d := DriftsOf(g)[0]
		got := d.Slope
		if r[4] == "within" {
			got = d.Within
		}
		want, _ := strconv.ParseFloat(r[5], 64)
		tolerance, _ := strconv.ParseFloat(r[6], 64)
		if math.Abs(got-want) > tolerance {
			t.Errorf("check %s: got %v, want %v", r[0], got, want)
		}
	}
}

// TestTheFitIsTheFitOfAnotherLibrary holds the slope, its spread and Student's t against gonum.
func TestTheFitIsTheFitOfAnotherLibrary(t *testing.T) {
	for free := 1; free <= len(student); free++ {
		want := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(free)}.Quantile(0.975)
		if math.Abs(student95(free)-want) > 6e-5 {
			t.Errorf("t of %d is %v, want %v", free, student95(free), want)
		}
	}
	if want := (distuv.StudentsT{Mu: 0, Sigma: 1, Nu: 60}).Quantile(0.975); student95(60) < want {
		t.Error("beyond the table the interval is too narrow")
	}
	rapid.Check(t, func(t *rapid.T) {
		var g []Aged
		var x, y []float64
		for i := range rapid.IntRange(3, 12).Draw(t, "n") {
			x = append(x, float64(i*7+rapid.IntRange(0, 5).Draw(t, "day")))
			y = append(y, float64(rapid.IntRange(300, 700).Draw(t, "value"))/100)
			g = append(g, Aged{Day: x[i], Value: y[i]})
		}
		slope, within := slopeOf(g)
		alpha, beta := stat.LinearRegression(x, y, nil, false)
		rest := 0.0
		for i := range x {
			e := y[i] - alpha - beta*x[i]
			rest += e * e
		}
		n := float64(len(x))
		spread := math.Sqrt(rest / (n - 2) / (stat.Variance(x, nil) * (n - 1)))
		if math.Abs(slope-beta) > 1e-9 || math.Abs(within-student95(len(x)-2)*spread) > 1e-9 {
			t.Fatalf("slope %v ± %v, the other says %v and a spread of %v", slope, within, beta, spread)
		}
	})
}

func TestAgeingSaysTooFewAndKeepsMethodsApart(t *testing.T) {
	meter := func(day, v float64) Aged {
		return Aged{What: "pH", Condition: "room", Method: "meter", Day: day, Value: v, Step: 0.01}
	}
	strip := func(day, v float64) Aged {
		return Aged{What: "pH", Condition: "room", Method: "strip", Day: day, Value: v, Step: 0.5, Strip: true}
	}
	for _, c := range []struct {
		name  string
		in    []Aged
		known bool
		says  string
	}{
		{"two points", []Aged{meter(1, 5.4), meter(30, 5.1)}, false, "too few: 2 of at least 3 days"},
		{"three on one day", []Aged{meter(1, 5.4), meter(1, 5.41), meter(1, 5.39)}, false, "too few: 1"},
		{"three", []Aged{meter(1, 5.42), meter(7, 5.40), meter(30, 5.29)}, true, "in 30 days"},
		{"nothing to see", []Aged{meter(1, 5.40), meter(7, 5.41), meter(30, 5.40)}, true, "no drift that these readings can show"},
		{"strips stay words", []Aged{strip(1, 5.5), strip(7, 5.5), strip(30, 5.5)}, false, "no change that a strip can show"},
		{"strips that move", []Aged{strip(1, 5.5), strip(7, 5.0), strip(30, 4.5)}, false, "more than one colour"},
	} {
		got := DriftsOf(c.in)
		if len(got) != 1 || got[0].Known != c.known || !strings.Contains(got[0].Says, c.says) {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	both := DriftsOf([]Aged{meter(1, 5.4), meter(7, 5.4), meter(30, 5.3), strip(14, 5.5)})
	if len(both) != 2 || both[0].N != 3 || len(both[0].Findings) == 0 || !strings.Contains(both[0].Findings[0].Says, "more than one method") {
		t.Errorf("a strip and a meter were put together: %+v", both)
	}
}

func TestWhatIsDueNext(t *testing.T) {
	for _, c := range []struct {
		age  int
		days []float64
		says string
		over bool
	}{{0, nil, "the next day", false}, {3, nil, "the next day", true}, {3, []float64{1}, "after a week", false}, {40, []float64{1, 7}, "after a month", true}, {40, []float64{1, 7, 33}, "after three months", false}, {40, nil, "after a month", true}} {
		var g []Aged
		for _, d := range c.days {
			g = append(g, Aged{Day: d})
		}
		says, _, over, ok := DueLook(c.age, g)
		if !ok || says != c.says || over != c.over {
			t.Errorf("age %d, looked at %v: %s, overdue %v", c.age, c.days, says, over)
		}
	}
}

func TestVariantsAreComparedLikeWithLike(t *testing.T) {
	a := Variant{Name: "A", Lines: map[string]string{"stearic acid": "12", "glycerin": "3"}, Day: 30, Condition: "room", Preferred: 9}
	b := a
	b.Name, b.Preferred, b.Lines = "B", 1, map[string]string{"stearic acid": "10", "glycerin": "3"}
	if says, p, f := CompareBlind(a, b); len(f) != 0 || !strings.HasPrefix(says, "A was taken") || math.Abs(p-22.0/1024) > 1e-9 {
		t.Errorf("%s, p %v, %v", says, p, f)
	}
	b.Preferred = 4
	if says, _, _ := CompareBlind(a, b); !strings.HasPrefix(says, "no difference seen") {
		t.Error(says)
	}
	b.Lines["glycerin"], b.Day, b.Condition = "5", 7, "40 °C"
	_, _, f := CompareBlind(a, b)
	if len(f) != 3 || !strings.HasPrefix(f[0].Says, "two things differ") || f[0].Figure != "glycerin and stearic acid" {
		t.Errorf("%+v", f)
	}
	for n := 1; n < 40; n++ {
		for few := 0; few <= n/2; few++ {
			want := math.Min(1, 2*distuv.Binomial{N: float64(n), P: 0.5}.CDF(float64(few)))
			if math.Abs(signTest(few, n)-want) > 1e-9 {
				t.Fatalf("%d of %d: %v, want %v", few, n, signTest(few, n), want)
			}
		}
	}
}
