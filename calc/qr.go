package calc

import (
	"strconv"

	"rsc.io/qr/coding"

	"stillroom/calc/matter"
)

const (
	quietModules = 4   // each side, ISO/IEC 18004 (read)
	smallestUM   = 400 // µm a module: the retail range starts at 0.396 mm (gs1uk.org; read), and a home printer is no better
)

// QR gives the modules of a payload at recovery level M (true is dark, without quiet zone), its version, and the smallest size in mm that
// it may be printed at: (17 + 4·version + 8 modules of quiet zone) × 0.4 mm. A payload is 1 to 500 bytes, so that it can still be scanned
// from a jar.
func QR(payload string) (modules [][]bool, version int, minMM string, err *FieldError) {
	if payload == "" || len(payload) > 500 {
		return nil, 0, "", &FieldError{Field: "payload", Says: "a code on a jar cannot hold " + strconv.Itoa(len(payload)) + " bytes", Want: "1 to 500 bytes"}
	}
	code, e := drawQR(payload)
	if e != nil {
		return nil, 0, "", &FieldError{Field: "payload", Says: "it does not fit into a code: " + e.Error(), Want: "make it shorter"}
	}
	side := len(code) + 2*quietModules
	return code, (len(code) - 17) / 4, matter.Decimals(int64(side*smallestUM), 3, 1), nil
}

// drawQR takes the shortest way to write the payload, the smallest version that holds it, and of the eight masks the one that ISO/IEC 18004
// counts the fewest faults in, so that a camera finds the corners.
func drawQR(payload string) ([][]bool, error) {
	var text coding.Encoding = coding.String(payload)
	if coding.Num(payload).Check() == nil {
		text = coding.Num(payload)
	} else if coding.Alpha(payload).Check() == nil {
		text = coding.Alpha(payload)
	}
	v := coding.Version(coding.MinVersion)
	for v < coding.MaxVersion && text.Bits(v) > v.DataBytes(coding.M)*8 {
		v++
	}
	var best [][]bool
	least := 0
	for mask := range coding.Mask(8) {
		plan, err := coding.NewPlan(v, coding.M, mask)
		if err != nil {
			return nil, err
		}
		code, err := plan.Encode(text)
		if err != nil {
			return nil, err
		}
		m := make([][]bool, code.Size)
		for y := range m {
			m[y] = make([]bool, code.Size)
			for x := range m[y] {
				m[y][x] = code.Black(x, y)
			}
		}
		if faults := faultsOf(m); best == nil || faults < least {
			best, least = m, faults
		}
	}
	return best, nil
}
