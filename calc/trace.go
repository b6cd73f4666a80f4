package calc

// TraceBook is the plain graph that a trace walks: what was made of what, and what it was filled into.
type TraceBook struct {
	Lots    []TraceLot
	Batches []TraceBatch
	Jars    []TraceJar
}

// TraceLot is one delivery; FromBatch is set when it is a base that was made here.
type TraceLot struct {
	Key         string `json:"key"`
	Code        string `json:"code"`
	Ingredient  string `json:"ingredient"`
	Supplier    string `json:"supplier"`
	SupplierLot string `json:"supplierLot"`
	FromBatch   string `json:"fromBatch"`
}

// TraceBatch is one making; Parent is set for a part that was split from another batch's pot.
type TraceBatch struct {
	Key    string   `json:"key"`
	Code   string   `json:"code"`
	Parent string   `json:"parent"`
	Lots   []string `json:"lots"`
}

// TraceJar is one filled container.
type TraceJar struct {
	Code  string `json:"code"`
	Batch string `json:"batch"`
	Place string `json:"place"`
}

// TracePlace counts the jars of one place.
type TracePlace struct {
	Place string `json:"place"`
	Count int    `json:"count"`
}

// Traced is what a trace finds, each thing once, in the order of the walk from the start outwards.
type Traced struct {
	Lots      []string     `json:"lots"`
	Batches   []string     `json:"batches"`
	Jars      []string     `json:"jars"`
	Places    []TracePlace `json:"places"`
	Suppliers []string     `json:"suppliers"`
	// Dangling names what is pointed at and not in the book.
	Dangling []string `json:"dangling"`
}

// traceIndex finds everything by key, once for any number of walks.
type traceIndex struct {
	lots    map[string]*TraceLot
	batches map[string]*TraceBatch
	uses    map[string][]string // lot → batches that took from it
	parts   map[string][]string // batch → its parts
	asLots  map[string][]string // batch → lots that it was received as
	jars    map[string][]*TraceJar
}

func (b *TraceBook) index() *traceIndex {
	x := &traceIndex{map[string]*TraceLot{}, map[string]*TraceBatch{}, map[string][]string{}, map[string][]string{}, map[string][]string{}, map[string][]*TraceJar{}}
	for i := range b.Lots {
		l := &b.Lots[i]
		x.lots[l.Key] = l
		if l.FromBatch != "" {
			x.asLots[l.FromBatch] = append(x.asLots[l.FromBatch], l.Key)
		}
	}
	for i := range b.Batches {
		t := &b.Batches[i]
		x.batches[t.Key] = t
		if t.Parent != "" {
			x.parts[t.Parent] = append(x.parts[t.Parent], t.Key)
		}
		for _, l := range t.Lots {
			x.uses[l] = append(x.uses[l], t.Key)
		}
	}
	for i := range b.Jars {
		j := &b.Jars[i]
		x.jars[j.Batch] = append(x.jars[j.Batch], j)
	}
	return x
}

// TraceBack walks from a jar to its batch, the batch that it was a part of, the lots that went in, and through made bases to suppliers, at
// any depth.
func TraceBack(b TraceBook, jar string) (Traced, *FieldError) {
	for i := range b.Jars {
		if b.Jars[i].Code == jar {
			t := b.index().back(b.Jars[i].Batch)
			t.Jars = []string{jar}
			return t, nil
		}
	}
	return Traced{}, &FieldError{Field: "jar", Says: "no jar “" + short(jar) + "” is in the book", Want: "scan or type a code from a label of this book"}
}

// TraceBatchBack walks from a batch to everything that went in.
func TraceBatchBack(b TraceBook, batch string) (Traced, *FieldError) {
	x := b.index()
	if x.batches[batch] == nil {
		return Traced{}, &FieldError{Field: "batch", Says: "no batch “" + short(batch) + "” is in the book", Want: "give the key of a batch of this book"}
	}
	return x.back(batch), nil
}

func (x *traceIndex) back(batch string) Traced {
	w := walk{x: x, seen: map[string]bool{}, t: emptyTrace()}
	w.queue = []string{"b" + batch}
	w.run(func(kind byte, key string) {
		if kind == 'b' {
			if t := x.batches[key]; t != nil {
				w.add('b', t.Parent)
				for _, l := range t.Lots {
					w.add('l', l)
				}
			}
			return
		}
		if l := x.lots[key]; l != nil {
			w.add('b', l.FromBatch)
			if l.Supplier != "" && !w.seen["s"+l.Supplier] {
				w.seen["s"+l.Supplier] = true
				w.t.Suppliers = append(w.t.Suppliers, l.Supplier)
			}
		}
	})
	return w.t
}

// TraceForward walks from a lot to every batch, part, made base, jar and place that holds something of it, at any depth.
func TraceForward(b TraceBook, lot string) (Traced, *FieldError) {
	x := b.index()
	if x.lots[lot] == nil {
		return Traced{}, &FieldError{Field: "lot", Says: "no lot “" + short(lot) + "” is in the book", Want: "give the key of a lot of this book"}
	}
	w := walk{x: x, seen: map[string]bool{}, t: emptyTrace()}
	w.queue = []string{"l" + lot}
	at := map[string]int{}
	w.run(func(kind byte, key string) {
		if kind == 'l' {
			for _, t := range x.uses[key] {
				w.add('b', t)
			}
			return
		}
		for _, j := range x.jars[key] {
			w.t.Jars = append(w.t.Jars, j.Code)
			if i, ok := at[j.Place]; ok {
				w.t.Places[i].Count++
			} else {
				at[j.Place] = len(w.t.Places)
				w.t.Places = append(w.t.Places, TracePlace{j.Place, 1})
			}
		}
		for _, p := range x.parts[key] {
			w.add('b', p)
		}
		for _, l := range x.asLots[key] {
			w.add('l', l)
		}
	})
	return w.t, nil
}

func emptyTrace() Traced {
	return Traced{Lots: []string{}, Batches: []string{}, Jars: []string{}, Places: []TracePlace{}, Suppliers: []string{}, Dangling: []string{}}
}

// walk goes breadth first and meets each thing once, so that a ring in a damaged book ends too.
type walk struct {
	x     *traceIndex
	queue []string
	seen  map[string]bool
	t     Traced
}

func (w *walk) add(kind byte, key string) {
	if key != "" {
		w.queue = append(w.queue, string(kind)+key)
	}
}

func (w *walk) run(visit func(kind byte, key string)) {
	for i := 0; i < len(w.queue); i++ {
		at := w.queue[i]
		if w.seen[at] {
			continue
		}
		w.seen[at] = true
		kind, key := at[0], at[1:]
		switch {
		case kind == 'l' && w.x.lots[key] == nil, kind == 'b' && w.x.batches[key] == nil:
			w.t.Dangling = append(w.t.Dangling, key)
		case kind == 'l':
			w.t.Lots = append(w.t.Lots, key)
		default:
			w.t.Batches = append(w.t.Batches, key)
		}
		visit(kind, key)
	}
}
