package calc

// ruleSharp (C10): sharp grains near eyes and on thin skin; salt on broken skin.
func ruleSharp(e *evidence) []Finding {
	return e.counting("sharp", func(f *Finding, ing *Ingredient) bool {
		switch {
		case e.f.Site == "face" || e.f.Site == "lip" || e.f.Site == "eye area":
			f.Level, f.Says, f.Do = Care, ing.Name+" is sharp for the "+e.f.Site, "take a round or soft grit there"
		case e.f.Site == "" && ing.Soluble == "neither":
			f.Level, f.Says, f.Do = Unchecked, "not checked: where it is used is missing; "+ing.Name+" is sharp for face, lips and eyes", "say where it is used"
		default:
			return false
		}
		f.Source = "common practice"
		return true
	})
}
