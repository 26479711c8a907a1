package web

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"testing"

	"spectally/cmd/internal/render"
)

// manyOf answers with so many elements of about a kilobyte.
func manyOf(n int) *render.Answer {
	filler := fmt.Sprintf("%01000d", 0)
	return &render.Answer{Values: func(yield func(any) bool) {
		for i := range n {
			if !yield(map[string]any{"n": i, "filler": filler}) {
				return
			}
		}
	}}
}

// listOf is the response of a list that is sent while it is made.
func listOf(n int) *response {
	a := manyOf(n)
	return &response{status: http.StatusOK, stream: func(w io.Writer) error { return render.Stream(w, a.Values) }}
}

// A list is the same whether it is made first or sent while it is made.
func TestLongLists(t *testing.T) {
	t.Parallel()
	for n, streams := range map[int]bool{0: false, 10: false, 3000: false, 6000: true} {
		var want bytes.Buffer
		if err := render.Stream(&want, manyOf(n).Values); err != nil {
			t.Fatal(err)
		}
		r, err := listResponse(manyOf(n))
		if err != nil || (r.stream != nil) != streams {
			t.Fatalf("%d elements: streamed %t, %v", n, r.stream != nil, err)
		}
		s, _ := quiet(func([]string, io.Reader) (*render.Answer, error) { return manyOf(n), nil })
		address, _ := start(t, s, patient)
		resp, err := http.Get("http://" + address + "/configs.json")
		if err != nil {
			t.Fatal(err)
		}
		got, err := io.ReadAll(resp.Body)
		resp.Body.Close()
		if err != nil || !bytes.Equal(got, want.Bytes()) || !json.Valid(got) {
			t.Errorf("%d elements: %d bytes, want %d, %v", n, len(got), want.Len(), err)
		}
		if (resp.ContentLength < 0) != streams {
			t.Errorf("%d elements: length %d", n, resp.ContentLength)
		}
	}
}

// A client that gets only a part of a list can tell.
func TestBrokenList(t *testing.T) {
	s, _ := quiet(func([]string, io.Reader) (*render.Answer, error) {
		return &render.Answer{Values: func(yield func(any) bool) {
			filler := fmt.Sprintf("%01000d", 0)
			for i := 0; yield(filler); i++ {
				if i == 6000 { // past what is made first
					yield(func() {}) // cannot be written
					return
				}
			}
		}}, nil
	})
	address, _ := start(t, s, patient)
	resp, err := http.Get("http://" + address + "/configs.json")
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	if n, err := io.Copy(io.Discard, resp.Body); err == nil || !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("%d bytes and %v", n, err)
	}
}
