package calc

// Holds are what an exchange of a line's ingredient for another may hold equal, since both have it: the likeliest first, the mass last. It is empty where
// nothing can be exchanged, such as a base.
func Holds(f Formula, k Known, line, by string) []string {
	l := f.lineOf(line)
	out, into := k.Ingredients[l.Ingredient], k.Ingredients[by]
	if l.ID == "" || l.Base != "" || out == nil || into == nil {
		return nil
	}
	var holds []string
	add := func(hold string) {
		if !contains(holds, hold) && heldShare(out, hold, k) > 0 && heldShare(into, hold, k) > 0 {
			holds = append(holds, hold)
		}
	}
	add("active matter")
	add("oil")
	for _, function := range out.Functions {
		// A surfactant is its active matter; water and powder are what an ingredient is and not what it does.
		if does(into, function) && function != "surfactant" && function != "water" && function != "powder" {
			add(function)
		}
	}
	return append(holds, "mass")
}
