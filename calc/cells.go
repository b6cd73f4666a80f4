package calc

import (
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// cellRow is one row of a table with the line of the file that it begins on, from 1.
type cellRow struct {
	line  int
	cells []string
}

func (r *cellRow) blank() bool { return r.filled() == 0 }

// filled counts the cells in which something stands.
func (r *cellRow) filled() int {
	n := 0
	for _, c := range r.cells {
		if c != "" {
			n++
		}
	}
	return n
}

// plainCell takes off the apostrophe that keeps a spreadsheet from working a text out as a sum.
func plainCell(c string) string {
	if rest := strings.TrimLeft(c, "'"); rest != c && startsSum(rest) {
		return c[1:]
	}
	return c
}

// startsSum tells whether a spreadsheet would work a text out as a sum, or run what it names.
func startsSum(text string) bool { return text != "" && strings.IndexByte("=+-@\t\r", text[0]) >= 0 }

// CSVCell writes a text as a cell: in quotes where it needs them, and behind an apostrophe where a spreadsheet would take it for a sum.
func CSVCell(text, sep string) string {
	if startsSum(strings.TrimLeft(text, "'")) {
		text = "'" + text
	}
	if strings.ContainsAny(text, sep+"\"\r\n") {
		return `"` + strings.ReplaceAll(text, `"`, `""`) + `"`
	}
	return text
}

// cell is what stands in a column, "" beyond the end of the row.
func (r *cellRow) cell(column int) string {
	if column < 0 || column >= len(r.cells) {
		return ""
	}
	return plainCell(r.cells[column])
}

// TableText turns the bytes of a spreadsheet's file into text: UTF-8 and UTF-16 with or without their mark, else the western code page
// that spreadsheets of one byte a letter are written in (accents of western Europe are right, other letters may not be).
func TableText(b []byte) string {
	switch {
	case len(b) >= 2 && b[0] == 0xFF && b[1] == 0xFE:
		return wide(b[2:], 0, 1)
	case len(b) >= 2 && b[0] == 0xFE && b[1] == 0xFF:
		return wide(b[2:], 1, 0)
	case utf8.Valid(b):
		return strings.TrimPrefix(string(b), "\uFEFF")
	}
	out := make([]rune, len(b))
	for i, c := range b {
		out[i] = rune(c)
		if r, ok := westernMarks[c]; ok {
			out[i] = r
		}
	}
	return string(out)
}

// westernMarks are those of the 32 places between ASCII and Latin-1 that stand in recipes.
var westernMarks = map[byte]rune{0x80: '€', 0x85: '…', 0x91: '‘', 0x92: '’', 0x93: '“', 0x94: '”', 0x96: '–', 0x97: '—', 0x8C: 'Œ', 0x9C: 'œ', 0x8A: 'Š', 0x9A: 'š', 0x8E: 'Ž', 0x9E: 'ž'}

func wide(b []byte, low, high int) string {
	units := make([]uint16, 0, len(b)/2)
	for i := 0; i+1 < len(b); i += 2 {
		units = append(units, uint16(b[i+low])|uint16(b[i+high])<<8)
	}
	return string(utf16.Decode(units))
}

// plainTable makes the ends of lines and blanks of a table alike. says and do tell why it cannot be read.
func plainTable(text string) (plain, says, do string) {
	if len(text) > largestRequest {
		return "", "the file is longer than 1 MiB", "save the sheet that is meant alone"
	}
	plain = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u00a0", " ", "\u202f", " ", "\x00", "").Replace(strings.TrimPrefix(strings.ToValidUTF8(text, "\uFFFD"), "\uFEFF"))
	if line, rest, more := strings.Cut(plain, "\n"); more && len(line) == 5 && strings.EqualFold(line[:4], "sep=") {
		plain = "\n" + rest // it tells a spreadsheet the separator; its line stays counted
	}
	return plain, "", ""
}

// readCells parts a table into rows and cells: cells stand between separators, in quotes where they hold one, a quote in quotes is written
// twice. Blank rows are kept, since they part one formula from the next. unclosed is the line on which quotes open that never close, 0 for none.
func readCells(text string, sep byte) (rows []cellRow, unclosed int) {
	line, i := 1, 0
	for i < len(text) {
		row := cellRow{line: line}
		for {
			begin := i
			for i < len(text) && text[i] == ' ' {
				i++
			}
			if i < len(text) && text[i] == '"' {
				opened := line
				cell, end, lines := quoted(text, i+1)
				if end < 0 {
					return append(rows, row), opened
				}
				line += lines
				i = end
				behind := i
				for i < len(text) && text[i] != sep && text[i] != '\n' {
					i++
				}
				row.cells = append(row.cells, strings.TrimSpace(cell+text[behind:i]))
			} else {
				for i < len(text) && text[i] != sep && text[i] != '\n' {
					i++
				}
				row.cells = append(row.cells, strings.TrimSpace(text[begin:i]))
			}
			if i >= len(text) || text[i] == '\n' {
				break
			}
			i++ // over the separator
		}
		i++ // over the end of the line
		line++
		rows = append(rows, row)
	}
	return rows, 0
}

// quoted reads on from behind an opening quote; end is behind the closing one, -1 without one.
func quoted(text string, i int) (cell string, end, lines int) {
	var b strings.Builder
	for i < len(text) {
		switch c := text[i]; {
		case c == '"' && i+1 < len(text) && text[i+1] == '"':
			b.WriteByte('"')
			i += 2
			continue
		case c == '"':
			return b.String(), i + 1, lines
		case c == '\n':
			lines++
			b.WriteByte(' ')
		default:
			b.WriteByte(c)
		}
		i++
	}
	return "", -1, lines
}

// columnName is how a spreadsheet calls a column counted from 0: A, B … Z, AA.
func columnName(n int) string {
	if n < 0 || n > 700 {
		return strconv.Itoa(n + 1)
	}
	if n < 26 {
		return string(rune('A' + n))
	}
	return string(rune('A'+n/26-1)) + string(rune('A'+n%26))
}
