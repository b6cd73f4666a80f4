package book

// BatchStarted is the plan of one making, with the target of every line as it was worked out then: a later program
// that rounds in another way must not change what someone was told to weigh.
type BatchStarted struct {
	Key       string // 5 Crockford characters, the first half of its jars' codes
	Code      string // what people write on lids: 261125-B2
	Formula   string
	Revision  Ref
	Purpose   string // trial, sale, gift, class, own use
	Plan      Plan
	Mass      int64 // mg to be weighed in all
	Targets   []Target
	Day       int64 // local day that it was started
	Letter    string
	Count     int64  // how many this device had started that day, with this one
	Parent    string // batch that this one is a part of
	Part      string // name of the part
	PartMass  int64  // mg taken from the parent
	Container string
}

func (b *BatchStarted) visit(v visitor) {
	v.text("key", &b.Key, maxKey)
	v.text("code", &b.Code, maxKey)
	v.text("formula", &b.Formula, maxKey)
	v.ref("revision", &b.Revision)
	v.text("purpose", &b.Purpose, maxKey)
	b.Plan.visit(v)
	v.whole("mass", &b.Mass, 0, maxWhole)
	list(v, "targets", &b.Targets, 400)
	v.whole("day", &b.Day, 0, maxDay)
	v.text("letter", &b.Letter, 4)
	v.whole("count", &b.Count, 0, 100000)
	v.text("parent", &b.Parent, maxKey)
	v.text("part", &b.Part, maxName)
	v.whole("partMass", &b.PartMass, 0, maxWhole)
	v.text("container", &b.Container, maxKey)
}

// Target is what a line of the plan weighs, in mg.
type Target struct {
	Line string
	Mass int64
}

func (t *Target) visit(v visitor) {
	v.text("line", &t.Line, maxKey)
	v.whole("mass", &t.Mass, 0, maxWhole)
}

// BatchWeighed is one weighing into a batch. Several on one line add up.
type BatchWeighed struct {
	Batch      string
	Line       string // line of the formula, "" for what the formula does not name
	Lot        string // "" when no lot was said
	Mass       int64  // mg; negative when something was taken out again
	AsPlanned  bool   // the key "scale reads …" was used, nothing was typed
	More       bool   // the line is not finished with this weighing
	Text       string // as typed
	Ingredient string // of an addition that the formula does not name
	Phase      string // that it was added in, when the formula does not name it
	Why        string // of an addition: for the pH, to top up, a rescue
	Solution   int64  // mg of the solution that it went in with, 0 when it was weighed as it is
}

func (b *BatchWeighed) visit(v visitor) {
	v.text("batch", &b.Batch, maxKey)
	v.text("line", &b.Line, maxKey)
	v.text("lot", &b.Lot, maxKey)
	v.whole("mass", &b.Mass, -maxWhole, maxWhole)
	v.flag("asPlanned", &b.AsPlanned)
	v.flag("more", &b.More)
	v.text("text", &b.Text, maxKey)
	v.text("ingredient", &b.Ingredient, maxKey)
	v.text("phase", &b.Phase, 4)
	v.text("why", &b.Why, maxText)
	v.whole("solution", &b.Solution, 0, maxWhole)
}

// BatchRead is one measured value. Value is in thousandths: m°C for a temperature, 0.001 for a pH, mg/mL for a density, mg for the net mass of a jar.
type BatchRead struct {
	Batch      string
	What       string // temperature, ph, density, net
	Value      int64
	Unit       string // as entered: C, F
	Text       string // as entered
	Phase      string
	Method     string // strip, meter, probe
	Dilution   int64  // 0.0001 % of product in distilled water, 0 for neat
	Calibrated int64  // day, 0 when not said
	Step       int64  // smallest step of the strip or meter, thousandths, 0 when not said
	Sample     int64  // m°C of what a pH was read in
	SampleText string // as entered, "" when not said
	Stage      string // of a density: before whipping, whipped, with grit
	Empty      int64  // mg of the empty cup or jar, 0 when the density or net mass was typed
	Full       int64  // mg of it with what is in it
	Volume     int64  // microlitres that the cup holds
	Jar        int64  // number of the jar whose net mass it is, 0 for anything else
}

func (b *BatchRead) visit(v visitor) {
	v.text("batch", &b.Batch, maxKey)
	v.text("what", &b.What, maxKey)
	v.whole("value", &b.Value, -maxWhole, maxWhole)
	v.text("unit", &b.Unit, maxKey)
	v.text("text", &b.Text, maxKey)
	v.text("phase", &b.Phase, 4)
	v.text("method", &b.Method, maxName)
	v.whole("dilution", &b.Dilution, 0, 1000000)
	v.whole("calibrated", &b.Calibrated, 0, maxDay)
	v.whole("step", &b.Step, 0, maxWhole)
	v.whole("sample", &b.Sample, -273150, maxMilliC)
	v.text("sampleText", &b.SampleText, maxKey)
	v.text("stage", &b.Stage, maxKey)
	v.whole("empty", &b.Empty, 0, maxWhole)
	v.whole("full", &b.Full, 0, maxWhole)
	v.whole("volume", &b.Volume, 0, maxWhole)
	v.whole("jar", &b.Jar, 0, maxJars)
}

// BatchTreated says that a phase was treated as its formula asks.
type BatchTreated struct{ Batch, Phase, Do, Says string }

func (b *BatchTreated) visit(v visitor) {
	v.text("batch", &b.Batch, maxKey)
	v.text("phase", &b.Phase, 4)
	v.text("do", &b.Do, maxKey)
	v.text("says", &b.Says, maxText)
}

// BatchWore says that protective equipment is on, before the step that needs it.
type BatchWore struct{ Batch, Phase, Line, Says string }

func (b *BatchWore) visit(v visitor) {
	v.text("batch", &b.Batch, maxKey)
	v.text("phase", &b.Phase, 4)
	v.text("line", &b.Line, maxKey)
	v.text("says", &b.Says, maxText)
}

// BatchNoted is a note in words. A way out of too much of something is a note as well, with what it changes, and so is
// a trial of what brings a sample to its pH, with its points.
type BatchNoted struct {
	Batch      string
	Text       string
	Way        string       // accept, scale up, ph trial, or words: why questioned words may be printed; "" for a plain note
	Targets    []Target     // scale up: the new plan, line by line; accept: the masses that were accepted
	Ingredient string       // of a trial: the acid or base
	Strength   int64        // 0.0001 % of it in water, 1000000 for undiluted
	Sample     int64        // mg of product that was tried on
	Pot        int64        // mg that the trial is scaled to
	Low        int64        // thousandths of a pH: the least that is wanted
	High       int64        // the most
	Reads      int64        // smallest step of strip or meter, thousandths, 0 when not said
	Points     []TrialPoint // the first without any of it
	Words      []Questioned // that a reason for printing was given for; none in books before it was kept
}

func (b *BatchNoted) visit(v visitor) {
	v.text("batch", &b.Batch, maxKey)
	v.text("text", &b.Text, maxText)
	v.text("way", &b.Way, maxKey)
	list(v, "targets", &b.Targets, 400)
	v.text("ingredient", &b.Ingredient, maxKey)
	v.whole("strength", &b.Strength, 0, 1000000)
	v.whole("sample", &b.Sample, 0, maxWhole)
	v.whole("pot", &b.Pot, 0, maxWhole)
	v.whole("low", &b.Low, 0, 14000)
	v.whole("high", &b.High, 0, 14000)
	v.whole("reads", &b.Reads, 0, maxWhole)
	list(v, "points", &b.Points, 40)
	list(v, "words", &b.Words, 40)
}

// Questioned is a word of a label that is printed for a reason, in lower case.
type Questioned struct{ Word string }

func (q *Questioned) visit(v visitor) { v.text("word", &q.Word, maxKey) }

// TrialPoint is how much of a solution was in a sample in all, in mg, and the pH that it had then, in thousandths.
type TrialPoint struct{ Added, PH int64 }

func (p *TrialPoint) visit(v visitor) {
	v.whole("added", &p.Added, 0, maxWhole)
	v.whole("ph", &p.PH, 0, 14000)
}

// BatchFilled ends the making. It holds all that its shelf half says, so that the half can be written again if cut.
type BatchFilled struct {
	Batch string
	Jars  int64
	Place string
	Note  string
	Net   int64    // mg in each, as planned
	Keys  []JarRun // the keys and how many jars each names
	Day   int64    // local day
	Best  int64    // best before, day, 0 when not known
	Word  string   // jar, bottle, tin, bar, pouch
	Lots  int64    // how many lots' expiries best before was taken from
}

func (b *BatchFilled) visit(v visitor) {
	v.text("batch", &b.Batch, maxKey)
	v.whole("jars", &b.Jars, 0, maxJars)
	v.text("place", &b.Place, maxKey)
	v.text("note", &b.Note, maxText)
	v.whole("net", &b.Net, 0, maxWhole)
	list(v, "keys", &b.Keys, 200)
	v.whole("day", &b.Day, 0, maxDay)
	v.whole("best", &b.Best, 0, maxDay)
	v.text("word", &b.Word, maxKey)
	v.whole("lots", &b.Lots, 0, maxWhole)
}

// BatchState moves a batch between resting, held, released and discarded.
type BatchState struct {
	Batch, State, Reason, By, Looked string
	// ForSale releases a trial for sale, on purpose and with a reason; released without it, a trial stays one.
	ForSale bool
}

func (b *BatchState) visit(v visitor) {
	v.text("batch", &b.Batch, maxKey)
	v.text("state", &b.State, maxKey)
	v.text("reason", &b.Reason, maxText)
	v.text("by", &b.By, maxName)
	v.text("looked", &b.Looked, maxText)
	v.flag("forSale", &b.ForSale)
}
