package calc

import (
	"strconv"
	"strings"
)

// ReadJarCode reads a jar code as typed or scanned: bare, with dashes, spaces or small letters, or as any link that ends in /j/CODE.
// O is read as 0, I and L as 1, only when the check character then holds, and how says so. Every single wrong character is caught.
func ReadJarCode(text string) (code, how string, err *FieldError) {
	typed := bareCode(text)
	if typed == "" {
		return "", "", &FieldError{Field: "code", Says: "no code is written here", Want: "type the eight characters under the picture, such as 7K3QX-04-D"}
	}
	if len(typed) != keyLength+3 {
		return "", "", &FieldError{Field: "code", Says: "“" + short(text) + "” is not a jar code: it has " + strconv.Itoa(len([]rune(typed))) + " characters", Want: "a code has eight characters, such as 7K3QX-04-D"}
	}
	if fits(typed) {
		return typed, "", nil
	}
	mended, changes := make([]byte, len(typed)), []string(nil)
	for i := range len(typed) {
		mended[i] = typed[i]
		switch typed[i] {
		case 'O':
			mended[i] = '0'
		case 'I', 'L':
			mended[i] = '1'
		default:
			continue
		}
		change := string(typed[i]) + " was read as " + string(mended[i])
		if !contains(changes, change) {
			changes = append(changes, change)
		}
	}
	if len(changes) > 0 && fits(string(mended)) {
		return string(mended), list(changes), nil
	}
	for i := range len(typed) {
		if strings.IndexByte(alphabet36, typed[i]) < 0 || typed[i] == 'U' {
			return "", "", &FieldError{Field: "code", Says: "“" + short(text) + "” holds a character that no code has", Want: "a code has digits and letters, never I, L, O or U"}
		}
	}
	return "", "", &FieldError{Field: "code", Says: "the check character of “" + short(text) + "” does not fit: at least one character is not as printed", Want: "read the code again from the label"}
}

func fits(code string) bool {
	for i := range len(code) {
		if strings.IndexByte(crockford, code[i]) < 0 {
			return false
		}
	}
	check, ok := CheckCharacter(code[:len(code)-1])
	return ok && check == code[len(code)-1]
}

// bareCode takes a code out of its link and takes dashes and spaces off.
func bareCode(text string) string {
	s := strings.TrimSpace(text)
	// both spellings are looked for in the text itself: lower-casing bytes that are not UTF-8 would move every position
	if i := max(strings.LastIndex(s, "/j/"), strings.LastIndex(s, "/J/")); i >= 0 {
		s = s[i+len("/j/"):]
		if j := strings.IndexAny(s, "?#"); j >= 0 {
			s = s[:j]
		}
		s = strings.TrimSuffix(s, "/")
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '-' || r == '–' || r == '—' || r == '‑' || r == '_' || r == ' ' || r == '\u00a0' || r == '\t':
		case r >= 'a' && r <= 'z':
			b.WriteRune(r - 'a' + 'A')
		default:
			b.WriteRune(r)
		}
		if b.Len() > 64 {
			break
		}
	}
	return b.String()
}
