package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

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

// A list is the same whether it is kept as it is or packed.
func TestLongLists(t *testing.T) {
	t.Parallel()
	for _, n := range []int{0, 10, 900, 6000} {
		var want bytes.Buffer
		if err := render.Stream(&want, manyOf(n).Values); err != nil {
			t.Fatal(err)
		}
		s, _ := quiet(func([]string, io.Reader) (*render.Answer, error) { return manyOf(n), nil })
		address, _ := start(t, s, patient)
		client := http.Client{Transport: &http.Transport{DisableCompression: true, DisableKeepAlives: true}} // the length is the text's
		resp, err := client.Get("http://" + address + "/configs.json")
		if err != nil {
			t.Fatal(err)
		}
		got, err := io.ReadAll(resp.Body)
		resp.Body.Close()
		if err != nil || !bytes.Equal(got, want.Bytes()) || !json.Valid(got) {
			t.Errorf("%d elements: %d bytes, want %d, %v", n, len(got), want.Len(), err)
		}
		if resp.ContentLength != int64(len(got)) {
			t.Errorf("%d elements: length %d", n, resp.ContentLength)
		}
	}
}

// A list that cannot be made to its end is no answer, not half of one.
func TestBrokenList(t *testing.T) {
	s, _ := quiet(func([]string, io.Reader) (*render.Answer, error) {
		return &render.Answer{Values: func(yield func(any) bool) {
			filler := fmt.Sprintf("%01000d", 0)
			for i := 0; yield(filler); i++ {
				if i == 6000 {
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
	if n, err := io.Copy(io.Discard, resp.Body); err != nil || resp.StatusCode != http.StatusInternalServerError || n > 1000 {
		t.Errorf("status %d, %d bytes and %v", resp.StatusCode, n, err)
	}
}

// Large documents come a few at a time; one that does not come gives its room up.
func TestLargeDocumentThatDoesNotCome(t *testing.T) {
	s, _ := quiet(said("x"))
	address, _ := start(t, s, patient)
	for range mostInputs {
		c, err := net.Dial("tcp", address)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		fmt.Fprintf(c, "POST /field HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: text/plain\r\nContent-Length: 1000000\r\n\r\nx")
	}
	for len(s.traffic.inputs) < mostInputs {
		time.Sleep(time.Millisecond)
	}
	resp, err := http.Post("http://"+address+"/field.json", "text/plain", strings.NewReader(strings.Repeat("# \n", 100_000)))
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	if resp.StatusCode != http.StatusOK {
		t.Errorf("status %d", resp.StatusCode)
	}
}
