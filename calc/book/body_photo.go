package book

// PhotoKept says that a photo belongs to a batch or to a formula. The picture stands outside the journal under the
// SHA-256 of its bytes: it travels beside the entries, and where it is erased the fact stays.
type PhotoKept struct {
	Batch   string
	Formula string // of the page that a formula was first written on, when it is of no batch
	Photo   string // SHA-256 of the picture, 64 hexadecimal digits
	Bytes   int64
	Width   int64 // pixels
	Height  int64
	Stage   string // bench, filled, look; "" for a page and for any other day
	Text    string
}

func (b *PhotoKept) visit(v visitor) {
	v.text("batch", &b.Batch, maxKey)
	v.text("formula", &b.Formula, maxKey)
	v.text("photo", &b.Photo, photoName)
	v.whole("bytes", &b.Bytes, 0, MaxPhoto)
	v.whole("width", &b.Width, 0, 1<<16)
	v.whole("height", &b.Height, 0, 1<<16)
	v.text("stage", &b.Stage, maxKey)
	v.text("text", &b.Text, maxText)
}
