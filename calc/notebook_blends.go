package calc

import (
	"sort"

	"stillroom/calc/matter"
)

// blendsOf lists the preservatives of which most is the one substance that was named: shops and notebooks call such a blend by its first name. The substance is
// what was written, so it is what is taken; the blends are offered beside it.
func blendsOf(m meaning, k Known) []NotebookChoice {
	one := k.Ingredients[m.choice.Key]
	if m.choice.Base || one == nil || len(one.Composition) != 1 || !does(one, "preservative") || !sameWords(withoutIdle(m.used), withoutIdle(tokens(one.Composition[0].INCI))) {
		return nil
	}
	var out []NotebookChoice
	for key, i := range k.Ingredients {
		if len(i.Composition) < 2 || !does(i, "preservative") {
			continue
		}
		for _, c := range i.Composition {
			if c.INCI == one.Composition[0].INCI && c.Percent > 50*matter.OnePercent {
				out = append(out, NotebookChoice{Key: key, Name: i.Name})
			}
		}
	}
	sort.Slice(out, func(a, b int) bool { return out[a].Name < out[b].Name })
	return out
}
