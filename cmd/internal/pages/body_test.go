package pages

import (
	"bytes"
	"fmt"
	"testing"

	"spectally/cmd/internal/render"
)

// A list is the same whether it is kept as it is or packed.
func TestListResponse(t *testing.T) {
	filler := fmt.Sprintf("%01000d", 0)
	for n, packed := range map[int]bool{0: false, 10: false, 900: false, 6000: true} {
		list := &render.Answer{Values: func(yield func(any) bool) {
			for i := range n {
				if !yield(map[string]any{"n": i, "filler": filler}) {
					return
				}
			}
		}}
		var want, got bytes.Buffer
		if err := render.Stream(&want, list.Values); err != nil {
			t.Fatal(err)
		}
		r, err := listResponse(list)
		if err != nil {
			t.Fatal(err)
		}
		if (r.Body.packed != nil) != packed || packed && r.Body.Size() > want.Len()/10 || r.Body.Length() != want.Len() {
			t.Errorf("%d elements: packed %t, %d of %d bytes", n, r.Body.packed != nil, r.Body.Size(), r.Body.Length())
		}
		if _, err := r.Body.WriteTo(&got); err != nil || !bytes.Equal(got.Bytes(), want.Bytes()) {
			t.Errorf("%d elements: %d bytes, want %d, %v", n, got.Len(), want.Len(), err)
		}
	}
}
