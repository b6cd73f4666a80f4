package calc

import "encoding/hex"

type askCodes struct {
	// Read is a code as typed or scanned.
	Read string `json:"read"`
	// Key with count and from asks for the codes of a batch's jars.
	Key   string `json:"key"`
	Count int    `json:"count"`
	From  int    `json:"from"`
	// Draw is hexadecimal random bytes, one for each character of a key.
	Draw string `json:"draw"`
	// Check asks for the check character of a body of 0-9 and A-Z.
	Check string `json:"check"`
	// Date (YYYY-MM-DD), letter and number ask for a batch code.
	Date   string `json:"date"`
	Letter string `json:"letter"`
	Number int    `json:"number"`
}

type codesAnswer struct {
	Code  string   `json:"code,omitempty"`
	Shown string   `json:"shown,omitempty"`
	Key   string   `json:"key,omitempty"`
	Jar   int      `json:"jar,omitempty"`
	How   string   `json:"how,omitempty"`
	Codes []string `json:"codes,omitempty"`
	Check string   `json:"check,omitempty"`
	Batch string   `json:"batch,omitempty"`
}

const exampleCodes = `{
  "key": "7K3QX",
  "count": 3,
  "from": 1
}
`

func doCodes(request []byte) (any, *FieldError) {
	var ask askCodes
	if err := strict(request, &ask); err != nil {
		return nil, err
	}
	asked := 0
	for _, given := range []bool{ask.Read != "", ask.Key != "", ask.Draw != "", ask.Check != "", ask.Date != ""} {
		if given {
			asked++
		}
	}
	if asked != 1 {
		return nil, &FieldError{Field: "read", Says: "the request asks for none of the codes, or for several at once", Want: "write one of read, key, draw, check or date"}
	}
	switch {
	case ask.Read != "":
		code, how, err := ReadJarCode(ask.Read)
		if err != nil {
			return nil, err.under("read")
		}
		key, n := SplitJarCode(code)
		return codesAnswer{Code: code, Shown: ShowJarCode(code), Key: key, Jar: n, How: how}, nil
	case ask.Key != "":
		return ask.mint()
	case ask.Draw != "":
		raw, e := hex.DecodeString(ask.Draw)
		if e != nil || len(raw) > 64 {
			return nil, &FieldError{Field: "draw", Says: "these are not random bytes in hexadecimal", Want: "two digits for each character, at most 64 characters"}
		}
		return codesAnswer{Key: DrawKey(raw, len(raw))}, nil
	case ask.Check != "":
		c, ok := CheckCharacter(ask.Check)
		if !ok {
			return nil, &FieldError{Field: "check", Says: "“" + short(ask.Check) + "” holds a character that has no value", Want: "write 0-9 and A-Z"}
		}
		return codesAnswer{Check: string(c), Code: ask.Check + string(c)}, nil
	}
	return ask.batch()
}

func (a *askCodes) mint() (any, *FieldError) {
	if !isKey(a.Key) {
		return nil, &FieldError{Field: "key", Says: "“" + short(a.Key) + "” is not a batch key", Want: "five of " + crockford}
	}
	if a.Count < 1 || a.Count > jarsPerKey {
		return nil, &FieldError{Field: "count", Says: "that many jars have no codes under one key", Want: "1 to 1024"}
	}
	out := codesAnswer{Key: a.Key}
	for _, n := range JarNumbers(a.Key, a.Count, a.From) {
		code, err := JarCode(a.Key, n)
		if err != nil {
			return nil, err
		}
		out.Codes = append(out.Codes, ShowJarCode(code))
	}
	if len(out.Codes) < a.Count {
		return nil, &FieldError{Field: "count", Says: "the key's numbers run out", Want: "ask for fewer, and draw a second key for the rest"}
	}
	return out, nil
}

func (a *askCodes) batch() (any, *FieldError) {
	wrong := &FieldError{Field: "date", Says: "“" + short(a.Date) + "” is not a date", Want: "write YYYY-MM-DD"}
	if len(a.Date) != 10 || a.Date[4] != '-' || a.Date[7] != '-' {
		return nil, wrong
	}
	var part [3]int
	for i, text := range []string{a.Date[:4], a.Date[5:7], a.Date[8:]} {
		for _, c := range []byte(text) {
			if c < '0' || c > '9' {
				return nil, wrong
			}
			part[i] = part[i]*10 + int(c-'0')
		}
	}
	if part[1] < 1 || part[1] > 12 || part[2] < 1 || part[2] > 31 {
		return nil, wrong
	}
	if len(a.Letter) != 1 || a.Letter[0] < 'A' || a.Letter[0] > 'Z' || a.Number < 1 {
		return nil, &FieldError{Field: "letter", Says: "the device's letter or the number is missing", Want: "a letter A to Z and a number of 1 or more"}
	}
	return codesAnswer{Batch: BatchCode(part[0], part[1], part[2], a.Letter, a.Number)}, nil
}
