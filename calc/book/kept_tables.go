package book

import (
	"cmp"
	"slices"
	"strings"

	"stillroom/sync"
)

// tableKeeper is a table of a book as a snapshot has it: every key that ever came, in its order, and what stands behind it.
// A key whose value was dropped keeps its place, since it would get it back.
type tableKeeper interface {
	// begin writes how many keys there are.
	begin(k *keeper)
	// write writes keys from a place on until the keeper holds enough bytes, and answers the next place; false at the end.
	write(k *keeper, from, enough int) (int, bool)
	read(k *keeper)
}

// keyed is a pointer to a key or a value that can be kept.
type keyed[T any] interface {
	*T
	keep(k *keeper)
}

type keptValue[V any] interface {
	value[V]
	keep(k *keeper)
}

// keptTable keeps one table. Streams fold alone: a table that holds several is written stream by stream, by before, so
// that it cannot be told in which order their entries came beside each other.
type keptTable[K comparable, V any, P keptValue[V]] struct {
	t      *table[K, V, P]
	key    func(*keeper, *K)
	before func(a, b K) int // nil: in the order of the fold alone
	fits   func(*V) bool    // whether a value can stand behind those before it; nil: any can
	keys   []K
}

func (x *keptTable[K, V, P]) begin(k *keeper) {
	x.keys = x.t.added
	if x.before != nil {
		x.keys = slices.Clone(x.keys)
		slices.SortStableFunc(x.keys, x.before)
	}
	k.count(len(x.keys))
}

func (x *keptTable[K, V, P]) write(k *keeper, from, enough int) (int, bool) {
	for ; from < len(x.keys); from++ {
		if len(k.buf) >= enough {
			return from, true
		}
		key := x.keys[from]
		v := x.t.own[key]
		x.key(k, &key)
		if k.some(v != nil) {
			k.last = origin{}
			P(v).keep(k)
		}
	}
	return from, false
}

// room is for how many values memory is taken at once.
const room = 1 << 9

func (x *keptTable[K, V, P]) read(k *keeper) {
	n := k.count(0)
	*x.t = table[K, V, P]{}
	if n == 0 {
		return
	}
	// A key and a mark are two bytes at the least, and few values are as short.
	x.t.own = make(map[K]*V, min(n, (len(k.buf)-k.at)/4))
	x.t.added = make([]K, 0, min(n, (len(k.buf)-k.at)/2))
	var values []V
	for i := 0; i < n && k.err == nil; i++ {
		var key K
		x.key(k, &key)
		if i > 0 && x.before != nil && x.before(x.t.added[i-1], key) > 0 {
			k.fail(errForm)
		}
		var v *V
		if k.some(false) {
			if len(values) == 0 {
				values = make([]V, min(room, n-i))
			}
			v, values = &values[0], values[1:]
			k.last = origin{}
			P(v).keep(k)
			k.must(x.fits == nil || x.fits(v))
		}
		x.t.own[key] = v
		x.t.added = append(x.t.added, key)
	}
	if k.err == nil && len(x.t.own) != n {
		k.fail(errDouble)
	}
}

// tableOf keeps a table whose keys have a keep method, wordsOf one whose keys are words.
func tableOf[K comparable, V any, P keptValue[V], Q keyed[K]](t *table[K, V, P], before func(a, b K) int) *keptTable[K, V, P] {
	return &keptTable[K, V, P]{t: t, key: func(k *keeper, x *K) { Q(x).keep(k) }, before: before}
}

func wordsOf[V any, P keptValue[V]](t *table[string, V, P]) *keptTable[string, V, P] {
	return &keptTable[string, V, P]{t: t, key: (*keeper).word}
}

func (r *Ref) keep(k *keeper) { k.ref(r) }

// tables are all tables of a book in the order of the snapshot. rowAt is none of them: it follows from the batches.
func (s *State) tables() []tableKeeper {
	goneKeys := wordsOf(&s.goneKeys)
	goneKeys.before = strings.Compare // both streams may have put a key there, and nothing walks them
	moves := tableOf(&s.moves, nil)
	// A correction stands behind what it corrects, so that following it comes to an end.
	moves.fits = func(m *move) bool { return m.of.Seq == 0 || s.moves.known(m.of) }
	return []tableKeeper{
		tableOf(&s.heads, func(a, b headKey) int { return cmp.Compare(a.stream, b.stream) }),
		wordsOf(&s.named), wordsOf(&s.chosen), wordsOf(&s.ingredients), wordsOf(&s.containers),
		wordsOf(&s.formulas), tableOf(&s.challenges, nil), wordsOf(&s.pictures), wordsOf(&s.lots),
		wordsOf(&s.batches), wordsOf(&s.strays), tableOf(&s.uses, nil),
		&keptTable[sync.DeviceID, text, *text]{t: &s.letters, key: (*keeper).device},
		wordsOf(&s.minted), wordsOf(&s.jarKeys), wordsOf(&s.cards), wordsOf(&s.bars), wordsOf(&s.places),
		moves, wordsOf(&s.prices),
		tableOf(&s.inventors, byStream), tableOf(&s.gone, byStream), goneKeys,
		&keptTable[sync.Epoch, gone, *gone]{t: &s.lives, key: (*keeper).epoch},
		tableOf(&s.held, refByStream), tableOf(&s.clashes, refByStream),
		tableOf(&s.unknown, func(a, b kindV) int { return cmp.Compare(a.stream, b.stream) }),
	}
}

func byStream(a, b streamDevice) int { return cmp.Compare(a.stream, b.stream) }
func refByStream(a, b streamRef) int { return cmp.Compare(a.stream, b.stream) }
