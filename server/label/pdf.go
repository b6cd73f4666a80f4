package label

import (
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// Label is what one jar's label says.
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
	// Made is the day it was made, as printed.
	Made string
	// Trial marks what may not be sold.
	Trial bool
	// Caution is one short line.
	Caution string
}

const (
	margin = 1.8 // mm from a label's edge: what a sheet may shift in the printer
	family = "go"
)

// PDF writes one label for each given, in order, and as many pages as they need. made is written as the document's date:
// the same labels give the same bytes. It fails when a payload is too long for the sheet or nothing was given.
func PDF(w io.Writer, s Sheet, labels []Label, made time.Time) error {
	if len(labels) == 0 {
		return fmt.Errorf("there is no jar to print a label for")
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
	for i, l := range labels {
		if i%perPage == 0 {
			// The library swaps width and height for its landscape; P keeps them as given, also where wider than tall.
			doc.AddPageFormat("P", size)
		}
		x, y := s.corner(i % perPage)
		if err := draw(doc, s, l, x, y); err != nil {
			return err
		}
	}
	return doc.Output(w)
}

func draw(doc *fpdf.Fpdf, s Sheet, l Label, x, y float64) error {
	side, err := drawQR(doc, s, l.Payload, x, y)
	if err != nil {
		return err
	}
	c := &column{doc: doc, x: x + margin, y: y + margin, w: s.Width - side - 2*margin, bottom: y + s.Height - margin}
	scale := min(1.6, s.Height/38.1)
	c.foot(l.Caution, 5.5*max(1, scale*0.9))
	c.fit(l.Name, "B", 11*scale, 7, 2)
	if l.Trial {
		c.fit("trial: not for sale", "B", 8.5*scale, 6.5, 1)
	}
	if l.NetMG > 0 {
		c.net(l.NetMG)
	}
	c.fit(l.Shown, "B", 9.5*scale, 7, 1)
	c.fit("batch "+l.Batch, "", 7.5*scale, 6, 1)
	if l.Made != "" {
		c.fit("made "+l.Made, "", 7.5*scale, 6, 1)
	}
	if c.y > c.bottom+0.05 {
		return fmt.Errorf("the label of %s does not fit on %s; choose a larger sheet", l.Shown, s.Says)
	}
	return nil
}
