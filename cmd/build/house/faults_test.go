package house

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// awaited are the faults that need what is not built yet.
var awaited = map[int]string{8: "pairing and certificates"}

// faults are numbered from 1 to this one.
const faults = 35

var faultNumber = regexp.MustCompile(`\bF([1-9][0-9]?)\b|TestF([1-9][0-9]?)[A-Z]`)

// Every fault that must not break the book has a test that names its number.
func TestEveryFaultIsNamedByATest(t *testing.T) {
	named := map[int]bool{}
	sources(t, func(name string, data []byte) {
		if !strings.HasSuffix(name, "_test.go") || strings.HasPrefix(name, "cmd/build/house/") {
			return
		}
		for _, line := range strings.Split(string(data), "\n") {
			if !strings.Contains(line, "//") && !strings.HasPrefix(line, "func Test") {
				continue
			}
			for _, m := range faultNumber.FindAllStringSubmatch(line, -1) {
				n, _ := strconv.Atoi(m[1] + m[2])
				named[n] = true
			}
		}
	})
	for n := 1; n <= faults; n++ {
		switch why := awaited[n]; {
		case why == "" && !named[n]:
			t.Errorf("F%d: no test names it", n)
		case why != "" && named[n]:
			t.Errorf("F%d is no longer awaiting %s: take it off the list", n, why)
		}
	}
}
