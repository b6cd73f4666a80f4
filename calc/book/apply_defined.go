package book

import "stillroom/calc"

// defined is the last word on an ingredient.
type defined struct {
	from origin
	body IngredientDefined
}

func (d *defined) clone() *defined { c := *d; return &c }

// container is the last word on a container.
type container struct {
	from origin
	body ContainerDefined
}

func (c *container) clone() *container { d := *c; return &d }

// applyIngredient takes the later word for the true one: a supplier's new document replaces the old one's figures.
func (s *State) applyIngredient(from origin, b *IngredientDefined) {
	sum := int64(0)
	for _, p := range b.Composition {
		sum += p.Percent
	}
	switch {
	case b.Key == "":
		s.clash(Workshop, from, KindIngredientDefined, "it defines an ingredient without a key")
	case len(b.Composition) > 0 && sum != int64(calc.Hundred):
		s.clash(Workshop, from, KindIngredientDefined, "its composition does not sum to 100 %")
	case s.given.Ingredients[b.Key] == nil && len(b.Composition) == 0 && b.INCI == "":
		s.clash(Workshop, from, KindIngredientDefined, "it says nothing of what the ingredient is made of")
	default:
		*s.ingredients.edit(b.Key) = defined{from, *b}
	}
}

func (s *State) applyContainer(from origin, b *ContainerDefined) {
	if b.Key == "" {
		s.clash(Workshop, from, KindContainerDefined, "it defines a container without a key")
		return
	}
	*s.containers.edit(b.Key) = container{from, *b}
}
