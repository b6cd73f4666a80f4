package book

import (
	"strconv"
	"strings"
	"testing"
)

func TestFilledJarsAreJudgedByTheRuleOfTheRegion(t *testing.T) {
	for _, c := range []struct {
		name, region, system, masses string
		says, finding, level         string
	}{
		{"whole and full", "EU", "", "120.4 119.9 120.2", "hold what the label says", "", ""},
		{"short on average", "EU", "", "119.4 119.9 119.2", "do not hold", "on average a jar lacks", "stop"},
		{"one far short", "EU", "", "126 126 109", "do not hold", "jar 3 (11.0 g)", "stop"},
		{"not all weighed", "EU", "", "120.4 120.2", "Not judged yet", "judged whole, and 1 were not weighed", "unchecked"},
		{"the minimum system", "UK", "minimum", "120.4 119.9 121.2", "do not hold", "jar 2 (0.1 g)", "stop"},
		{"the average system", "UK", "", "120.4 119.9 121.2", "hold what the label says", "", ""},
		{"the inspector's test", "US", "", "121 121 108", "do not hold", "on average a jar lacks", "stop"},
		{"a region without a rule", "elsewhere", "", "120.4 119.9 120.2", "hold what the label says", "not checked: the rule of your region", "unchecked"},
	} {
		w := newWorld(t)
		w.do("workshop.choose", m{"region": c.region}, "")
		_, b := w.start()
		w.weighAll(b)
		w.do("batch.fill", m{"batch": b, "jars": "3"}, "entry")
		for _, g := range strings.Fields(c.masses) {
			w.do("batch.net", m{"batch": b, "full": g}, "entry")
		}
		v := view[Nets](w, "nets", m{"batch": b, "system": c.system})
		if !strings.Contains(v.Says, c.says) || (c.finding == "") != (len(v.Findings) == 0) || len(v.Systems) > 0 != (c.region == "UK") {
			t.Errorf("%s: %s", c.name, pretty(v))
			continue
		}
		if c.finding != "" && (string(v.Findings[0].Level) != c.level || !strings.Contains(v.Findings[0].Says, c.finding) || v.Findings[0].Do == "" || v.Findings[0].Source == "") {
			t.Errorf("%s: %s", c.name, pretty(v.Findings))
		}
		// The record says by the region's own rule what failed.
		if f := findingOf(view[BatchView](w, "batch", m{"key": b}), "fill"); c.system == "" && c.finding != "" && !strings.Contains(f.Says, c.finding) {
			t.Errorf("%s: the record says %q", c.name, f.Says)
		}
	}
}

func TestAJarIsWeighedByNumberAndAgain(t *testing.T) {
	w := newWorld(t)
	_, b := w.start()
	w.weighAll(b)
	nets := func(of m) Nets {
		of["batch"] = b
		return view[Nets](w, "nets", of)
	}
	if v := nets(m{}); v.Next != "1" || v.Of != "24 jars of 120 g" || len(v.Weighed) != 0 || len(v.Findings) != 0 {
		t.Fatalf("before any: %s", pretty(v))
	}
	if f := findingOf(view[BatchView](w, "batch", m{"key": b}), "fill"); f.Says != "" {
		t.Errorf("nothing was weighed, and it is judged: %s", f.Says)
	}
	if v := nets(m{"full": "164.3", "empty": "44"}); v.Typed != "120.3 g" {
		t.Errorf("while it is typed: %s", pretty(v))
	}
	w.do("batch.net", m{"batch": b, "full": "164.3", "empty": "44"}, "entry")
	w.do("batch.net", m{"batch": b, "full": "117,5"}, "entry")
	w.do("batch.net", m{"batch": b, "full": "120.1", "jar": "2"}, "entry") // filled up
	v := nets(m{})
	if v.Next != "3" || len(v.Weighed) != 2 || v.Weighed[1].Net != "120.1 g" || v.Weighed[1].Short {
		t.Fatalf("weighed again: %s", pretty(v))
	}
	rows := view[BatchView](w, "batch", m{"key": b}).Rows
	if r := rows[3]; r.What != "net" || r.Title != "Jar 1, net" || r.Value != "120.3 g" || r.Detail != "164.3 g full, 44.0 g empty" {
		t.Errorf("its row: %s", pretty(r))
	}
	w.do("correct", m{"entry": rows[3].Entry, "value": "119.3", "reason": "read it wrong"}, "entry")
	if v = nets(m{}); v.Weighed[0].Net != "119.3 g" || !v.Weighed[0].Short {
		t.Errorf("corrected: %s", pretty(v))
	}
	for _, c := range []struct {
		args        m
		code, field string
	}{
		{m{"full": ""}, "misread", "full"},
		{m{"full": "40", "empty": "44"}, "upside down", "full"},
		{m{"full": "1200"}, "too heavy", "full"},
		{m{"full": "120", "jar": "x"}, "misread", "jar"},
	} {
		c.args["batch"] = b
		w.refused("batch.net", c.args, c.code, c.field)
	}
	w.do("batch.fill", m{"batch": b, "jars": "3"}, "entry")
	w.refused("batch.net", m{"batch": b, "full": "120", "jar": "4"}, "jar unknown", "jar")
	w.do("batch.net", m{"batch": b, "full": "121"}, "entry")
	w.refused("batch.net", m{"batch": b, "full": "121"}, "all weighed", "jar")
	if v = nets(m{}); v.Next != "" || !strings.HasPrefix(v.Says, "The jars hold what the label says: "+strconv.Itoa(3)+" jars") {
		t.Errorf("all weighed: %s", pretty(v))
	}
}
