package book

import "strings"

// samples are bodies of every kind: a full one with every field set, and others.
func samples() map[uint32][]visitable { return samplesAt(Ref{device(1), 300}) }

// samplesAt are samples that speak of the revision of a formula at r.
func samplesAt(r Ref) map[uint32][]visitable {
	plan := Plan{24, 120000, 40000, 100}
	weighed := &BatchWeighed{Batch: "7K3QX", Line: "g", Lot: "ABCD1234", Mass: 300400, More: true, Text: "300,4", Ingredient: "glycerin", Phase: "C", Why: "for the pH"}
	inner, err := encode(weighed)
	if err != nil {
		panic(err)
	}
	return map[uint32][]visitable{
		KindWorkshopNamed: {&WorkshopNamed{"Salt <Meadow> & Søn", "Mill Cottage\nOsierby", "hello", "EU", true, "EUR"}},
		KindLotReceived: {&LotReceived{"ABCD1234", "glycerin", "G-17", "Halden", "HR 90", 2500000, 20271130, 1980, 20261112, "7K3QX", "mint", 12, "base", 20261113, "2500"},
			&LotReceived{Key: "ABCD1234", Ingredient: "glycerin", Code: "G-17", Mass: 2500000}},
		KindIngredientDefined: {&IngredientDefined{"JJJJ0002", "Dune oat amber", "Avena Sativa Kernel Extract", []Part{{"Aqua", 600000, "yes"}, {"Avena Sativa Kernel Extract", 400000, ""}}, "none", "water", 400, 650, 5000, 30000, 1040, "100 F", 37778, true, true, "Halden sheet 4", true, 350, 600, []CountsAs{{"water"}, {"plant powder"}}, "IFRA", 51, 20260301, []CategoryMax{{"5A", 3000}, {"9", 14900}}, "65 C", 65000, []AllergenShare{{"Linalool", 312000}}, true, 5000},
			&IngredientDefined{Key: "glycerin", Density: 1255}},
		KindContainerDefined: {&ContainerDefined{"JJJJ0001", "Low tin", "tin", 150000, 42100, "aluminium", "screw lid", 52000, 18000}, &ContainerDefined{Key: "JJJJ0001", Name: "Low tin", Word: "tin"}},
		KindWorkshopChosen:   {&WorkshopChosen{"US", "oz", "F", "USD", 100, 500000}, &WorkshopChosen{Degrees: "F"}},
		KindLotHeld:          {&LotHeld{"ABCD1234", true, "smells of paint"}, &LotHeld{Lot: "ABCD1234"}},
		KindPhotoKept:        {&PhotoKept{"7K3QX", "", strings.Repeat("5a", 32), 212345, 1600, 1200, "look", "a soft ring at the rim"}, &PhotoKept{Formula: "FFFF0001", Photo: strings.Repeat("0", 64), Bytes: 1}},
		KindFormulaSaved: {&FormulaSaved{Key: "FFFF0001", Parent: r, Name: "Whipped base", Wash: "rinse-off", Site: "body", Age: "adults",
			Phases: []Phase{{"A", "heat", "167 F", 75000, 20, "bath"}, {Letter: "B"}, {}},
			Lines:  []Line{{"1", "A", "glycerin", "", Ref{}, 95000, false, "weigh last", true}, {ID: "2", Phase: "B", Base: "FFFF0002", BaseRev: r, QS: true}},
			Plan:   plan, Also: []RefItem{{r}}, Word: "tin", Container: "JJJJ0001", Credit: "Imke", Lineage: "FFFF0009", LineageRev: r, Life: 24, AfterOpen: 12}},
		KindFormulaChallenged: {&FormulaChallenged{"FFFF0001", r, "7K3QX", "Quillback Laboratory", "Q-118", 20261212, "ISO 11930", "counts",
			[]ChallengedOrganism{{"Candida albicans", "yeast", 5600, []ChallengedLog{{7, 4300, false}, {28, 1000, true}}}}, "in the jar that is sold", r, "typed the wrong line"},
			&FormulaChallenged{Formula: "FFFF0001", Revision: r, Form: "reductions"}},
		KindBatchStarted: {&BatchStarted{"7K3QX", "261112-B1", "FFFF0001", r, "sale", plan, 3000000, []Target{{"1", 285000}, {"2", 2715000}}, 20261112, "B", 1, "7K3QY", "mint", 750000, "JJJJ0001"}},
		KindBatchWeighed: {weighed, &BatchWeighed{Batch: "7K3QX", Line: "g", Lot: "ABCD1234", Mass: -1200}, &BatchWeighed{Batch: "7K3QX", Line: "g", Mass: 42300, AsPlanned: true},
			&BatchWeighed{Batch: "7K3QX", Mass: 51, Text: "0.051", Ingredient: "citric-acid", Why: "for the pH", Solution: 5050}},
		KindBatchRead: {&BatchRead{"7K3QX", "temperature", 37778, "F", "100 °F", "C", "probe", 100000, 20261101, 100, 22000, "22 C", "whipped", 21400, 58600, 60000, 0},
			&BatchRead{Batch: "7K3QX", What: "ph", Value: 5600, Text: "5,6"}, &BatchRead{Batch: "7K3QX", What: "net", Value: 120300, Text: "164.3", Empty: 44000, Full: 164300, Jar: 7}},
		KindBatchTreated: {&BatchTreated{"7K3QX", "A", "whip", "eight minutes"}},
		KindBatchWore:    {&BatchWore{"7K3QX", "A", "3", "respirator"}},
		KindBatchNoted: {&BatchNoted{Batch: "7K3QX", Text: "scaled up", Way: wayScaleUp, Targets: []Target{{"1", 285000}, {"2", 2715000}}}, &BatchNoted{Batch: "7K3QX", Text: "soft peaks"},
			&BatchNoted{"7K3QX", "add 24.0 g first", wayTrial, []Target{{"1", 1}}, "citric-acid", 200000, 50000, 1450000, 5200, 5400, 100, []TrialPoint{{0, 6400}, {500, 5900}, {1500, 5100}}, nil},
			&BatchNoted{Batch: "7K3QX", Text: "registered as a medicine", Way: wayWords, Words: []Questioned{{"eczema"}, {"heals"}}}},
		KindBatchFilled:   {&BatchFilled{"7K3QX", 23, "home", "one short", 120000, []JarRun{{"7K3QX", 23}}, 20261112, 20271130, "jar", 4}},
		KindBatchState:    {&BatchState{"7K3QX", Released, "", "Imke", "firm", false}, &BatchState{"7K3QX", Released, "steady", "Imke", "firm", true}},
		KindCorrected:     {&Corrected{r, "cup was on it", int64(KindBatchWeighed), 1, inner}, &Corrected{r, "from a later program", 999, 7, []byte{1, 2, 3}}},
		KindAccepted:      {&Accepted{r, "mine"}},
		KindJarsMinted:    {&JarsMinted{"7K3QX", "261112-B1", "Whipped base", []JarRun{{"7K3QX", 900}, {"8K3QX", 24}}, "home", 120000, 20261112, 20271130, "sale", "jar", "mint", false, r}, &JarsMinted{Batch: "7K3QX", Demo: true}},
		KindPlaceNamed:    {&PlaceNamed{"PPPP0001", "blue crate", "crate", "stall", "C-1", false}, &PlaceNamed{Key: "home", Name: "home", What: "home", Demo: true}},
		KindCardPublished: {&CardPublished{"7K3QX", "261112-B1", "Whipped base", "Aqua, Glycerin", 20261112, 20271130, 120000, []Caution{{"keep out of eyes"}}, "Saltmeadow", "Osierby", "hello", 6}},
		KindBatchBarred:   {&BatchBarred{"7K3QX", true, Held, "sunk", false}, &BatchBarred{Batch: "7K3QX", State: Released, Reason: "steady", ForSale: true}},
		KindBatchLooked:   {&BatchLooked{"7K3QX", "firmer", "paler", "good", "sunk", "drops", 5600, "soft in the middle", 20261113, "meter", 100000, "more", "softer"}, &BatchLooked{Batch: "7K3QX"}},
		KindBatchAged: {&BatchAged{"7K3QX", 20261212, "warm", 5420, "5,42", "meter", 100000, 10, 22000, "22 °C", 161400, "161.4", 100, 860, "0,86", []AgedWord{{"fluff", "less"}, {"colour", "deeper"}}, "beads at the rim"},
			&BatchAged{Batch: "7K3QX", Day: 20261120, Condition: "room", Mass: 161500, MassText: "161.5"}},
		KindStoreBegan:     {&StoreBegan{1764237600000}, &StoreBegan{}},
		KindDemoRemoved:    {&DemoRemoved{device(9).String()}},
		KindShelfDemoGone:  {&DemoRemoved{device(9).String()}},
		KindJarMoved:       {&JarMoved{"7K3QX", "home", "stall", 2, []JarItem{{"7K3QX04M"}, {"7K3QX05K"}}, "market"}, &JarMoved{Batch: "7K3QX", From: "home", To: "stall", Count: 12}},
		KindJarCounted:     {&JarCounted{"stall", "7K3QX", 3, 5}, &JarCounted{"stall", "7K3QX", 0, -1}},
		KindSold:           {&Sold{"stall", "Whipped base", "7K3QX", "7K3QX04M", 1, 1200, true, 20261114, []AmongItem{{"PPPP0001"}, {"stall"}}}, &Sold{Place: "stall", Product: "Whipped base", Count: 1}},
		KindPriced:         {&Priced{"Whipped base", 1200, "EUR"}},
		KindShelfCorrected: {&Corrected{Of: r, Reason: "typo", Kind: int64(KindPlaceNamed), V: 1, Body: []byte{0}}},
		KindShelfAccepted:  {&Accepted{Entry: r}},
	}
}
