package calc_test

import (
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"stillroom/calc"
)

func TestPublishedGS1(t *testing.T) {
	for _, row := range published(t, "gs1") {
		got := ""
		if row["what"] == "check" {
			c, err := calc.GTINCheck(row["a"])
			if err != nil {
				t.Fatal(err)
			}
			got = string(c)
		} else {
			uri, err := calc.DigitalLink{GTIN: row["a"], Batch: row["batch"], Serial: row["serial"], Expiry: row["expiry"]}.URI()
			switch {
			case err != nil:
				got = "refused"
			case row["what"] == "length":
				got = strconv.Itoa(len(uri))
			default:
				got = uri
			}
		}
		if got != row["expected"] {
			t.Errorf("check %s: got %s, want %s (%s)", row["check"], got, row["expected"], row["source"])
		}
	}
}

// TestEveryWrongDigitOfAGTINIsCaught: weights 3 and 1 are both prime to ten, so no single slip passes.
func TestEveryWrongDigitOfAGTINIsCaught(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		body := rapid.StringMatching(`[0-9]{12}`).Draw(t, "body")
		c, err := calc.GTINCheck(body)
		if err != nil {
			t.Fatal(err)
		}
		gtin := []byte(body + string(c))
		if _, err := calc.GTIN14(string(gtin)); err != nil {
			t.Fatal(err)
		}
		at := rapid.IntRange(0, 12).Draw(t, "at")
		gtin[at] = '0' + (gtin[at]-'0'+byte(rapid.IntRange(1, 9).Draw(t, "by")))%10
		if _, err := calc.GTIN14(string(gtin)); err == nil {
			t.Fatalf("%s passes", gtin)
		}
	})
}
