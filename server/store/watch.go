package store

import gosync "sync"

// Watchers passes on that a stream grew. The zero value is ready.
type Watchers struct {
	mu     gosync.Mutex
	next   int
	byName map[string]map[int]chan struct{}
}

// Watch is Store.Watch.
func (w *Watchers) Watch(stream string) (<-chan struct{}, func()) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.byName == nil {
		w.byName = map[string]map[int]chan struct{}{}
	}
	if w.byName[stream] == nil {
		w.byName[stream] = map[int]chan struct{}{}
	}
	id := w.next
	w.next++
	// One place in the channel is enough: a receiver reads to the head, so a second signal would tell it nothing.
	grew := make(chan struct{}, 1)
	grew <- struct{}{}
	w.byName[stream][id] = grew
	return grew, func() {
		w.mu.Lock()
		defer w.mu.Unlock()
		delete(w.byName[stream], id)
	}
}

// Grew signals everyone who watches a stream. It never waits.
func (w *Watchers) Grew(stream string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, grew := range w.byName[stream] {
		select {
		case grew <- struct{}{}:
		default:
		}
	}
}
