package calc

import "github.com/shopspring/decimal"

// Degrees is a temperature as entered: exact thousandths of °C, and the unit and words that it was entered in.
type Degrees struct {
	MilliC int64
	// Unit is "C" or "F", as entered.
	Unit string
	// Text is the figure as entered with its unit, for reading back: "100 °F".
	Text string
}

// Totals is the sum of a formula's lines.
type Totals struct {
	Lines    []Line  // as given, with the q.s. line's percent filled in
	Sum      Percent // of all lines, the q.s. line included
	Gap      Percent // 100 − Sum: positive is air under the rim, negative stands over it
	QS       string  // id of the q.s. line, "" for none
	Findings []Finding
}

// Part is one ingredient or substance of a formula taken apart; Percent is exact.
type Part struct {
	Key     string // ingredient key, or INCI of a substance
	Name    string
	Percent decimal.Decimal
	Listed  string   // for substances: yes, no, or not known
	Lines   []string // ids of the formula's own lines that it comes from
}

// Apart is a formula taken apart.
type Apart struct {
	Supplied   []Part
	Substances []Part
}

// ScaleLine is one line to be scaled. Max nil means no maximum; Step 0 means the batch's own step.
type ScaleLine struct {
	ID      string
	Percent Percent
	QS      bool
	Max     *Percent
	Step    Mass
}

// ScaledLine is one line in grams on its scale.
type ScaledLine struct {
	ID    string
	Mass  Mass
	Step  Mass
	Exact decimal.Decimal // grams before rounding
	True  decimal.Decimal // per cent after rounding, to 0.0001
	Error decimal.Decimal // relative error in per cent, to 0.01
}

// Scaled is a batch in grams.
type Scaled struct {
	Batch    Mass
	Lines    []ScaledLine
	Findings []Finding
}

// The bodies below come next; the signatures stand.

// ReadPercent reads a share as typed; a comma is accepted as decimal point.
func ReadPercent(text string) (Percent, *FieldError) { return 0, pending() }

// ReadGrams reads a mass in grams as typed.
func ReadGrams(text string) (Mass, *FieldError) { return 0, pending() }

// ReadDegrees reads a temperature as typed, "75", "75 C", "167F"; unit is used when none was typed.
func ReadDegrees(text, unit string) (Degrees, *FieldError) { return Degrees{}, pending() }

// ReadPH reads a pH as typed, in hundredths.
func ReadPH(text string) (int, *FieldError) { return 0, pending() }

// ReadDraft turns a draft into a formula that may be saved: readable, summing to exactly 100, with the q.s. line filled in.
func ReadDraft(d Draft, k Known) (Formula, *FieldError) { return Formula{}, pending() }

// ReadPlan reads how much is to be made.
func ReadPlan(p Plan) (PlanRead, *FieldError) { return PlanRead{}, pending() }

// Total sums lines and fills in the q.s. line.
func Total(lines []Line) Totals { return Totals{} }

// TakeApart expands bases in bases, down to ingredients as supplied and to substances.
func TakeApart(f Formula, k Known) (Apart, *FieldError) { return Apart{}, pending() }

// BatchMass is jars × fill ÷ (1 − loss), rounded to the scale's grid.
func BatchMass(jars int, fill Mass, loss Percent, step Mass) Mass { return 0 }

// Scale turns percentages into grams on the scale's grid.
func Scale(lines []ScaleLine, batch, step Mass) (Scaled, *FieldError) { return Scaled{}, pending() }

// ScaleLines gives a formula's lines ready for Scale, each with the lowest maximum that is known for it.
func ScaleLines(f Formula, k Known) []ScaleLine { return nil }

// Findings runs every check over a formula: charge, preservation, wear and the rest, in the order of its lines.
func Findings(f Formula, k Known, pH int) []Finding { return nil }

// WearBefore gives what to put on before a phase, or one of its lines, is begun.
func WearBefore(f Formula, k Known, phase, line string) []Finding { return nil }

// SheetOf is all that follows from a draft.
func SheetOf(d Draft, k Known) Sheet { return Sheet{} }

// ShowPercentOf shows the sum of a line: "11.00 % of 2,084.2 g: 11 ÷ 100 × 2,084.2 = 229.262, on your scale 229.3".
func ShowPercentOf(p Percent, batch, onScale, step Mass) Figure { return Figure{} }

// DrawKey draws n Crockford characters (no I, L, O, U) from n random bytes.
func DrawKey(rand []byte, n int) string { return "" }

// JarCode is key, number and check character: eight characters.
func JarCode(batchKey string, n int) (string, *FieldError) { return "", pending() }

// JarNumbers gives the next count numbers from from on, passing those whose check character would be I, L, O or U.
func JarNumbers(batchKey string, count, from int) []int { return nil }

// ReadJarCode reads a code as typed or scanned; how says what help it needed.
func ReadJarCode(text string) (code, how string, err *FieldError) { return "", "", pending() }

// ShowJarCode writes a code as printed: 7K3QX-04-M.
func ShowJarCode(code string) string { return "" }

// SplitJarCode gives the batch key and the number of a code that ReadJarCode accepted.
func SplitJarCode(code string) (batchKey string, n int) { return "", 0 }

// BatchCode is date, the device's letter and a count: 261125-B2.
func BatchCode(year, month, day int, letter string, n int) string { return "" }

// QR gives the modules of a payload, its version, and the smallest size in mm that it may be printed at, quiet zone included.
func QR(payload string) (modules [][]bool, version int, minMM string, err *FieldError) {
	return nil, 0, "", pending()
}

func pending() *FieldError { return &FieldError{Says: "not worked out yet"} }

// Name is one computation behind the door, with a line that says what it is for.
type Name struct {
	Name string `json:"name"`
	Line string `json:"line"`
}

// Do runs a computation by name on a strict JSON request.
func Do(name string, request []byte) ([]byte, error) { return nil, pending() }

// Names lists the computations.
func Names() []Name { return nil }

// Example gives a worked request.
func Example(name string) ([]byte, error) { return nil, pending() }
