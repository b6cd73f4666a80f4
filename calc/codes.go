package calc

import (
	"strconv"
	"strings"
)

// crockford is base 32 without I, L, O and U (Crockford, Base 32; read).
const crockford = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// alphabet36 is the alphabet of ISO 7064 MOD 37,36; its check character is in the same set.
const alphabet36 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"

const (
	keyLength = 5
	// jarsPerKey is how many numbers two Crockford characters give; a batch of more takes a second key.
	jarsPerKey = 32 * 32
)

// DrawKey draws n Crockford characters (no I, L, O, U) from n random bytes; each character takes five bits of its byte, so that all are
// equally likely. With fewer bytes than n it gives as many characters as there are bytes.
func DrawKey(rand []byte, n int) string {
	n = max(0, min(n, len(rand)))
	out := make([]byte, n)
	for i := range out {
		out[i] = crockford[rand[i]&31]
	}
	return string(out)
}

// CheckCharacter is the ISO 7064 MOD 37,36 check character of a body of 0-9 and A-Z: with P = 36, for each character S = (P + a) mod 36
// (0 becomes 36) and P = 2S mod 37; the check c makes (P + c) mod 36 = 1. ok is false for another character or an empty body.
func CheckCharacter(body string) (check byte, ok bool) {
	p := 36
	for i := range len(body) {
		a := strings.IndexByte(alphabet36, body[i])
		if a < 0 {
			return 0, false
		}
		s := (p + a) % 36
		if s == 0 {
			s = 36
		}
		p = 2 * s % 37
	}
	return alphabet36[(37-p)%36], body != ""
}

func numbered(batchKey string, n int) string {
	return batchKey + string(crockford[n/32]) + string(crockford[n%32])
}

func isKey(key string) bool {
	if len(key) != keyLength {
		return false
	}
	for i := range len(key) {
		if strings.IndexByte(crockford, key[i]) < 0 {
			return false
		}
	}
	return true
}

// JarCode is key (five Crockford characters), number (two) and check character: eight in all. n is 0 to 1023; a number whose check
// character would be I, L, O or U is refused, since people read those as digits.
func JarCode(batchKey string, n int) (string, *FieldError) {
	if !isKey(batchKey) {
		return "", &FieldError{Field: "key", Says: "“" + short(batchKey) + "” is not a batch key", Want: "five of " + crockford}
	}
	if n < 0 || n >= jarsPerKey {
		return "", &FieldError{Field: "number", Says: "a key has no jar " + strconv.Itoa(n), Want: "0 to 1023; a larger batch takes a second key"}
	}
	body := numbered(batchKey, n)
	check, _ := CheckCharacter(body)
	if strings.IndexByte("ILOU", check) >= 0 {
		return "", &FieldError{Field: "number", Says: "the check character of jar " + strconv.Itoa(n) + " would be " + string(check) + ", which is read as something else", Want: "take the next number"}
	}
	return body + string(check), nil
}

// JarNumbers gives the next count numbers from from on, passing those whose check character would be I, L, O or U; fewer when the key's
// 1,024 numbers run out, and none for a key that is none.
func JarNumbers(batchKey string, count, from int) []int {
	if !isKey(batchKey) || count <= 0 {
		return nil
	}
	out := make([]int, 0, min(count, jarsPerKey))
	for n := max(from, 0); n < jarsPerKey && len(out) < count; n++ {
		if check, _ := CheckCharacter(numbered(batchKey, n)); strings.IndexByte("ILOU", check) < 0 {
			out = append(out, n)
		}
	}
	return out
}

// CountJars is how many numbers JarNumbers gives. Two numbers that differ in their last character alone never share a check
// character, so that of each 32 at most four are passed over: below 28 of each 32 there is nothing to search for.
func CountJars(batchKey string, count, from int) int {
	if !isKey(batchKey) || count <= 0 {
		return 0
	}
	if whole := (jarsPerKey - max(from, 0)) / 32; count <= 28*whole {
		return count
	}
	return len(JarNumbers(batchKey, count, from))
}

// ShowJarCode writes a code of eight characters as printed: 7K3QX-04-D.
func ShowJarCode(code string) string {
	if len(code) != keyLength+3 {
		return code
	}
	return code[:keyLength] + "-" + code[keyLength:keyLength+2] + "-" + code[keyLength+2:]
}

// SplitJarCode gives the batch key and the number of a code that ReadJarCode accepted.
func SplitJarCode(code string) (batchKey string, n int) {
	if len(code) != keyLength+3 {
		return "", 0
	}
	return code[:keyLength], 32*strings.IndexByte(crockford, code[keyLength]) + strings.IndexByte(crockford, code[keyLength+1])
}

// BatchCode is date, the device's letter and a count: 261125-B2. It is what people read on a lid; the key is what the program finds it by.
func BatchCode(year, month, day int, letter string, n int) string {
	two := func(v int) string { return strconv.Itoa(100 + (v%100+100)%100)[1:] }
	return two(year) + two(month) + two(day) + "-" + letter + strconv.Itoa(n)
}
