package given

import (
	"strings"

	"stillroom/calc/matter"
)

// wear is what to put on against a kind of hazard, before the tub is opened.
var wear = map[string]string{
	"airborne powder": "respirator (FFP2, N95 or better) on before the tub is opened, for everyone in the room; fan off, no window across the tub; weigh slowly",
	"eye":             "goggles and gloves on before it is opened",
	"corrosive":       "goggles and gloves on before it is opened; always into the water, never water into it; never with children near",
	"flammable":       "no flame, spark or hot plate in the room; let wiped surfaces dry first",
	"skin":            "gloves on before it is opened; keep it away from a flame or hot plate",
}

const twice = "this stands twice"

// set reads one line of an entry into it and answers what is wrong with it, "" when nothing is.
//
//	words   inci, also (a; b), about, is (a, b), soluble, grade, counts (a, b)
//	figures part 30 INCI[, not listed | , listing not known]; holds 30 INCI; usual 2 to 10; maximum 1.1; ph 4.5 to 6 as supplied;
//	        keeps 5 to 8; highest 100 F; density 1.04; sets 53 to 59 (°C); hlb 15.0; wants 12 (required HLB); vanillin 0 to 2;
//	        flash 46 C; flies, eye, corrosive, skin, flammable: the hazard in a sentence
//
// A figure without "| source" is refused. wants may be said again for each source, since tables differ.
func set(i *matter.Ingredient, word, value string, sources map[string]matter.Cite) string {
	if value == "" {
		return word + " says nothing"
	}
	if text := plain(i, word); text != nil {
		if *text != "" {
			return twice
		}
		if strings.IndexByte(value, '|') >= 0 {
			return word + " takes no source"
		}
		*text = value
		return ""
	}
	switch word {
	case "also", "is", "counts":
		list, by := &i.Also, ";"
		if word == "is" {
			list, by = &i.Functions, ","
		} else if word == "counts" {
			list, by = &i.CountsAs, ","
		}
		if *list != nil {
			return twice
		}
		*list = words(value, by)
		return ""
	}
	at := strings.IndexByte(value, '|')
	if at < 0 {
		return word + ": a figure needs | and where it comes from"
	}
	from, wrong := cite(strings.TrimSpace(value[at+1:]), sources)
	if wrong != "" {
		return wrong
	}
	return figure(i, word, strings.TrimSpace(value[:at]), from)
}

// plain is where a word without a source stands, nil for any other word.
func plain(i *matter.Ingredient, word string) *string {
	switch word {
	case "inci":
		return &i.INCI
	case "about":
		return &i.About
	case "soluble":
		return &i.Soluble
	case "grade":
		return &i.Grade
	}
	return nil
}

func figure(i *matter.Ingredient, word, value string, from matter.Cite) string {
	switch word {
	case "part":
		return part(&i.Composition, value, from)
	case "holds":
		return part(&i.Holds, value, from)
	case "usual":
		low, high, rest, wrong := span(value, 4)
		return once(&i.Usual, matter.Range{Low: matter.Percent(low), High: matter.Percent(high), Cite: from}, wrong+left(rest))
	case "maximum":
		p, ok := fixed(value, 4)
		return once(&i.Maximum, matter.Limit{Percent: matter.Percent(p), Cite: from}, unread(ok, value))
	case "vanillin":
		low, high, rest, wrong := span(value, 4)
		return once(&i.Vanillin, matter.Range{Low: matter.Percent(low), High: matter.Percent(high), Cite: from}, wrong+left(rest))
	case "ph":
		low, high, at, wrong := span(value, 2)
		return once(&i.PHSupplied, matter.PHRange{Low: int(low), High: int(high), At: at, Cite: from}, wrong)
	case "keeps":
		low, high, rest, wrong := span(value, 2)
		return once(&i.PHKeeps, matter.PHRange{Low: int(low), High: int(high), Cite: from}, wrong+left(rest))
	case "highest":
		t, wrong := degrees(value, from)
		return once(&i.Highest, t, wrong)
	case "flash":
		t, wrong := degrees(value, from)
		return once(&i.FlashPoint, t, wrong)
	case "density":
		d, ok := fixed(value, 3)
		return once(&i.Density, matter.Density{MgPerML: d, Cite: from}, unread(ok, value))
	case "sets":
		low, high, rest, wrong := span(value, 3)
		return once(&i.Melts, matter.TemperatureRange{LowMilliC: low, HighMilliC: high, Cite: from}, wrong+left(rest))
	case "hlb", "wants":
		low, high, rest, wrong := span(value, 1)
		if wrong+left(rest) != "" {
			return wrong + left(rest)
		}
		to := &i.HLB
		if word == "wants" {
			to = &i.WantsHLB
		}
		*to = append(*to, matter.HLB{Low: int(low), High: int(high), Cite: from})
		return ""
	case "flies", "eye", "corrosive", "skin", "flammable":
		kind := word
		if word == "flies" {
			kind = "airborne powder"
		}
		i.Hazards = append(i.Hazards, matter.Hazard{Kind: kind, Says: value, Wear: wear[kind], Cite: from})
		return ""
	}
	return "there is no word “" + word + "”"
}

func once[T any](place **T, v T, wrong string) string {
	if wrong != "" {
		return wrong
	}
	if *place != nil {
		return twice
	}
	*place = &v
	return ""
}

func part(to *[]matter.Share, value string, from matter.Cite) string {
	share, inci, _ := strings.Cut(value, " ")
	p, ok := fixed(share, 4)
	s := matter.Share{Percent: matter.Percent(p), Listed: "yes", Cite: from}
	s.INCI, ok = inci, ok && inci != ""
	if named, found := strings.CutSuffix(inci, ", not listed"); found {
		s.INCI, s.Listed = named, "no"
	} else if named, found := strings.CutSuffix(inci, ", listing not known"); found {
		s.INCI, s.Listed = named, ""
	}
	*to = append(*to, s)
	return unread(ok, value)
}

// span reads "2 to 10" or one figure that is both ends, and what stands after it.
func span(value string, places int) (low, high int64, rest, wrong string) {
	first, rest, _ := strings.Cut(value, " ")
	low, ok := fixed(first, places)
	high = low
	if second, found := strings.CutPrefix(rest, "to "); found {
		second, rest, _ = strings.Cut(second, " ")
		var okay bool
		high, okay = fixed(second, places)
		ok = ok && okay
	}
	if !ok || low > high {
		return 0, 0, "", "“" + value + "” is not a range"
	}
	return low, high, rest, ""
}

// degrees reads "100 F" or "40 C"; the words are kept, since 100 °F must stay 100 °F, which is 37.8 °C and never 38.
func degrees(value string, from matter.Cite) (matter.Temperature, string) {
	figure, unit, _ := strings.Cut(value, " ")
	v, ok := fixed(figure, 3)
	switch unit {
	case "C":
	case "F":
		v = ((v-32_000)*5 + 4) / 9 // to the nearest thousandth above 32 °F
	default:
		ok = false
	}
	return matter.Temperature{MilliC: v, Text: value, Cite: from}, unread(ok, value)
}

// fixed reads a plain decimal figure as a whole number of 10^-places; more decimals than that are refused.
func fixed(text string, places int) (int64, bool) {
	whole, frac, point := strings.Cut(text, ".")
	if whole == "" || point && frac == "" || len(frac) > places || len(whole) > 9 {
		return 0, false
	}
	v := int64(0)
	for _, r := range whole + frac {
		if r < '0' || r > '9' {
			return 0, false
		}
		v = v*10 + int64(r-'0')
	}
	for range places - len(frac) {
		v *= 10
	}
	return v, true
}

func unread(ok bool, value string) string {
	if ok {
		return ""
	}
	return "“" + value + "” cannot be read"
}

func left(rest string) string {
	if rest == "" {
		return ""
	}
	return "“" + rest + "” is left over"
}
