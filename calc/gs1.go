package calc

import "strings"

// GTINCheck is the check digit of a GTIN's other digits (7, 11, 12, 13) or of an SSCC's 17: from the right, weights 3, 1, 3 …; what is left to the next
// ten. GS1 General Specifications.
func GTINCheck(body string) (byte, *FieldError) {
	if len(body) < 7 || len(body) > 17 || !digitsOnly(body) {
		return 0, &FieldError{Field: "check", Says: "“" + short(body) + "” is not the body of a GTIN", Want: "7, 11, 12 or 13 digits (17 for an SSCC), without the check digit"}
	}
	sum := 0
	for i := range len(body) {
		d := int(body[len(body)-1-i] - '0')
		if i%2 == 0 {
			d *= 3
		}
		sum += d
	}
	return byte('0' + (10-sum%10)%10), nil
}

func digitsOnly(s string) bool {
	for _, c := range []byte(s) {
		if c < '0' || c > '9' {
			return false
		}
	}
	return s != ""
}

// GTIN14 pads a GTIN of 8, 12, 13 or 14 digits, check digit included, to 14; a wrong check digit is refused.
func GTIN14(gtin string) (string, *FieldError) {
	switch len(gtin) {
	case 8, 12, 13, 14:
	default:
		return "", &FieldError{Field: "gtin", Says: "“" + short(gtin) + "” has not the length of a GTIN", Want: "8, 12, 13 or 14 digits, from your own GS1 licence"}
	}
	if !digitsOnly(gtin) {
		return "", &FieldError{Field: "gtin", Says: "“" + short(gtin) + "” holds more than digits", Want: "digits only, without spaces"}
	}
	want, err := GTINCheck(gtin[:len(gtin)-1])
	if err != nil {
		return "", err
	}
	if gtin[len(gtin)-1] != want {
		return "", &FieldError{Field: "gtin", Says: "the last digit of " + gtin + " does not fit the others", Want: "read it again from your GS1 papers"}
	}
	return strings.Repeat("0", 14-len(gtin)) + gtin, nil
}

// DigitalLink is what a GS1 Digital Link names. Variant (22), batch (10) and serial (21) are at most 20 characters; dates are YYMMDD.
type DigitalLink struct {
	Host, GTIN, Variant, Batch, Serial string
	Expiry, BestBefore, Made           string
}

// URI writes https://host/01/GTIN-14 with the qualifiers in their fixed order 22, 10, 21, and dates (17, 15, 11) as attributes. What is not a letter,
// a digit or one of -._~ is percent-encoded. A GTIN comes from a licence: none is made up here.
func (d DigitalLink) URI() (string, *FieldError) {
	gtin, err := GTIN14(d.GTIN)
	if err != nil {
		return "", err
	}
	host := strings.TrimSuffix(strings.TrimPrefix(d.Host, "https://"), "/")
	if host == "" {
		host = "id.gs1.org"
	}
	if strings.ContainsAny(host, "?#@ \t\n\"<>") || len(host) > 200 || strings.Contains(host, "://") {
		return "", &FieldError{Field: "host", Says: "“" + short(d.Host) + "” is not an address", Want: "write your own domain, such as https://example.org"}
	}
	uri := "https://" + host + "/01/" + gtin
	for _, q := range []struct{ field, ai, value string }{{"variant", "22", d.Variant}, {"batch", "10", d.Batch}, {"serial", "21", d.Serial}} {
		if q.value == "" {
			continue
		}
		if len(q.value) > 20 || !plainASCII(q.value) {
			return "", &FieldError{Field: q.field, Says: "“" + short(q.value) + "” does not fit into a GS1 code", Want: "at most 20 plain characters, no spaces"}
		}
		uri += "/" + q.ai + "/" + percentEncode(q.value)
	}
	mark := "?"
	for _, a := range []struct{ field, ai, value string }{{"expiry", "17", d.Expiry}, {"bestBefore", "15", d.BestBefore}, {"made", "11", d.Made}} {
		if a.value == "" {
			continue
		}
		if len(a.value) != 6 || !digitsOnly(a.value) || a.value[2:4] < "01" || a.value[2:4] > "12" || a.value[4:] > "31" {
			return "", &FieldError{Field: a.field, Says: "“" + short(a.value) + "” is not a date of this kind", Want: "YYMMDD, with day 00 for the end of the month"}
		}
		uri += mark + a.ai + "=" + a.value
		mark = "&"
	}
	return uri, nil
}

func plainASCII(s string) bool {
	for _, c := range []byte(s) {
		if c <= ' ' || c > '~' {
			return false
		}
	}
	return true
}

func percentEncode(s string) string {
	const hex = "0123456789ABCDEF"
	var b strings.Builder
	for _, c := range []byte(s) {
		if c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || strings.IndexByte("-._~", c) >= 0 {
			b.WriteByte(c)
		} else {
			b.WriteByte('%')
			b.WriteByte(hex[c>>4])
			b.WriteByte(hex[c&15])
		}
	}
	return b.String()
}
