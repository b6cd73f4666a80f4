package book

// FormulaChallenged is a laboratory's challenge test of one revision of a formula, typed from its report.
type FormulaChallenged struct {
	Formula    string
	Revision   Ref
	Batch      string // that the sample was taken of, "" when not said
	Laboratory string
	Report     string // the laboratory's own number
	Day        int64  // of the report, 0 when not said
	Method     string // as the report names it: ISO 11930, USP <51>
	Form       string // counts or reductions: what the figures are, in powers of ten
	Organisms  []ChallengedOrganism
	Note       string
	Of         Ref    // entry that this one takes the place of
	Reason     string // why it does
}

func (b *FormulaChallenged) visit(v visitor) {
	v.text("formula", &b.Formula, maxKey)
	v.ref("revision", &b.Revision)
	v.text("batch", &b.Batch, maxKey)
	v.text("laboratory", &b.Laboratory, maxName)
	v.text("report", &b.Report, maxName)
	v.whole("day", &b.Day, 0, maxDay)
	v.text("method", &b.Method, maxName)
	v.text("form", &b.Form, maxKey)
	list(v, "organisms", &b.Organisms, 24)
	v.text("note", &b.Note, maxText)
	v.ref("of", &b.Of)
	v.text("reason", &b.Reason, maxText)
}

// ChallengedOrganism is one microbe of a test.
type ChallengedOrganism struct {
	Name  string
	Kind  string // bacteria, yeast, mould
	Start int64  // thousandths of log10 CFU per g or mL; 0 where the report gives reductions
	Logs  []ChallengedLog
}

func (o *ChallengedOrganism) visit(v visitor) {
	v.text("name", &o.Name, maxName)
	v.text("kind", &o.Kind, maxKey)
	v.whole("start", &o.Start, 0, 12000)
	list(v, "logs", &o.Logs, 12)
}

// ChallengedLog is one figure of a report, in thousandths of log10.
type ChallengedLog struct {
	Day   int64
	Log   int64 // the count, or the reduction
	Bound bool  // fewer than that were found, or more than that were gone
}

func (l *ChallengedLog) visit(v visitor) {
	v.whole("day", &l.Day, 0, 400)
	v.whole("log", &l.Log, -4000, 12000)
	v.flag("bound", &l.Bound)
}
