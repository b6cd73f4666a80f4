package calc

type askGS1 struct {
	// Check is the body of a GTIN or SSCC without its check digit.
	Check string `json:"check"`
	// The rest asks for a GS1 Digital Link.
	Host       string `json:"host"`
	GTIN       string `json:"gtin"`
	Variant    string `json:"variant"`
	Batch      string `json:"batch"`
	Serial     string `json:"serial"`
	Expiry     string `json:"expiry"`
	BestBefore string `json:"bestBefore"`
	Made       string `json:"made"`
}

type gs1Answer struct {
	Check     string `json:"check,omitempty"`
	GTIN14    string `json:"gtin14,omitempty"`
	URI       string `json:"uri,omitempty"`
	Length    int    `json:"length,omitempty"`
	Says      string `json:"says"`
	QRVersion int    `json:"qrVersion,omitempty"`
	MinMM     string `json:"minMM,omitempty"`
}

const exampleGS1 = `{
  "gtin": "9521234543213",
  "batch": "ABC123",
  "expiry": "261231"
}
`

func doGS1(request []byte) (any, *FieldError) {
	var ask askGS1
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	if ask.Check != "" {
		c, err := GTINCheck(ask.Check)
		if err != nil {
			return nil, err
		}
		return gs1Answer{Check: string(c), Says: ask.Check + string(c)}, nil
	}
	if ask.GTIN == "" {
		return nil, &FieldError{Field: "gtin", Says: "there is no GTIN", Want: "a GTIN comes with a licence of GS1 and is never made up; without one the jar's own code and your own address do the same work"}
	}
	uri, err := DigitalLink{ask.Host, ask.GTIN, ask.Variant, ask.Batch, ask.Serial, ask.Expiry, ask.BestBefore, ask.Made}.URI()
	if err != nil {
		return nil, err
	}
	padded, err := GTIN14(ask.GTIN)
	if err != nil {
		return nil, err
	}
	out := gs1Answer{GTIN14: padded, URI: uri, Length: len(uri), Says: "a till can read the GTIN of it, a phone opens it as an address"}
	_, version, mm, e := QR(uri)
	if e != nil {
		return nil, &FieldError{Field: "gtin", Says: e.Error(), Want: "shorten the address"}
	}
	out.QRVersion, out.MinMM = version, mm
	return out, nil
}
