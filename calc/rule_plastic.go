package calc

// plasticSays is the ban by region: what, and the source with its mark.
var plasticSays = map[string]struct{ rinsed, left, source string }{
	"EU": {"loose plastic: beads and glitter are banned since 17 October 2023, everything else rinsed off from 17 October 2027",
		"loose plastic: beads and glitter are banned since 17 October 2023, everything else left on from 17 October 2029", "Reg. (EU) 2023/2055, from 0.01 % (read at second hand)"},
	"UK": {"plastic beads in what is rinsed off are banned: made since 9 January 2018, sold since 19 June 2018 (one page says 30 June)", "", "UK regulations on microbeads, England (read at second hand)"},
	"US": {"plastic beads that scrub or clean are banned in what is rinsed off since 1 July 2017", "", "Microbead-Free Waters Act (from memory)"},
}

// rulePlastic (C9): plastic as grit or sparkle.
func rulePlastic(e *evidence) []Finding {
	law := plasticSays[e.k.region()]
	var out []Finding
	for i := range e.apart.Supplied {
		p := &e.apart.Supplied[i]
		ing := e.k.Ingredients[p.Key]
		if ing == nil || !ing.Counts("plastic") || !p.Percent.IsPositive() {
			continue
		}
		f := Finding{Rule: "plastic", Level: Stop, Subject: first(p), Phase: e.phaseOf(first(p)), Says: law.rinsed, Figure: show(p.Percent) + " % " + ing.Name, Limit: "not allowed",
			Source: law.source + "; " + lawDate, Do: "take sugar, salt, ground seeds or a mineral; mica for sparkle"}
		if e.f.Wash == "leave-on" {
			if f.Says = law.left; f.Says == "" {
				continue
			}
		}
		if !does(ing, "grit") && !does(ing, "colour") {
			if e.k.region() != "EU" {
				continue
			}
			f.Level = Care
		}
		out = append(out, f)
	}
	return out
}
