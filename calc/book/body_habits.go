package book

// WorkshopChosen answers the questions of a first run: where she sells, the units she thinks in, her money and her
// scale. What is empty or 0 was skipped.
type WorkshopChosen struct {
	Region     string // EU, UK, US or elsewhere
	Mass       string // g or oz: what stands beside grams
	Degrees    string // C or F: what a figure without a unit is read as
	Money      string // ISO 4217 code
	ScaleStep  int64  // smallest step of her scale, mg
	ScaleHolds int64  // most that her scale can carry, mg
}

func (b *WorkshopChosen) visit(v visitor) {
	v.text("region", &b.Region, maxName)
	v.text("mass", &b.Mass, 2)
	v.text("degrees", &b.Degrees, 1)
	v.text("money", &b.Money, 3)
	v.whole("scaleStep", &b.ScaleStep, 0, maxWhole)
	v.whole("scaleHolds", &b.ScaleHolds, 0, maxWhole)
}
