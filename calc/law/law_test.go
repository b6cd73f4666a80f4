package law

import (
	"slices"
	"strings"
	"testing"
)

func TestTheTablesAreRead(t *testing.T) {
	for _, err := range []error{limitsFault, exclusionsFault, coloursFault, allergensFault} {
		if err != nil {
			t.Error(err)
		}
	}
	if len(Limits) < 60 || len(Colours) < 12 || len(Exclusions) == 0 {
		t.Errorf("%d limits, %d colours, %d exclusions", len(Limits), len(Colours), len(Exclusions))
	}
}

// 24 are older, the regulation of 2023 makes them 80 (read: cosmeticobs.com for 80, chemycal.com for 24).
func TestThereAreEightyAllergens(t *testing.T) {
	old, seen := 0, map[string]bool{}
	for _, a := range Allergens {
		if seen[a.INCI] {
			t.Errorf("%s stands twice", a.INCI)
		}
		seen[a.INCI] = true
		if slices.Contains(a.Regions, "UK") {
			old++
		}
	}
	if len(Allergens) != 80 || old != 24 {
		t.Errorf("%d allergens, %d of them older", len(Allergens), old)
	}
}

func TestRowsThatSayTooLittleAreRefused(t *testing.T) {
	sound := "a | A | whole | EU | any | all | all | 1 | stop | Annex | - | R text | -"
	if _, err := read("t", sound, 13, limit); err != nil {
		t.Fatal(err)
	}
	for from, to := range map[string]string{"R text": "text", "| Annex |": "| |", "EU": "XX", "| 1 |": "| 1.00001 |", "stop": "never", "any": "rinsed", "| - |": "|", "whole": "salt", "| R text | -": "| R text | warning"} {
		row := strings.Replace(sound, from, to, 1)
		if _, err := read("t", "# head\n"+row, 13, limit); err == nil || !strings.HasPrefix(err.Error(), "t:2: ") {
			t.Errorf("%q: %v", row, err)
		}
	}
}

// Two rows of one name may not both apply to one product: the lower would always win and the higher would be a dead row.
func TestScopesOfOneNameDoNotOverlap(t *testing.T) {
	sites := []string{"body", "face", "hair", "lip", "hand", "foot", "eye area", "bath", "spray or mist", "nail", "intimate", "whole body"}
	for _, region := range Regions {
		for _, wash := range []string{"rinse-off", "leave-on"} {
			for _, age := range []string{"adults", "3 to 12", "under 3"} {
				for _, site := range sites {
					seen := map[string]bool{}
					for i := range Limits {
						l := &Limits[i]
						if l.In(region) && l.Meets(wash, site, age) {
							if seen[l.Name] {
								t.Errorf("%s applies twice in the %s to %s, %s, %s", l.Name, region, wash, site, age)
							}
							seen[l.Name] = true
						}
						for _, s := range l.Sites {
							if !slices.Contains(sites, s) {
								t.Fatalf("%s names a site that nobody can choose: %s", l.Name, s)
							}
						}
					}
				}
			}
		}
	}
}
