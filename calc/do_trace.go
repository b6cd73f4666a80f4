package calc

type askTrace struct {
	Lots    []TraceLot   `json:"lots"`
	Batches []TraceBatch `json:"batches"`
	Jars    []TraceJar   `json:"jars"`
	// One of these says where the walk starts.
	Jar   string `json:"jar"`
	Batch string `json:"batch"`
	Lot   string `json:"lot"`
}

const exampleTrace = `{
  "lots": [
    {"key": "L1", "code": "G-17", "ingredient": "glycerin", "supplier": "Harbour Supplies", "supplierLot": "88-1", "fromBatch": ""},
    {"key": "L2", "code": "BASE-1", "ingredient": "whipped base", "supplier": "", "supplierLot": "", "fromBatch": "BASE0"}
  ],
  "batches": [
    {"key": "BASE0", "code": "261120-B1", "parent": "", "lots": ["L1"]},
    {"key": "7K3QX", "code": "261125-B2", "parent": "", "lots": ["L2"]}
  ],
  "jars": [
    {"code": "7K3QX01J", "batch": "7K3QX", "place": "home"},
    {"code": "7K3QX02H", "batch": "7K3QX", "place": "stall"}
  ],
  "lot": "L1"
}
`

func doTrace(request []byte) (any, *FieldError) {
	var ask askTrace
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	b := TraceBook{ask.Lots, ask.Batches, ask.Jars}
	var t Traced
	var err *FieldError
	switch {
	case ask.Jar != "" && ask.Batch == "" && ask.Lot == "":
		t, err = TraceBack(b, ask.Jar)
	case ask.Batch != "" && ask.Jar == "" && ask.Lot == "":
		t, err = TraceBatchBack(b, ask.Batch)
	case ask.Lot != "" && ask.Jar == "" && ask.Batch == "":
		t, err = TraceForward(b, ask.Lot)
	default:
		err = &FieldError{Field: "lot", Says: "where the walk starts is not said, or said twice", Want: "write one of jar, batch or lot"}
	}
	if err != nil {
		return nil, err
	}
	return t, nil
}
