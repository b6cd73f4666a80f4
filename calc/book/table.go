package book

import "slices"

// value is what a table holds: clone gives a copy that shares nothing that either side may change.
type value[V any] interface {
	*V
	clone() *V
}

// table is a map in layers. A layer sees through to its parent and copies a value the first time it changes it, so
// that an overlay costs what it touches and dropping it leaves the base as it was. Keys are walked in the order in
// which they came, never in map order.
type table[K comparable, V any, P value[V]] struct {
	parent *table[K, V, P]
	own    map[K]*V
	added  []K
}

func (t *table[K, V, P]) overlay() table[K, V, P] { return table[K, V, P]{parent: t} }

// get answers the value for reading, nil when there is none.
func (t *table[K, V, P]) get(k K) *V {
	for l := t; l != nil; l = l.parent {
		if v, ok := l.own[k]; ok {
			return v
		}
	}
	return nil
}

// edit answers this layer's own value for changing, a fresh one when there is none yet.
func (t *table[K, V, P]) edit(k K) *V {
	if v, ok := t.own[k]; ok && v != nil {
		return v
	}
	if t.own == nil {
		t.own = map[K]*V{}
	}
	v := t.get(k)
	if v == nil {
		v = new(V)
		if !t.known(k) {
			t.added = append(t.added, k)
		}
	} else {
		v = P(v).clone()
	}
	t.own[k] = v
	return v
}

// each walks all keys, the oldest first, until f answers false.
func (t *table[K, V, P]) each(f func(K, *V) bool) {
	layers := []*table[K, V, P]{}
	for l := t; l != nil; l = l.parent {
		layers = append(layers, l)
	}
	slices.Reverse(layers)
	for _, l := range layers {
		for _, k := range l.added {
			if v := t.get(k); v != nil && !f(k, v) {
				return
			}
		}
	}
}

// back walks all keys, the newest first, until f answers false.
func (t *table[K, V, P]) back(f func(K, *V) bool) {
	for l := t; l != nil; l = l.parent {
		for _, k := range slices.Backward(l.added) {
			if v := t.get(k); v != nil && !f(k, v) {
				return
			}
		}
	}
}

func (t *table[K, V, P]) len() int {
	n := 0
	t.each(func(K, *V) bool { n++; return true })
	return n
}

// known says whether a key ever came, dropped or not: it keeps its place in the order.
func (t *table[K, V, P]) known(k K) bool {
	for l := t; l != nil; l = l.parent {
		if _, ok := l.own[k]; ok {
			return true
		}
	}
	return false
}

// drop takes a value out of sight in this layer and those above it.
func (t *table[K, V, P]) drop(k K) {
	if t.get(k) == nil {
		return
	}
	if t.own == nil {
		t.own = map[K]*V{}
	}
	t.own[k] = nil
}
