package calc

import "github.com/shopspring/decimal"

// Container is what a jar can hold: millilitres to the brim in thousandths.
type Container struct {
	Name       string
	BrimMicroL int64
}

// FillFit says whether a fill fits a container.
type FillFit struct {
	NeedsMicroL int64
	HoldsMicroL int64
	Holds       Mass // what the brim holds at this density
	Comfortable Mass // 0.95 of it
	Share       decimal.Decimal
	Says        string
	Findings    []Finding
}

// BatchMade is what one finished batch says of itself.
type BatchMade struct {
	Code          string
	Made          Mass // weighed in
	Filled        Mass // sum of the jars
	JarsExpected  int
	JarsMade      int
	MgPerML       int64 // density after whipping, before grit; 0 when not measured
	MgPerMLBefore int64 // density before whipping; 0 when not measured
}

// YieldAnswer is the yield of one batch.
type YieldAnswer struct {
	Loss          decimal.Decimal // per cent of what was weighed in
	OverrunKnown  bool
	OverrunVolume decimal.Decimal
	OverrunWeight decimal.Decimal
	JarsExpected  int
	JarsMade      int
	Says          string
	Findings      []Finding
}

// Forecast is what earlier batches of the same formula suggest; N 0 means that nothing is known.
type Forecast struct {
	LossN, DensityN int
	Loss            Percent
	MgPerML         int64
	Says            string
}
