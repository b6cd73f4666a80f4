package calc_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"stillroom/calc"
)

// Lots are written name=expiry@opened+months.
func TestPublishedShelfLives(t *testing.T) {
	for _, row := range published(t, "shelf-life") {
		var lots []string
		for _, l := range strings.FieldsFunc(row["lots"], func(r rune) bool { return r == ';' }) {
			name, rest, _ := strings.Cut(l, "=")
			expiry, rest, _ := strings.Cut(rest, "@")
			opened, pao, _ := strings.Cut(rest, "+")
			if pao == "" {
				pao = "0"
			}
			lots = append(lots, `{"name":"`+name+`","expiry":"`+expiry+`","opened":"`+opened+`","paoMonths":`+pao+`}`)
		}
		month := func(s string) string {
			if s == "" {
				return "0"
			}
			return s
		}
		var got struct{ BestBefore, PAO, Says string }
		ask(t, "shelflife", `{"made":"`+row["made"]+`","lifeMonths":`+month(row["life"])+`,"paoMonths":`+month(row["pao"])+`,"lots":[`+strings.Join(lots, ",")+`]}`, &got)
		if want := strings.Trim(row["expected"], "-"); got.BestBefore != want || got.PAO != row["shown"] || got.Says == "" {
			t.Errorf("check %s: %+v, want %s %s (%s)", row["check"], got, row["expected"], row["shown"], row["source"])
		}
	}
}

// The date never passes the stated life nor any lot, and is one of them.
func TestABestBeforeIsTheEarliestOfWhatIsSaid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		day := rapid.Custom(func(t *rapid.T) calc.Date {
			return calc.Date{Year: rapid.IntRange(2025, 2032).Draw(t, "y"), Month: rapid.IntRange(1, 12).Draw(t, "m"), Day: rapid.IntRange(1, 28).Draw(t, "d")}
		})
		made, life := day.Draw(t, "made"), rapid.IntRange(0, 60).Draw(t, "life")
		var lots []calc.LotUntil
		var said []calc.Date
		if life > 0 {
			said = append(said, made.AddMonths(life))
		}
		for range rapid.IntRange(0, 4).Draw(t, "n") {
			l := calc.LotUntil{Name: "lot", Expiry: day.Draw(t, "e")}
			lots, said = append(lots, l), append(said, l.Expiry)
		}
		got, one := calc.ShelfLifeOf(made, life, 0, lots), len(said) == 0
		for _, d := range said {
			if d.Before(got.Best) {
				t.Fatalf("%v passes %v", got.Best, d)
			}
			one = one || d == got.Best
		}
		if !one {
			t.Fatalf("%v is none of %v", got.Best, said)
		}
	})
}
