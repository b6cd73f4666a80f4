package book

import (
	"slices"
	"strings"

	"stillroom/sync"
)

// MaxPhoto is the most bytes that a photo may have. One of 1,600 pixels takes about a twentieth of it.
const MaxPhoto = 8 << 20

// photoName is the length of a photo's name.
const photoName = 64

// pictures are the photos of a formula; those of a batch are rows of its record.
type pictures struct{ rows []row }

func (p *pictures) clone() *pictures { return &pictures{slices.Clip(p.rows)} }

var photoStages = map[string]string{"": "Photo", "bench": "Photo at the bench", "filled": "Photo as filled", "look": "Photo of the day after"}

// IsPhotoName says whether a text can be the name of a photo: the SHA-256 of its bytes in lower-case hexadecimal digits.
func IsPhotoName(name string) bool {
	return len(name) == photoName && strings.Trim(name, "0123456789abcdef") == ""
}

// PhotoNamed is the photo that an entry names, if it names one.
func PhotoNamed(e sync.Entry) (name string, ok bool) {
	if e.Kind != KindPhotoKept {
		return "", false
	}
	body, err := open(e.Kind, e.V, e.Body)
	if err != nil {
		return "", false
	}
	p, ok := body.(*PhotoKept)
	return p.Photo, ok
}

type photoArgs struct {
	Batch   string `json:"batch"`
	Formula string `json:"formula"`
	Photo   string `json:"photo"`
	Bytes   int64  `json:"bytes"`
	Width   int64  `json:"width"`
	Height  int64  `json:"height"`
	Stage   string `json:"stage"`
	Text    string `json:"text"`
}

// keepPhoto writes down that a photo, which the phone holds by now, belongs to a batch or a formula. The same photo of
// the same thing again writes nothing.
func (s *State) keepPhoto(ctx Context, args []byte) ([]Draft, any, *Refusal) {
	a, no := arguments[photoArgs](args)
	if no != nil {
		return nil, nil, no
	}
	a.Text = strings.TrimSpace(a.Text)
	_, stage := photoStages[a.Stage]
	switch {
	case !IsPhotoName(a.Photo) || !stage:
		return nil, nil, refuse("photo unreadable", "photo", "this photo has no name of its own", "take it again")
	case a.Bytes <= 0 || a.Bytes > MaxPhoto || a.Width <= 0 || a.Height <= 0:
		return nil, nil, refuse("photo unreadable", "photo", "this is not a picture that the book can keep", "take it again with the camera, or choose another file")
	case (a.Batch == "") == (a.Formula == ""):
		return nil, nil, refuse("photo of nothing", "batch", "it is not said what the photo shows", "open the batch or the formula and take it there")
	case a.Batch != "" && s.batches.get(a.Batch) == nil:
		return nil, nil, noBatch()
	case a.Formula != "" && s.formulas.get(a.Formula) == nil:
		return nil, nil, refuse("formula unknown", "formula", "this formula is not in this book", "save the formula first")
	}
	for _, p := range s.photosOf(a.Batch, a.Formula) {
		if p.body.Photo == a.Photo {
			return nil, entryValue{p.row.from.ref.String()}, nil
		}
	}
	return s.one(ctx, KindPhotoKept, &PhotoKept{Batch: a.Batch, Formula: a.Formula, Photo: a.Photo, Bytes: a.Bytes, Width: a.Width, Height: a.Height, Stage: a.Stage, Text: a.Text})
}

func (s *State) applyPhoto(r row, b *PhotoKept) {
	if b.Batch != "" {
		s.applyRow(r, b.Batch, "")
		return
	}
	p := s.pictures.edit(b.Formula)
	p.rows = append(p.rows, r)
}

type photo struct {
	row  *row
	body *PhotoKept
}

// photosOf are the photos of a batch or of a formula, the oldest first.
func (s *State) photosOf(batch, formula string) []photo {
	var rows []row
	if b := s.batches.get(batch); b != nil {
		rows = b.rows
	} else if p := s.pictures.get(formula); p != nil {
		rows = p.rows
	}
	var out []photo
	for i := range rows {
		if r := &rows[i]; r.kind == KindPhotoKept && !r.struck && r.clash == "" {
			if body, err := open(r.kind, r.v, r.body); err == nil {
				out = append(out, photo{r, body.(*PhotoKept)})
			}
		}
	}
	return out
}

// PhotoView is a photo as a screen shows it; the picture itself is asked for by its name.
type PhotoView struct {
	Entry string `json:"entry"`
	Photo string `json:"photo"`
	Says  string `json:"says"`
	At    string `json:"at"`
	By    string `json:"by"`
	Where string `json:"where"`
}

func (s *State) viewPhotos(ctx Context, args []byte) (any, *Refusal) {
	a, no := arguments[photoArgs](args)
	if no != nil {
		return nil, unreadable()
	}
	out := []PhotoView{}
	for _, p := range s.photosOf(a.Batch, a.Formula) {
		out = append(out, PhotoView{p.row.from.ref.String(), p.body.Photo, join(photoStages[p.body.Stage], p.body.Text),
			showTime(p.row.from.at, ctx.Zone), s.by(ctx, p.row.from), s.where(Workshop, p.row.from.ref)})
	}
	return out, nil
}

// Photos walks the photos of the book by name, each once, with the code of its batch or the name of its formula, until f
// answers false.
func (s *State) Photos(f func(name, of string) bool) {
	seen := map[string]bool{}
	all := func(found []photo, of string) bool {
		for _, p := range found {
			if !seen[p.body.Photo] {
				seen[p.body.Photo] = true
				if !f(p.body.Photo, of) {
					return false
				}
			}
		}
		return true
	}
	more := true
	s.batches.each(func(key string, b *batch) bool { more = all(s.photosOf(key, ""), b.body.Code); return more })
	if more {
		s.pictures.each(func(key string, _ *pictures) bool { return all(s.photosOf("", key), s.lineName("", key)) })
	}
}
