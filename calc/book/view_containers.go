package book

// viewContainers lists what products are filled into, in the order in which it was written down.
func (s *State) viewContainers() []ContainerRow {
	out := []ContainerRow{}
	stock := s.containerStock()
	s.containers.each(func(k string, c *container) bool {
		b := &c.body
		r := ContainerRow{Key: k, Name: b.Name, Word: b.Word, Material: b.Material, OnHand: "not counted", Where: s.where(Workshop, c.from.ref)}
		if b.Brim > 0 {
			r.Brimful = plain(b.Brim, 3) + " mL"
		}
		if b.Tare > 0 {
			r.Tare = s.mass(b.Tare, 100)
		}
		if n, counted := stock[k]; counted {
			r.OnHand = number(n)
			if n < 0 {
				r.OnHand += ": more were filled than came in; count what is there"
			}
		}
		out = append(out, r)
		return true
	})
	return out
}

// containerStock is what came in less what was filled, of each container of which any came in.
func (s *State) containerStock() map[string]int64 {
	out := map[string]int64{}
	s.lots.each(func(_ string, l *lot) bool {
		if l.body.What == "container" {
			out[l.body.Ingredient] += l.body.Count
		}
		return true
	})
	s.batches.each(func(_ string, b *batch) bool {
		if _, counted := out[b.body.Container]; counted {
			if f := b.filling(); f != nil {
				out[b.body.Container] -= f.Jars
			}
		}
		return true
	})
	return out
}
