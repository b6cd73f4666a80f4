package calc

// faultsOf counts what makes a code hard to read, by the four rules of ISO/IEC 18004 (from memory): long runs of one shade, blocks of
// two by two, what looks like a corner, and too much of one shade.
func faultsOf(m [][]bool) int {
	n, faults, dark := len(m), 0, 0
	row, column := make([]bool, n), make([]bool, n)
	for i := range n {
		for j := range n {
			row[j], column[j] = m[i][j], m[j][i]
			if m[i][j] {
				dark++
			}
			if i > 0 && j > 0 && m[i][j] == m[i-1][j] && m[i][j] == m[i][j-1] && m[i][j] == m[i-1][j-1] {
				faults += 3
			}
		}
		faults += faultsOfLine(row) + faultsOfLine(column)
	}
	return faults + 10*(max(dark*100-50*n*n, 50*n*n-dark*100)/(5*n*n))
}

// cornerLike is dark, light, three dark, light, dark: the line through a corner.
var cornerLike = [7]bool{true, false, true, true, true, false, true}

func faultsOfLine(line []bool) int {
	faults, run := 0, 1
	for i := 1; i <= len(line); i++ {
		if i < len(line) && line[i] == line[i-1] {
			run++
			continue
		}
		if run >= 5 {
			faults += run - 2
		}
		run = 1
	}
	for i := 0; i+7 <= len(line); i++ {
		if [7]bool(line[i:i+7]) == cornerLike && (light(line, i-4, i) || light(line, i+7, i+11)) {
			faults += 40
		}
	}
	return faults
}

// light tells whether the modules from a up to b are light; beyond the edge is the quiet zone, which is light.
func light(line []bool, a, b int) bool {
	for i := max(a, 0); i < min(b, len(line)); i++ {
		if line[i] {
			return false
		}
	}
	return true
}
