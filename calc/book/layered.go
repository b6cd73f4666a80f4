package book

// layered is a map that sees through to the one under it, so that a sum above another costs what it changes. A value that
// was never put is the zero value; to drop one is to put that.
type layered[K comparable, V any] struct {
	under *layered[K, V]
	own   map[K]V
}

func (l *layered[K, V]) get(k K) V {
	for ; l != nil; l = l.under {
		if v, ok := l.own[k]; ok {
			return v
		}
	}
	var none V
	return none
}

func (l *layered[K, V]) put(k K, v V) {
	if l.own == nil {
		l.own = map[K]V{}
	}
	l.own[k] = v
}

func (l *layered[K, V]) empty() bool {
	return l == nil || len(l.own) == 0 && l.under.empty()
}

// lists are lists by key. What another layer holds is never appended to in place.
type lists[K comparable, E any] struct{ layered[K, []E] }

func (l *lists[K, E]) grow(k K, e E) {
	v, mine := l.own[k]
	if !mine {
		v = l.get(k)
		v = v[:len(v):len(v)]
	}
	l.put(k, append(v, e))
}

func (l *lists[K, E]) above() lists[K, E] { return lists[K, E]{layered[K, []E]{under: &l.layered}} }
