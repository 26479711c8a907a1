package pages

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"errors"
	"math/rand/v2"
	"strings"
	"testing"

	"spectally/cmd/internal/fieldlog"
	"spectally/cmd/internal/siteplan"
)

// Any text comes back from an address as it was.
func TestPack(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	texts := [][]byte{nil, {0, 0xff}, []byte(fieldlog.Demo())}
	for range 100 {
		text := make([]byte, r.IntN(2000))
		for i := range text {
			text[i] = byte(r.IntN(1 + r.IntN(256)))
		}
		texts = append(texts, text)
	}
	for _, text := range texts {
		packed := pack(text)
		if strings.Trim(packed, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_") != "" {
			t.Errorf("%q does not stand in an address as it is", packed)
		}
		if got, err := unpack(packed); err != nil || !bytes.Equal(got, text) {
			t.Errorf("%d bytes came back as %d: %v", len(text), len(got), err)
		}
	}
}

// FuzzUnpack: what anybody may write into an address is unpacked or refused.
func FuzzUnpack(f *testing.F) {
	f.Add(pack([]byte(fieldlog.Demo())))
	f.Add("AAAA")
	f.Add("")
	f.Fuzz(func(t *testing.T, packed string) {
		if text, err := unpack(packed); len(text) > maxInput || err != nil && text != nil {
			t.Errorf("%d bytes, %v", len(text), err)
		}
	})
}

// A short address that would unpack to very much is refused, and costs little.
func TestUnpackIsBounded(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	w, err := flate.NewWriter(&b, flate.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	zeros := make([]byte, 1<<20)
	for range 8 {
		if _, err := w.Write(zeros); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	packed := base64.RawURLEncoding.EncodeToString(b.Bytes())
	if len(packed) > maxPacked {
		t.Fatalf("the address has %d characters", len(packed))
	}
	if text, err := unpack(packed); !errors.Is(err, errTooLong) || text != nil {
		t.Errorf("%d bytes, %v", len(text), err)
	}
	most := bytes.Repeat([]byte("# comment\n"), maxInput/10)
	if text, err := unpack(pack(most)); err != nil || !bytes.Equal(text, most) {
		t.Errorf("a document as long as allowed: %d bytes, %v", len(text), err)
	}
}

// The example and the template fit into an address.
func TestExamplesFit(t *testing.T) {
	for _, text := range []string{fieldlog.Demo(), fieldlog.Template(), siteplan.Demo(), siteplan.Template()} {
		if n := len(pack([]byte(text))); n > maxPacked/4 {
			t.Errorf("%d bytes need %d characters", len(text), n)
		}
	}
}
