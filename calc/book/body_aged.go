package book

// BatchAged is one reading of a batch's retained sample as it ages. What was not measured stays zero.
type BatchAged struct {
	Batch       string
	Day         int64  // local day that it was read
	Condition   string // where the sample stands: room, warm (40 °C), cool, window
	PH          int64  // thousandths, 0 when not measured
	PHText      string // as typed: its digits tell how finely it was read
	Method      string // strip, meter
	Dilution    int64  // 0.0001 % of product in distilled water, 0 for neat
	Step        int64  // smallest step of the strip or meter, thousandths, 0 when not said
	Sample      int64  // m°C of what the pH was read in
	SampleText  string // as typed, "" when not said
	Mass        int64  // mg of the sample with its container and lid, 0 when not weighed
	MassText    string
	MassStep    int64 // mg that the scale shows, 0 when not said
	Density     int64 // mg/mL, 0 when not measured
	DensityText string
	Words       []AgedWord
	Note        string
}

func (b *BatchAged) visit(v visitor) {
	v.text("batch", &b.Batch, maxKey)
	v.whole("day", &b.Day, 0, maxDay)
	v.text("condition", &b.Condition, maxKey)
	v.whole("ph", &b.PH, 0, 14000)
	v.text("phText", &b.PHText, maxKey)
	v.text("method", &b.Method, maxKey)
	v.whole("dilution", &b.Dilution, 0, 1000000)
	v.whole("step", &b.Step, 0, maxWhole)
	v.whole("sample", &b.Sample, -273150, maxMilliC)
	v.text("sampleText", &b.SampleText, maxKey)
	v.whole("mass", &b.Mass, 0, maxWhole)
	v.text("massText", &b.MassText, maxKey)
	v.whole("massStep", &b.MassStep, 0, maxWhole)
	v.whole("density", &b.Density, 0, 25000)
	v.text("densityText", &b.DensityText, maxKey)
	list(v, "words", &b.Words, 24)
	v.text("note", &b.Note, maxText)
}

// AgedWord is what the eye, the nose or the hand said of one thing, beside how it was when it was filled.
type AgedWord struct {
	Of   string `json:"of"`
	Word string `json:"word"`
}

func (w *AgedWord) visit(v visitor) {
	v.text("of", &w.Of, maxKey)
	v.text("word", &w.Word, maxKey)
}
