package calc

import (
	"strconv"

	"github.com/skip2/go-qrcode"

	"stillroom/calc/matter"
)

const (
	quietModules = 4   // each side, ISO/IEC 18004 (read)
	smallestUM   = 400 // µm a module: the retail range starts at 0.396 mm (GS1 UK guidance; read), and a home printer is no better
)

// QR gives the modules of a payload at recovery level M (true is dark, without quiet zone), its version, and the smallest size in mm that
// it may be printed at: (17 + 4·version + 8 modules of quiet zone) × 0.4 mm. A payload is 1 to 500 bytes, so that it can still be scanned
// from a jar.
func QR(payload string) (modules [][]bool, version int, minMM string, err *FieldError) {
	if payload == "" || len(payload) > 500 {
		return nil, 0, "", &FieldError{Field: "payload", Says: "a code on a jar cannot hold " + strconv.Itoa(len(payload)) + " bytes", Want: "1 to 500 bytes"}
	}
	code, e := qrcode.New(payload, qrcode.Medium)
	if e != nil {
		return nil, 0, "", &FieldError{Field: "payload", Says: "it does not fit into a code: " + e.Error(), Want: "make it shorter"}
	}
	code.DisableBorder = true
	modules = code.Bitmap()
	side := len(modules) + 2*quietModules
	return modules, (len(modules) - 17) / 4, matter.Decimals(int64(side*smallestUM), 3, 1), nil
}
