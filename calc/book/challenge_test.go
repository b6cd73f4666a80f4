package book

import (
	"strings"
	"testing"
)

// report is what a laboratory found: everything falls as it should but for what is changed.
func report(formula string, more m) m {
	organism := func(name, kind, start, d7, d14, d28 string) m {
		return m{"name": name, "kind": kind, "start": start, "day7": d7, "day14": d14, "day28": d28}
	}
	out := m{"formula": formula, "laboratory": "Quillback Laboratory", "report": "Q-118", "day": "2026-11-10", "method": "ISO 11930", "form": "counts", "organisms": []m{
		organism("Pseudomonas aeruginosa", "bacteria", "6.08", "2,9", "<1", "<1"), organism("Staphylococcus aureus", "bacteria", "6", "2.5", "<1", "<1"), organism("Escherichia coli", "bacteria", "6", "2.5", "<1", "<1"), organism("Candida albicans", "yeast", "5.6", "4.3", "3.9", "3.4"),
		organism("Aspergillus brasiliensis", "mould", "5.5", "", "5.2", "4.3"), organism("", "", "", "", "", "")}}
	for k, v := range more {
		out[k] = v
	}
	return out
}

func TestAReportIsJudgedAndKeptWithItsRevision(t *testing.T) {
	w := newWorld(t)
	f, b := w.start()
	asks := func(batch string) ChallengesView {
		return view[ChallengesView](w, "challenges", m{"formula": f, "batch": batch})
	}
	if v := asks(""); v.Says != "" || len(v.Tests) != 0 || len(v.Blank.Organisms) != 5 {
		t.Fatalf("nothing was tested: %s", pretty(v))
	}
	bad := func(change func(o m)) m {
		r := report(f, nil)
		change(r["organisms"].([]m)[0])
		return r
	}
	for _, c := range []struct {
		args        m
		code, field string
	}{
		{report("nowhere", nil), "formula unknown", "formula"},
		{report(f, m{"batch": "nowhere"}), "batch unknown", "batch"},
		{report(f, m{"revision": "0102030405060701.99"}), "revision unknown", "revision"},
		{report(f, m{"form": ""}), "form missing", "form"},
		{report(f, m{"day": "2027-01-01"}), "not yet", "day"},
		{report(f, m{"day": "soon"}), "misread", "day"},
		{report(f, m{"organisms": []m{}}), "nothing typed", "organisms"},
		{bad(func(o m) { o["day7"] = "many" }), "misread", "organisms[0].day7"},
		{bad(func(o m) { o["start"] = "" }), "start missing", "organisms[0].start"},
		{bad(func(o m) { o["start"] = "<1" }), "misread", "organisms[0].start"},
		{bad(func(o m) { o["name"] = "" }), "name missing", "organisms[0].name"},
		{bad(func(o m) { o["kind"] = "moss" }), "kind missing", "organisms[0].kind"},
	} {
		w.refused("formula.challenge", c.args, c.code, c.field)
	}
	w.weighAll(b)
	w.do("batch.fill", m{"batch": b, "jars": "23"}, "entry")
	first := w.do("formula.challenge", report(f, m{"batch": b}), "entry")
	v := asks("")
	x := v.Tests[0]
	if v.Says != "Keeping was tested in the laboratory on revision 1, batch 261112-B1: meets A." || v.Level != "note" || x.Title != "revision 1, batch 261112-B1" || x.Since != "" || len(x.Lines) != 5 {
		t.Errorf("judged: %s", pretty(v))
	}
	if d := x.Lines[0].Days; d[0].Text != "3.18" || d[1].Text != "≥ 5.08" || !strings.HasPrefix(d[0].Sum, "6.08 at the start − 2.90 on day 7 = 3.18") || x.Lines[4].Days[0].Text != "–" {
		t.Errorf("the figures: %s", pretty(x.Lines))
	}
	if says := asks(b).Says; says != "Keeping was tested in the laboratory on this batch: meets A." {
		t.Errorf("of its batch: %q", says)
	}

	// A change of the formula is said clearly, on the formula and on a batch of the new revision.
	d := view[FormulaView](w, "formula", m{"key": f}).Draft
	d.Lines[2].Percent = "0.8"
	w.do("formula.save", d, "revision")
	if v := asks(""); !strings.Contains(v.Says, "The formula changed since: revision 2 is the newest; 1 line differs. A test") {
		t.Errorf("the formula changed: %q", v.Says)
	}
	later := w.do("batch.start", m{"formula": f, "purpose": "sale", "jars": "24", "fill": "120", "loss": "4", "step": "0.1"}, "key")
	if says := asks(later).Says; !strings.HasSuffix(says, "so the test does not speak for it.") {
		t.Errorf("a batch of the new revision: %q", says)
	}

	// What was typed wrong is typed anew with a reason; the old one stays struck.
	again := x.Typed
	again.Of, again.Organisms[0].Day7 = x.Entry, "4.9"
	w.refused("formula.challenge", again, "reason missing", "reason")
	again.Reason = "read the wrong row"
	w.do("formula.challenge", again, "entry")
	v = asks(b)
	if len(v.Tests) != 2 || !v.Tests[1].Struck || v.Tests[1].Reason != "read the wrong row" || v.Says != "Keeping was tested in the laboratory on this batch: meets only B." || v.Level != "care" {
		t.Errorf("typed anew: %s", pretty(v))
	}
	w.refused("formula.challenge", again, "corrected already", "of")
	if first != x.Entry {
		t.Errorf("the entry is %s, the view says %s", first, x.Entry)
	}
}

func TestReductionsOfAReportNeedNoStart(t *testing.T) {
	w := newWorld(t)
	f, _ := w.start()
	w.do("formula.challenge", m{"formula": f, "form": "reductions", "organisms": []m{
		{"name": "S. aureus", "kind": "bacteria", "day7": "≥4.0", "day14": "≥4", "day28": "≥ 4"}, {"name": "C. albicans", "kind": "yeast", "day7": "0.2", "day14": "-0.4", "day28": "0.1"}}}, "entry")
	v := view[ChallengesView](w, "challenges", m{"formula": f})
	if d := v.Tests[0].Lines; d[0].Days[0].Text != "≥ 4.00" || d[1].Days[1].Text != "−0.40" || v.Level != "stop" || v.Tests[0].Criteria[0].Met != "not met" {
		t.Errorf("reductions: %s", pretty(v.Tests[0]))
	}
	if back := v.Tests[0].Typed.Organisms; back[0].Day7 != "≥4" || back[1].Day14 != "-0.4" {
		t.Errorf("as typed: %s", pretty(back))
	}
	// What a stranger wrote of a report that is not here is kept as a clash.
	d, _ := draft(KindFormulaChallenged, &FormulaChallenged{Formula: f, Of: Ref{device(5), 7}, Form: "counts"})
	w.write(d)
	if c := w.s.Clashes(); len(c) != 1 || c[0].Kind != "formula.challenged" {
		t.Errorf("clashes: %v", c)
	}
}
