package pages

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/url"
	"strings"

	"spectally/cmd/internal/tomlfile"
)

// maxInput is the largest document that is read, in bytes.
const maxInput = tomlfile.MaxSize

// MaxBody is the largest form that holds a document, in bytes: it may write a byte of
// its text as three.
const MaxBody = maxInput*3 + 64<<10

// maxPacked is how many characters of an address a packed document may be; longer
// ones are answered without an address of their own.
const maxPacked = 32 << 10

// document is a text that a page reads: a field log, a plan of a site. It is pasted
// or sent as a file, and comes back packed in the address of its answer.
type document struct {
	name  string // of the parameter that holds it
	label string
	file  string // how the command line calls it
	form  string // what it is written in, where that is not TOML
	// demo is an example of one, and template one to fill in.
	demo, template func() string
}

// The parameters that ask for the example that the command reports on, and for one to
// fill in.
const (
	demoName     = "demo"
	templateName = "template"
)

func (d *document) names() []string { return []string{d.name, demoName, templateName} }

// text is what the form shows of a document.
func (d *document) text(q *query) string {
	switch {
	case q.value(demoName) != "":
		return d.demo()
	case q.value(templateName) != "" && q.input == nil:
		return d.template()
	}
	return string(q.input)
}

// arguments are those by which the command gets the document.
func (d *document) arguments(q *query) []string {
	switch {
	case q.value(demoName) != "":
		return []string{"--demo"}
	case q.input != nil:
		return []string{"-"}
	}
	return nil
}

// pack makes a text short enough for an address, and safe in it.
func pack(text []byte) string {
	var b bytes.Buffer
	w, err := flate.NewWriter(&b, flate.BestCompression)
	if err != nil {
		panic(err) // the level is one of the package's own
	}
	if _, err = w.Write(text); err == nil {
		err = w.Close()
	}
	if err != nil {
		panic(err) // a buffer takes all
	}
	return base64.RawURLEncoding.EncodeToString(b.Bytes())
}

var errTooLong = errors.New("it is longer than a document may be")

// unpack reads what pack wrote. However much it would unpack to, no more than a
// document is read.
func unpack(packed string) ([]byte, error) {
	compressed, err := base64.RawURLEncoding.DecodeString(packed)
	if err != nil {
		return nil, err
	}
	text, err := io.ReadAll(io.LimitReader(flate.NewReader(bytes.NewReader(compressed)), maxInput+1))
	if err != nil {
		return nil, err
	}
	if len(text) > maxInput {
		return nil, errTooLong
	}
	return text, nil
}

// unpack reads the document in the address of a query.
func (d *document) unpack(q *query) *fault {
	given := 0
	for _, name := range d.names() {
		v := q.value(name)
		if v != "" {
			given++
		}
		if v != "" && v != checked && name != d.name {
			return &fault{statusBadRequest, fmt.Sprintf("%s %q: must be %s", name, v, checked), nil, ""}
		}
	}
	if given > 1 {
		return &fault{statusBadRequest, "parameters " + strings.Join(d.names(), ", ") + ": must be one of them", nil, ""}
	}
	packed := q.value(d.name)
	if packed == "" {
		return nil
	}
	text, err := unpack(packed)
	if err != nil {
		delete(q.values, d.name)
		return &fault{statusBadRequest, fmt.Sprintf("parameter %q: the address holds no whole document (%v)", d.name, err), nil, ""}
	}
	q.input = text
	return nil
}

// receive takes a document out of what was sent. If it fits into an address, and a page is
// wanted, that address is returned.
func (p *page) receive(kind string, sent []byte, f format) (q *query, address string, bad *fault) {
	q = &query{page: p, values: map[string]string{}}
	values, text, err := readForm(kind, sent, p.takes.name)
	if err != nil {
		return q, "", &fault{statusBadRequest, "the form cannot be read: " + err.Error(), nil, ""}
	}
	if q, bad = p.read(values); bad != nil {
		return q, "", bad
	}
	if len(text) > maxInput {
		return q, "", &fault{statusRequestEntityTooLarge, fmt.Sprintf("%s of %d bytes: must be at most %d", p.takes.file, len(text), maxInput), nil, ""}
	}
	if len(bytes.TrimSpace(text)) == 0 {
		return q, "", &fault{statusBadRequest, "nothing was sent: paste the text, or choose a file", nil, ""}
	}
	if packed := pack(text); f.page && len(packed) <= maxPacked {
		q.values[p.takes.name] = packed
		return q, p.path + "?" + q.encode(), nil
	}
	q.input = text
	return q, "", nil
}

// readForm reads a form, or a bare document, and returns the document apart from the
// values. Nothing is written to disk: the form is no larger than what is kept in
// memory.
func readForm(contentType string, sent []byte, name string) (values url.Values, text []byte, err error) {
	kind, parameters, err := mime.ParseMediaType(contentType)
	if err != nil {
		return nil, nil, err
	}
	values = url.Values{}
	switch kind {
	case "multipart/form-data":
		values, text, err = readParts(parameters["boundary"], sent)
	case "application/x-www-form-urlencoded":
		values, err = url.ParseQuery(string(sent))
	case "application/toml", "text/plain", "text/csv", "application/x-ndjson":
		text = sent
	default:
		err = fmt.Errorf("content type %q: must be a form, application/toml, text/plain, text/csv or application/x-ndjson", kind)
	}
	if err != nil {
		return nil, nil, err
	}
	if len(text) == 0 {
		// A browser ends the lines of a text field by two characters.
		text = []byte(strings.ReplaceAll(values.Get(name), "\r\n", "\n"))
	}
	delete(values, name)
	delete(values, "file") // a browser sends it as an empty value where none was chosen
	return values, text, nil
}

// readParts reads a form in parts, and the file in it; that is empty if none was chosen.
func readParts(boundary string, sent []byte) (url.Values, []byte, error) {
	if boundary == "" {
		return nil, nil, errors.New("its content type names no boundary")
	}
	form, err := multipart.NewReader(bytes.NewReader(sent), boundary).ReadForm(MaxBody)
	if err != nil {
		return nil, nil, err
	}
	files := form.File["file"]
	if len(files) == 0 {
		return form.Value, nil, nil
	}
	file, err := files[0].Open()
	if err != nil {
		return nil, nil, err
	}
	defer file.Close()
	text, err := io.ReadAll(file)
	return form.Value, text, err
}
