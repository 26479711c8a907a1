package batch

import "sync"

// cache keeps the values of the keys that were asked for last. When it is half full
// the older half is forgotten but for what is asked for again: what many rows repeat
// stays, and the room is bounded.
type cache[V any] struct {
	half       int // how many keys are kept in each half
	young, old map[string]V
}

// maxKey is the longest key that is kept.
const maxKey = 1 << 10

func newCache[V any](keys int) cache[V] {
	return cache[V]{half: max(1, keys/2), young: map[string]V{}}
}

func (c *cache[V]) get(key []byte) (V, bool) {
	if v, ok := c.young[string(key)]; ok {
		return v, true
	}
	v, ok := c.old[string(key)]
	if ok {
		c.put(key, v)
	}
	return v, ok
}

func (c *cache[V]) put(key []byte, v V) {
	if len(key) > maxKey {
		return
	}
	if len(c.young) >= c.half {
		c.old, c.young = c.young, make(map[string]V, c.half)
	}
	c.young[string(key)] = v
}

// shared is a cache for several goroutines.
type shared[V any] struct {
	mu sync.Mutex
	c  cache[V]
}

func (s *shared[V]) get(key []byte) (V, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.c.get(key)
}

func (s *shared[V]) put(key []byte, v V) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.c.put(key, v)
}

// How many keys are kept: of texts over all workers, of combinations, and of forms.
const (
	keptTexts    = 32 << 10
	keptAnswers  = 16 << 10
	keptVerdicts = 16 << 10
)

// book holds what was found out, for all workers.
type book struct {
	style    style
	answers  shared[*answer]
	verdicts shared[*verdict]
}

func newBook(s style) *book {
	return &book{
		style:    s,
		answers:  shared[*answer]{c: newCache[*answer](keptAnswers)},
		verdicts: shared[*verdict]{c: newCache[*verdict](keptVerdicts)},
	}
}
