package law

// In tells whether a row speaks for a region.
func (s *Scope) In(region string) bool { return oneOf(region, s.Regions...) }

// Meets tells whether a row applies to a product of this kind, for this site and this age. An age that was not said counts as adults.
func (s *Scope) Meets(wash, site, age string) bool {
	if age == "" {
		age = "adults"
	}
	return (s.Wash == "" || s.Wash == wash) && (len(s.Sites) == 0 || oneOf(site, s.Sites...) != s.NotSites) && (s.Age == "" || (s.Age == age) != s.NotAge)
}

// Says is the scope in words, "" when it is every product.
func (s *Scope) Says() string {
	out := ""
	add := func(words string) {
		if out != "" {
			out += ", "
		}
		out += words
	}
	switch s.Wash {
	case "rinse-off":
		add("rinsed off")
	case "leave-on":
		add("left on")
	}
	if len(s.Sites) > 0 {
		where := "for "
		if s.NotSites {
			where = "not for "
		}
		for i, x := range s.Sites {
			if i > 0 {
				where += " or "
			}
			where += x
		}
		add(where)
	}
	if s.Age != "" && !s.NotAge {
		add("for " + s.Age)
	}
	return out
}
