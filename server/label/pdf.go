package label

import (
	"fmt"
	"io"
	"slices"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// Label is what one jar's label says. An empty field leaves its line out.
type Label struct {
	// Name of the product.
	Name string
	// Batch is the batch code that people read: 261125-B2.
	Batch string
	// Shown is the jar's code as printed: 7K3QX-04-M.
	Shown string
	// Payload is what the QR code holds: the label address with /j/ and the code, or the code alone.
	Payload string
	// NetMG is the net content in milligrams; 0 leaves the line out.
	NetMG int64
	// Made is the day it was made, as printed; BestBefore the whole line as BestBefore gives it.
	Made, BestBefore string
	// Mark stands under the name of what may not be sold: "trial: not for sale".
	Mark string
	// Ingredients is the list, without its heading.
	Ingredients string
	// Cautions are whole sentences, the most needed first.
	Cautions []string
	// Person is the maker and how to reach them.
	Person string
}

const (
	margin = 1.8 // mm from a label's edge: what a sheet may shift in the printer
	family = "go"
)

// PDF writes one label for each given, in order, and as many pages as they need. made is written as the document's date:
// the same labels give the same bytes. says tells what had no room, each thing once. It fails when a payload is too
// long for the sheet, when not even the least fits, or when nothing was given.
func PDF(w io.Writer, s Sheet, labels []Label, made time.Time) (says []string, err error) {
	if len(labels) == 0 {
		return nil, fmt.Errorf("there is no jar to print a label for")
	}
	size := fpdf.SizeType{Wd: s.PageW, Ht: s.PageH}
	doc := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: size})
	doc.SetCatalogSort(true)
	doc.SetCreationDate(made.UTC())
	doc.SetModificationDate(made.UTC())
	doc.SetProducer("Stillroom", true)
	doc.SetTitle("Labels for batch "+labels[0].Batch, true)
	doc.SetMargins(0, 0, 0)
	doc.SetAutoPageBreak(false, 0)
	doc.AddUTF8FontFromBytes(family, "", goregular.TTF)
	doc.AddUTF8FontFromBytes(family, "B", gobold.TTF)
	doc.SetFillColor(0, 0, 0)
	perPage := s.Columns * s.Rows
	var before *choice
	for i, l := range labels {
		if i%perPage == 0 {
			// The library swaps width and height for its landscape; P keeps them as given, also where wider than tall.
			doc.AddPageFormat("P", size)
		}
		c, err := readCode(s, l.Payload)
		if err != nil {
			return nil, err
		}
		if before != nil && (before.dots > c.most || !alike(l, labels[i-1])) {
			before = nil
		}
		at, runs, err := layOut(doc, s, l, c, before)
		if err != nil {
			return nil, err
		}
		before = &at
		x, y := s.corner(i % perPage)
		c.draw(doc, at.dots, x+s.Width-c.side(at.dots), y+inset)
		for _, r := range runs {
			doc.SetFont(family, r.style, r.size)
			doc.Text(x+r.x, y+r.y, r.text)
		}
		says = leftOut(says, l, at)
	}
	return says, doc.Output(w)
}

// alike tells whether two labels say the same but for the jar.
func alike(a, b Label) bool {
	return a.Name == b.Name && a.NetMG == b.NetMG && a.Mark == b.Mark && a.Ingredients == b.Ingredients && a.Person == b.Person && slices.Equal(a.Cautions, b.Cautions)
}

func leftOut(says []string, l Label, at choice) []string {
	add := func(s string) {
		if !slices.Contains(says, s) {
			says = append(says, s)
		}
	}
	if at.level >= withoutList && l.Ingredients != "" {
		add("the ingredient list has no room on this label; it stands behind the code and must lie at the stall: where the law asks for it on the jar, choose a larger sheet")
	}
	if (at.level == firstCaution || at.level == leastWords) && len(l.Cautions) > 1 {
		add("not all cautions have room on this label; the rest stand behind the code")
	}
	return says
}
