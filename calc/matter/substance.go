package matter

// Charge is the class of charge that a substance shows in water.
type Charge string

// The classes. A cationic polymer is told apart, because in much anionic surfactant it is used on purpose.
const (
	ChargeNone      Charge = "none"
	Anionic         Charge = "anionic"
	Cationic        Charge = "cationic"
	CationicPolymer Charge = "cationic polymer"
	Amphoteric      Charge = "amphoteric"
	NonIonic        Charge = "non-ionic"
)

// Substance is what an INCI name stands for: limits, charge and the order on a label attach to it.
type Substance struct {
	INCI string `json:"inci"`
	// Charge and where that class is said.
	Charge     Charge `json:"charge"`
	ChargeFrom Cite   `json:"chargeFrom"`
	// Functions of the substance itself: "preservative", "surfactant", "water", "antioxidant", "humectant", "solvent", "booster".
	Functions []string `json:"functions"`
	// Keeping says what the substance does for keeping: "preservative", "not counted" (K1: taken for one and is none), or "".
	Keeping     string `json:"keeping,omitempty"`
	KeepingFrom Cite   `json:"keepingFrom"`
	// KeepingWhy is the reason in a few words when it is not counted.
	KeepingWhy string `json:"keepingWhy,omitempty"`
}

// Does tells whether the substance has the function.
func (s *Substance) Does(function string) bool {
	for _, f := range s.Functions {
		if f == function {
			return true
		}
	}
	return false
}
