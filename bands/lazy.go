package bands

import "sync"

// lazy returns a function that loads a table when it is first called.
func lazy[T any](load func() T) func() T { return sync.OnceValue(load) }
