package book

// FormulaSaved is one revision of a formula: never edited, only followed by another. The entry itself is the name of
// the revision.
type FormulaSaved struct {
	Key        string
	Parent     Ref // revision that it follows, zero for the first
	Name       string
	Wash       string
	Site       string
	Age        string
	Phases     []Phase
	Lines      []Line
	Plan       Plan
	Also       []RefItem // other revisions that it follows, which is how a fork is settled
	Word       string    // what one filled container is called: jar, bottle, tin, bar, pouch
	Container  string    // key of the container it is meant for
	Credit     string    // whose formula it was
	Lineage    string    // key of the formula that it was forked from
	LineageRev Ref       // revision that it was forked from
	Life       int64     // months that it keeps unopened, 0 when not said
	AfterOpen  int64     // months that it keeps once opened, 0 when not said
}

func (b *FormulaSaved) visit(v visitor) {
	v.text("key", &b.Key, maxKey)
	v.ref("parent", &b.Parent)
	v.text("name", &b.Name, maxName)
	v.text("wash", &b.Wash, maxKey)
	v.text("site", &b.Site, maxKey)
	v.text("age", &b.Age, maxKey)
	list(v, "phases", &b.Phases, 26)
	list(v, "lines", &b.Lines, 400)
	b.Plan.visit(v)
	list(v, "also", &b.Also, 8)
	v.text("word", &b.Word, maxKey)
	v.text("container", &b.Container, maxKey)
	v.text("credit", &b.Credit, maxName)
	v.text("lineage", &b.Lineage, maxKey)
	v.ref("lineageRev", &b.LineageRev)
	v.whole("life", &b.Life, 0, 1200)
	v.whole("afterOpen", &b.AfterOpen, 0, 1200)
}

// Phase is what is weighed and treated together. To keeps what was typed; ToMilli is the same in thousandths of °C.
type Phase struct {
	Letter  string
	Do      string
	To      string
	ToMilli int64
	HoldMin int64
	Pot     string // vessel that it stands in
}

func (p *Phase) visit(v visitor) {
	v.text("letter", &p.Letter, 4)
	v.text("do", &p.Do, maxKey)
	v.text("to", &p.To, maxKey)
	v.whole("toMilli", &p.ToMilli, -273150, maxMilliC)
	v.whole("holdMin", &p.HoldMin, 0, 100000)
	v.text("pot", &p.Pot, maxName)
}

// Line is one line by weight. Percent is in 0.0001 %, 0 for the q.s. line.
type Line struct {
	ID         string
	Phase      string
	Ingredient string
	Base       string
	BaseRev    Ref // revision of the base when the line was saved
	Percent    int64
	QS         bool
	Note       string
	Compatible bool // supplier states that it is compatible with the opposite charge in this use
}

func (l *Line) visit(v visitor) {
	v.text("id", &l.ID, maxKey)
	v.text("phase", &l.Phase, 4)
	v.text("ingredient", &l.Ingredient, maxKey)
	v.text("base", &l.Base, maxKey)
	v.ref("baseRev", &l.BaseRev)
	v.whole("percent", &l.Percent, 0, 1000000)
	v.flag("qs", &l.QS)
	v.text("note", &l.Note, maxText)
	v.flag("compatible", &l.Compatible)
}

// Plan is how much is made by default: filled containers, mass in each (mg), loss (0.0001 %), step of the scale (mg).
type Plan struct{ Jars, Fill, Loss, Step int64 }

func (p *Plan) visit(v visitor) {
	v.whole("jars", &p.Jars, 0, maxJars)
	v.whole("fill", &p.Fill, 0, maxWhole)
	v.whole("loss", &p.Loss, 0, 1000000)
	v.whole("step", &p.Step, 0, maxWhole)
}

// RefItem is a Ref as an item of a list.
type RefItem struct{ Ref Ref }

func (r *RefItem) visit(v visitor) { v.ref("entry", &r.Ref) }

const (
	maxJars   = 100000
	maxMilliC = 10000000
	maxDay    = 99991231
)
