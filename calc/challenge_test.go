package calc_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/shopspring/decimal"
	"pgregory.net/rapid"

	"stillroom/calc"
)

func TestPublishedLogReductions(t *testing.T) {
	for _, row := range published(t, "challenge") {
		var got struct{ Reductions []struct{ Logs string } }
		ask(t, "challenge", `{"organisms":[{"name":"a","kind":"bacteria","start":"`+row["start"]+`","counts":[{"day":7,"count":"`+row["count"]+`"}]}]}`, &got)
		near(t, row, decimal.RequireFromString(strings.TrimPrefix(got.Reductions[0].Logs, "at least ")))
	}
}

// reduced is an organism that started at a million and stands so many tenths of a log lower on each day.
func reduced(name, kind string, tenths map[int]int) calc.Organism {
	o := calc.Organism{Name: name, Kind: kind, Start: 1e6, Limit: 1, Counts: map[int]float64{}}
	for day, t := range tenths {
		v := 1e6
		for range t {
			v /= 1.2589254117941673
		}
		o.Counts[day] = v
	}
	return o
}

// bacteria are the three that both standards ask for, all alike.
func bacteria(tenths map[int]int) []calc.Organism {
	return []calc.Organism{reduced("P. aeruginosa", "bacteria", tenths), reduced("Staphylococcus aureus", "bacteria", tenths), reduced("E. coli ATCC 8739", "bacteria", tenths)}
}

// A report of one bacterium meets nothing, however well it falls: what the test asks for and was not typed is named.
func TestAMicrobeThatWasNotTestedIsMissing(t *testing.T) {
	days := map[int]int{7: 50, 14: 50, 28: 50}
	got := calc.JudgeChallenge([]calc.Organism{reduced("Escherichia coli", "bacteria", days), reduced("Candida albicans", "yeast", days), reduced("Aspergillus brasiliensis", "mould", days)})
	for _, r := range got {
		if r.Met != "not known" || strings.Join(r.Missing, ", ") != "no Pseudomonas aeruginosa, no Staphylococcus aureus" {
			t.Errorf("%s: %s, %v", r.Name, r.Met, r.Missing)
		}
	}
	if f := calc.ChallengeFinding(got); f.Level != calc.Unchecked || !strings.Contains(f.Says, "Pseudomonas") {
		t.Errorf("%+v", f)
	}
}

func TestCriteriaOfAChallengeTest(t *testing.T) {
	yeast := reduced("Candida albicans", "yeast", map[int]int{7: 10, 14: 20, 28: 20})
	mould := reduced("Aspergillus niger ATCC 16404", "mould", map[int]int{7: 0, 14: 5, 28: 12})
	for _, c := range []struct {
		name           string
		bacteria       map[int]int
		a, b, usp2, u1 string
	}{
		{"clean", map[int]int{7: 35, 14: 40, 28: 50}, "met", "met", "met", "met"},
		{"exactly three", map[int]int{7: 30, 14: 30, 28: 30}, "met", "met", "met", "met"},
		{"within half a log", map[int]int{7: 26, 14: 30, 28: 30}, "met", "met", "met", "met"},
		{"slow", map[int]int{7: 15, 14: 31, 28: 31}, "not met", "met", "met", "met"},
		{"weak", map[int]int{7: 10, 14: 22, 28: 22}, "not met", "not met", "met", "not met"},
		{"grows again", map[int]int{7: 35, 14: 40, 28: 34}, "not met", "not met", "not met", "not met"},
		{"a day is missing", map[int]int{7: 35, 28: 50}, "not known", "not known", "not known", "not known"},
	} {
		got := calc.JudgeChallenge(append(bacteria(c.bacteria), yeast, mould))
		for i, want := range []string{c.a, c.b, c.usp2, c.u1} {
			if got[i].Met != want {
				t.Errorf("%s: %s is %s, want %s: %v %v", c.name, got[i].Name, got[i].Met, want, got[i].Against, got[i].Missing)
			}
		}
	}
}

// TestFewerMicrobesNeverFailWhatMorePassed: where each day's count is at most what it was and the fall is even, no criterion turns against it.
func TestFewerMicrobesNeverFailWhatMorePassed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		logs := rapid.IntRange(0, 50).Draw(t, "logs")
		more := logs + rapid.IntRange(0, 10).Draw(t, "more")
		judge := func(n int) []calc.CriterionResult {
			days := map[int]int{7: n, 14: n, 28: n}
			return calc.JudgeChallenge(append(bacteria(days), reduced("C. albicans", "yeast", days), reduced("A. brasiliensis", "mould", days)))
		}
		before, after := judge(logs), judge(more)
		for i := range before {
			if before[i].Met == "met" && after[i].Met != "met" {
				t.Fatal(before[i].Name + " with " + strconv.Itoa(logs) + " and " + strconv.Itoa(more))
			}
		}
	})
}

func TestLogsAreReadAsALaboratoryWritesThem(t *testing.T) {
	for _, c := range []struct {
		text      string
		reduction bool
		want      int64
		bound, ok bool
	}{
		{"6.08", false, 6080, false, true}, {"6,08 log", false, 6080, false, true}, {"<1", false, 1000, true, true}, {"≤ 1.0", false, 1000, true, true}, {"0", false, 0, false, true},
		{"≥ 4.2", true, 4200, true, true}, {">=4", true, 4000, true, true}, {"-0.3", true, -300, false, true},
		{"-0.3", false, 0, false, false}, {"1200000", false, 0, false, false}, {"<4", true, 0, false, false}, {">1", false, 0, false, false}, {"", false, 0, false, false}, {"3.2 %", true, 0, false, false}, {"3.0001", true, 0, false, false},
	} {
		got, bound, err := calc.ReadLogs(c.text, c.reduction)
		if (err == nil) != c.ok || got != c.want || bound != c.bound {
			t.Errorf("%q: %d, bound %v, %v", c.text, got, bound, err)
		}
	}
}

func TestReductionsAreJudgedAsCountsAre(t *testing.T) {
	var got struct {
		Reductions []struct {
			Day  int
			Logs string
		}
		Criteria []struct{ Met string }
	}
	ask(t, "challenge", `{"organisms":[
{"name":"P. aeruginosa","kind":"bacteria","reductions":[{"day":7,"logs":"≥4.0"},{"day":14,"logs":"≥ 4.0"},{"day":28,"logs":"≥4"}]},
{"name":"S. aureus","kind":"bacteria","reductions":[{"day":7,"logs":"4"},{"day":14,"logs":"4"},{"day":28,"logs":"4"}]},
{"name":"E. coli","kind":"bacteria","reductions":[{"day":7,"logs":"4"},{"day":14,"logs":"4"},{"day":28,"logs":"4"}]},
{"name":"C. albicans","kind":"yeast","reductions":[{"day":7,"logs":"1.1"},{"day":14,"logs":"1.8"},{"day":28,"logs":"1.2"}]},
{"name":"A. brasiliensis","kind":"mould","reductions":[{"day":14,"logs":"0.1"},{"day":28,"logs":"1.0"}]}]}`, &got)
	if got.Reductions[0].Logs != "at least 4.00" || got.Criteria[0].Met != "not met" || got.Criteria[2].Met != "met" {
		t.Errorf("the yeast grew again by 0.6 log after day 14, and nothing says so: %+v", got)
	}
}
