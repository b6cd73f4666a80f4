package book

// layered is a map that sees through to the one under it, so that a sum above another costs what it changes. A value that
// was never put is the zero value; to drop one is to put that.
type layered[K comparable, V any] struct {
	under *layered[K, V]
	own   map[K]*V
}

func (l *layered[K, V]) get(k K) V {
	for ; l != nil; l = l.under {
		if v := l.own[k]; v != nil {
			return *v
		}
	}
	var none V
	return none
}

func (l *layered[K, V]) put(k K, v V) {
	*l.at(k) = v
}

// at is this layer's own value, for changing.
func (l *layered[K, V]) at(k K) *V {
	if v := l.own[k]; v != nil {
		return v
	}
	if l.own == nil {
		l.own = map[K]*V{}
	}
	v := new(V)
	*v = l.under.get(k)
	l.own[k] = v
	return v
}

func (l *layered[K, V]) empty() bool {
	return l == nil || len(l.own) == 0 && l.under.empty()
}

// lists are lists by key. What another layer holds is never appended to in place.
type lists[K comparable, E any] struct{ layered[K, []E] }

// grow puts one more behind a list and answers whether it is the first.
func (l *lists[K, E]) grow(k K, e E) bool {
	v := l.own[k]
	if v == nil {
		v = l.at(k)
		*v = (*v)[:len(*v):len(*v)]
	}
	*v = append(*v, e)
	return len(*v) == 1
}

func (l *lists[K, E]) above() lists[K, E] { return lists[K, E]{layered[K, []E]{under: &l.layered}} }
