package book

import "strings"

type forkArgs struct {
	Formula  string `json:"formula"`
	Revision string `json:"revision"`
	Name     string `json:"name"`
}

// forkFormula makes a variant: a formula of its own with the lines of a revision, which remembers where it came from.
// It follows no revision, so that neither of the two ever shows as an unsettled fork of the other.
func (s *State) forkFormula(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[forkArgs](args)
	if no != nil {
		return nil, nil, no
	}
	_, r, no := s.asked(a.Formula, a.Revision, "open the formula again and start the variant from there")
	if no != nil {
		return nil, nil, no
	}
	b := r.read()
	if b == nil {
		return nil, nil, refuse("revision unknown", "revision", "this revision cannot be read by this program", "update the app")
	}
	name := strings.TrimSpace(a.Name)
	switch {
	case name == "":
		return nil, nil, refuse("name missing", "name", "the variant has no name", "give it one that tells it from "+b.Name)
	case strings.EqualFold(name, b.Name):
		return nil, nil, refuse("name taken", "name", "the variant has the name of the formula that it comes from", "give it one that tells it from "+b.Name)
	}
	if had := s.variantNamed(a.Formula, r.from.ref, name); had != "" {
		return nil, keyValue{had}, nil // the key was pressed twice
	}
	b.Key = (&drawer{seed: ctx.Rand}).key(8, s.matterKeyTaken)
	b.Parent, b.Also, b.Name, b.Lineage, b.LineageRev = Ref{}, nil, name, a.Formula, r.from.ref
	d, no := draft(KindFormulaSaved, b)
	if no != nil {
		return nil, nil, no
	}
	return []Draft{d}, keyValue{b.Key}, nil
}

// variantNamed is a variant of a revision that was made under this name.
func (s *State) variantNamed(origin string, ref Ref, name string) string {
	found := ""
	s.formulas.each(func(k string, f *formula) bool {
		if b := f.revs[0].read(); b != nil && b.Lineage == origin && b.LineageRev == ref && b.Name == name {
			found = k
		}
		return found == ""
	})
	return found
}
