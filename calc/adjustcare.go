package calc

// AdjustCare is what to put on and what to know before a pH is adjusted with an ingredient; nil, or one without hazards in its data,
// still asks for goggles, since every acid and every base stings an eye.
func AdjustCare(with *Ingredient) []Finding {
	wear := Finding{Rule: "adjust-wear", Level: Wear, Says: "acids and bases burn eyes and skin", Do: "goggles and gloves on; pour it into water, never water into it; no children and no pets near",
		Source: "acid and lye into water: common practice"}
	if with != nil {
		for _, h := range with.Hazards {
			if h.Kind == "corrosive" || h.Kind == "eye" || h.Kind == "skin" {
				wear.Subject, wear.Says, wear.Source = with.Key, with.Name+": "+h.Says, h.Cite.String()+"; into water: common practice"
				break
			}
		}
	}
	return []Finding{wear,
		{Rule: "adjust-strip-colour", Level: Note, Says: "a strip cannot be read in foam or in a coloured product, and acid costs foam its air", Source: "common practice",
			Do: "adjust before whipping and before the colour; else take a meter, or thin every sample alike with distilled water"},
		{Rule: "adjust-sample", Level: Note, Says: "the sample of a trial holds more acid or base than the batch will", Source: "common practice", Do: "throw it away, and do not pour it back"}}
}

// Brings tells which way an ingredient moves a pH by what its data say of it as supplied: "down", "up", or "" when they do not say.
func Brings(with *Ingredient) string {
	switch p := with.PHSupplied; {
	case p == nil || !does(with, "pH adjuster"):
		return ""
	case p.High <= 400:
		return "down"
	case p.Low >= 1000:
		return "up"
	}
	return ""
}
