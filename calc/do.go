package calc

import (
	"bytes"
	"encoding/json"
)

// Name is one computation behind the door, with a line that says what it is for.
type Name struct {
	Name string `json:"name"`
	Line string `json:"line"`
}

type computation struct {
	name, line, example string
	run                 func(request []byte) (any, *FieldError)
}

// computations in alphabetical order.
func computations() []computation {
	return []computation{
		{"adjustph", "from a trial on a weighed sample to the grams that the batch takes", exampleAdjustPH, doAdjustPH},
		{"ageing", "drift by condition and method, what is due next, and two variants compared blind", exampleAgeing, doAgeing},
		{"aim", "the nearest formula that meets targets, or which of them cannot be met and by how much", exampleAim, doAim},
		{"allergens", "the allergens of scents, summed over every source, against the thresholds of a label", exampleAllergens, doAllergens},
		{"challenge", "a laboratory's counts against the criteria of a challenge test, in logs", exampleChallenge, doChallenge},
		{"charge", "anionic with cationic, both lines named", exampleCharge, doCharge},
		{"classsheet", "a class: grams for each learner, the shopping list, why each line is there, what to wear", exampleClassSheet, doClassSheet},
		{"codes", "draw, make and read jar codes and batch codes; check characters", exampleCodes, doCodes},
		{"combine", "how warm two pots are once poured together, and whether a fat may set", exampleCombine, doCombine},
		{"cool", "minutes until the pot is cool enough for the next addition, with an honest ±", exampleCool, doCool},
		{"cost", "what a batch and a jar cost, by moving average or FIFO; price, and how many jars pay for a stall", exampleCost, doCost},
		{"emulsion", "what holds the oil: HLB asked for and had, a wax's share of the oil, or solubiliser to oil", exampleEmulsion, doEmulsion},
		{"fillcheck", "weighed jars against the label: average system, minimum system, or the US tests", exampleFillCheck, doFillCheck},
		{"fragrance", "a scent against its certificate, by the category of the product", exampleFragrance, doFragrance},
		{"fromgrams", "a recipe in g, oz, lb, mL, spoons or drops to percentages", exampleFromGrams, doFromGrams},
		{"grit", "how much of a soluble grit the free water can dissolve, at most and in time", exampleGrit, doGrit},
		{"gs1", "the check digit of a GTIN, and a GS1 Digital Link where the maker has a GTIN", exampleGS1, doGS1},
		{"hazards", "what to wear before a step", exampleHazards, doHazards},
		{"heat", "what does not stand a phase's heat, what does not melt in it, and what can catch fire", exampleHeat, doHeat},
		{"ingredientlist", "the ingredient list from what went in, for the EU, the UK or the US", exampleIngredientList, doIngredientList},
		{"labelcontent", "net contents, heights, dates, cautions and what is missing of a label", exampleLabel, doLabel},
		{"lawtables", "what each table of law covers, from when it is, how its rows were come by, and what is not in it", exampleLawTables, doLawTables},
		{"limits", "what the tables of law say for the EU, the UK and the US, and what stands in none of them", exampleLimits, doLimits},
		{"notebook", "lines of a notebook, in any order and unit, to a formula in per cent", exampleNotebook, doNotebook},
		{"phruler", "one ruler of pH 3 to 10: a bar for each line that cares, the overlap, the preservative's working share", examplePHRuler, doPHRuler},
		{"pack", "whether a pack and its closure stand the product, and whether it sank overnight", examplePack, doPack},
		{"preservation", "water, preservative, range, law, pH and heat", examplePreservation, doPreservation},
		{"printed", "the ingredient list and the cautions as they will be printed, for the EU or UK and the US side by side", examplePrinted, doPrinted},
		{"qr", "modules of a code, and how small it may be printed", exampleQR, doQR},
		{"readcsv", "formulas from a spreadsheet's CSV in per cent or by mass, with the place of whatever cannot be used", exampleReadCSV, doReadCSV},
		{"rescue", "too much went in: take it back, accept it, scale up or discard", exampleRescue, doRescue},
		{"scale", "percentages to grams on a scale's grid, for a mass or for jars with loss", exampleScale, doScale},
		{"sheet", "all that follows from a formula as typed", exampleSheet, doSheet},
		{"shelflife", "best before: made + stated life, not past the earliest lot; months after opening", exampleShelfLife, doShelfLife},
		{"smallest", "what the scale can say of each line, and the ways out where that is too little", exampleSmallest, doSmallest},
		{"solutionph", "pH of acids, their salts and bases in clean water, always an estimate", exampleSolutionPH, doSolutionPH},
		{"stock", "on hand by lot and place from movements and counts, in any order of arrival", exampleStock, doStock},
		{"surfactant", "active matter by class, and the one window of pH in which every line keeps", exampleSurfactant, doSurfactant},
		{"swap", "one ingredient for another, with the same active matter, oil, function or mass; water takes the difference", exampleSwap, doSwap},
		{"takeapart", "bases in bases, down to ingredients as supplied and to substances", exampleTakeApart, doTakeApart},
		{"topup", "water lost or taken in while heating, and what stayed in a poured vessel", exampleTopUp, doTopUp},
		{"total", "exact sum, the q.s. line, air under the rim or what stands over it", exampleTotal, doTotal},
		{"trace", "jar to batch to lots to suppliers, and a lot to every jar, at any depth", exampleTrace, doTrace},
		{"units", "g, kg, oz, lb, mL, fl oz, °C and °F by exact definition", exampleUnits, doUnits},
		{"wateractivity", "an estimate of how much of the water microbes can use, and the marks of a low-risk product", exampleWaterActivity, doWaterActivity},
		{"yield", "does the fill fit the jar; loss, density and overrun, and what earlier batches suggest", exampleYield, doYield},
	}
}

func find(name string) (computation, *FieldError) {
	all := computations()
	names := make([]string, len(all))
	for i, c := range all {
		if c.name == name {
			return c, nil
		}
		names[i] = c.name
	}
	return computation{}, &FieldError{Field: "name", Says: "there is no computation “" + short(name) + "”", Want: "one of " + list(names)}
}

// Names lists the computations in alphabetical order.
func Names() []Name {
	var out []Name
	for _, c := range computations() {
		out = append(out, Name{c.name, c.line})
	}
	return out
}

// Example gives a worked request for a computation, as Do takes it.
func Example(name string) ([]byte, error) {
	c, err := find(name)
	if err != nil {
		return nil, err
	}
	return []byte(c.example), nil
}

// Do runs a computation by name on a strict JSON request of at most 1 MiB: unknown and repeated fields are refused. An error is always a
// *FieldError that names the field, says what was wrong and what would be right. The response is JSON, indented, ended by a newline.
func Do(name string, request []byte) ([]byte, error) {
	c, err := find(name)
	if err != nil {
		return nil, err
	}
	value, err := c.run(request)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	enc := json.NewEncoder(&out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if e := enc.Encode(value); e != nil {
		return nil, &FieldError{Says: "the answer could not be written: " + e.Error(), Want: "this is a fault of the program, not of the request"}
	}
	return out.Bytes(), nil
}
