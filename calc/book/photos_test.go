package book

import (
	"slices"
	"strings"
	"testing"
)

func photoOf(digit string) string { return strings.Repeat(digit, photoName) }

func TestAPhotoStandsInTheRecordOfItsBatchAndBesideItsFormula(t *testing.T) {
	w := newWorld(t)
	f, b := w.start()
	page := m{"formula": f, "photo": photoOf("a"), "bytes": 200000, "width": 1200, "height": 1600, "text": "  the page of June "}
	jar := m{"batch": b, "photo": photoOf("b"), "bytes": 210000, "width": 1600, "height": 1200, "stage": "look"}
	w.do("photo.keep", page, "entry")
	w.do("photo.keep", jar, "entry")
	first := w.do("photo.keep", jar, "entry") // the key pressed twice
	if got := view[[]PhotoView](w, "photos", m{"batch": b}); len(got) != 1 || got[0].Photo != photoOf("b") || got[0].Entry != first || got[0].Says != "Photo of the day after" || got[0].Where != "book" {
		t.Errorf("photos of the batch: %s", pretty(got))
	}
	if got := view[[]PhotoView](w, "photos", m{"formula": f}); len(got) != 1 || got[0].Says != "Photo; the page of June" {
		t.Errorf("photos of the formula: %s", pretty(got))
	}
	rows := view[BatchView](w, "batch", m{"key": b}).Rows
	if r := rows[len(rows)-1]; r.What != "photo" || r.Title != "Photo of the day after" || r.Value != "" {
		t.Errorf("its row: %s", pretty(r))
	}
	var all []string
	w.s.Photos(func(name, of string) bool { all = append(all, name[:1]+" "+of); return true })
	if slices.Sort(all); !slices.Equal(all, []string{"a Plain rinse", "b " + view[BatchView](w, "batch", m{"key": b}).Row.Code}) {
		t.Errorf("photos of the book: %q", all)
	}
}

func TestAPhotoThatCannotBeFoundAgainIsRefused(t *testing.T) {
	w := newWorld(t)
	f, b := w.start()
	for _, c := range []struct {
		name        string
		change      m
		code, field string
	}{
		{"a name that is no SHA-256", m{"photo": "../../etc/passwd"}, "photo unreadable", "photo"},
		{"capitals", m{"photo": photoOf("A")}, "photo unreadable", "photo"},
		{"nothing in it", m{"bytes": 0}, "photo unreadable", "photo"},
		{"one byte too large", m{"bytes": MaxPhoto + 1}, "photo unreadable", "photo"},
		{"no width", m{"width": 0}, "photo unreadable", "photo"},
		{"a stage that is not known", m{"stage": "yesterday"}, "photo unreadable", "photo"},
		{"of nothing", m{"batch": ""}, "photo of nothing", "batch"},
		{"of two things", m{"formula": f}, "photo of nothing", "batch"},
		{"another book's batch", m{"batch": "00000"}, "batch unknown", "batch"},
	} {
		args := m{"batch": b, "photo": photoOf("b"), "bytes": 1000, "width": 16, "height": 12}
		for k, v := range c.change {
			args[k] = v
		}
		t.Run(c.name, func(t *testing.T) {
			w.t = t
			w.refused("photo.keep", args, c.code, c.field)
		})
	}
	w.t = t
	if got := view[[]PhotoView](w, "photos", m{"batch": b}); len(got) != 0 {
		t.Errorf("kept all the same: %s", pretty(got))
	}
}
