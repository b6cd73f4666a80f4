package calc_test

import (
	"strings"
	"testing"

	"github.com/shopspring/decimal"

	"stillroom/calc"
)

func TestPublishedAllergens(t *testing.T) {
	for _, row := range published(t, "allergens") {
		name, share, _ := strings.Cut(row["allergen"], "=")
		var got struct {
			Allergens []struct {
				INCI, Share    string
				LeftOn, Rinsed bool
			}
		}
		ask(t, "allergens", `{"formula":{"wash":"`+row["wash"]+`","lines":[{"ingredient":"shea","qs":true},{"ingredient":"parfum","percent":"`+row["scent"]+`"}]},
			"statements":[{"ingredient":"parfum","allergen":"`+name+`","percent":"`+share+`"}]}`, &got)
		if len(got.Allergens) != 1 || got.Allergens[0].INCI != name {
			t.Errorf("%s: %+v", row["check"], got)
			continue
		}
		a := got.Allergens[0]
		if !decimal.RequireFromString(strings.TrimSuffix(a.Share, " %")).Equal(decimal.RequireFromString(row["figure"])) {
			t.Errorf("%s: %s, want %s", row["check"], a.Share, row["figure"])
		}
		named := a.Rinsed
		if row["wash"] == "leave-on" {
			named = a.LeftOn
		}
		if named != (row["expected"] == "named") {
			t.Errorf("%s: named is %v, want %s (%s)", row["check"], named, row["expected"], row["source"])
		}
	}
}

func TestPublishedScentMaxima(t *testing.T) {
	for _, row := range published(t, "fragrance") {
		var got struct {
			Category string
			Scents   []struct{ Grams string }
			Findings []calc.Finding
		}
		ask(t, "fragrance", `{"wash":"`+row["wash"]+`","site":"`+row["site"]+`","batch":"`+row["batch"]+`","scents":[{"percent":"`+row["percent"]+`","amendment":51,"maxima":[{"category":"`+row["category"]+`","percent":"`+row["maximum"]+`"}]}]}`, &got)
		if got.Category != row["category"] || len(got.Scents) != 1 || len(got.Findings) != 0 {
			t.Errorf("%s: %+v", row["check"], got)
			continue
		}
		near(t, row, decimal.RequireFromString(strings.TrimSuffix(got.Scents[0].Grams, " g")))
	}
}

func TestACertificateIsNotStretched(t *testing.T) {
	for name, c := range map[string]struct {
		request, says string
		level         calc.Level
	}{
		"above":            {`{"wash":"leave-on","site":"body","scents":[{"percent":"0.5","maxima":[{"category":"5A","percent":"0.3"}]}]}`, "more the scent than its certificate allows", calc.Stop},
		"other categories": {`{"wash":"rinse-off","site":"body","scents":[{"percent":"0.5","amendment":48,"maxima":[{"category":"9","percent":"3"}]}]}`, "not checked: the certificate", calc.Unchecked},
		"no figure":        {`{"wash":"rinse-off","site":"body","scents":[{"percent":"0.5","maxima":[{"category":"5A","percent":"3"}]}]}`, "not checked: the maximum", calc.Unchecked},
		"no kind":          {`{"site":"body","scents":[{"percent":"0.5"}]}`, "not checked: the category", calc.Unchecked},
		"two of them":      {`{"wash":"rinse-off","site":"body","scents":[{"percent":"0.5","maxima":[{"category":"9","percent":"3"}]},{"percent":"0.5","maxima":[{"category":"9","percent":"3"}]}]}`, "not checked: what the 2 scents", calc.Unchecked},
	} {
		var got struct{ Findings []calc.Finding }
		ask(t, "fragrance", c.request, &got)
		if len(got.Findings) != 1 || got.Findings[0].Level != c.level || !strings.HasPrefix(got.Findings[0].Says, c.says) {
			t.Errorf("%s: %+v", name, got.Findings)
		}
	}
}

// The three regions side by side, and a limit that is met exactly.
func TestLimitsOfTheRegionsStandSideBySide(t *testing.T) {
	var got struct {
		Regions []struct {
			Region, Found string
			Missing       []string
			Limits        []struct{ Name, Share, Most, Verdict, Source string }
			Findings      []calc.Finding
		}
	}
	ask(t, "limits", `{"formula":{"wash":"leave-on","site":"body","lines":[{"ingredient":"water","qs":true},{"ingredient":"phenoxyethanol-pure","percent":"1"},{"ingredient":"lavender-oil","percent":"0.2"}]}}`, &got)
	if len(got.Regions) != 3 || got.Regions[0].Region != "EU" || got.Regions[2].Region != "US" {
		t.Fatalf("%+v", got)
	}
	eu, us := got.Regions[0], got.Regions[2]
	if len(eu.Limits) != 1 || eu.Limits[0].Verdict != "at the limit" || eu.Limits[0].Share != "1.000 %" || eu.Limits[0].Most != "1.00 %" || !strings.Contains(eu.Limits[0].Source, "Annex V/29") {
		t.Errorf("EU: %+v", eu.Limits)
	}
	if eu.Found != "2 of 3 substances found; 1 not" || len(us.Limits) != 0 || us.Found != "0 of 3 substances found; 3 not" || len(us.Missing) != 3 {
		t.Errorf("found: %s; %s", eu.Found, us.Found)
	}
	for _, r := range got.Regions {
		said := false
		for _, f := range r.Findings {
			said = said || f.Rule == "tables" && f.Level == calc.Unchecked
		}
		if !said {
			t.Errorf("%s: what stands in no table must be said", r.Region)
		}
	}
}
