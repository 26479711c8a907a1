package batch

import (
	"bytes"
	"errors"
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
)

var errEmpty = errors.New("empty: must be a header row with a column " + fieldCarriers + ", and rows")

// newCSVForm reads the header, unless the columns are known.
func newCSVForm(s style, set *Settings, separator byte, src *source) (*csvForm, error) {
	f := &csvForm{separator: separator, style: s}
	names := set.Columns
	if len(names) == 0 {
		text, err := f.readHeader(src)
		if err != nil {
			return nil, err
		}
		f.header = append([]byte{}, text...)
		names = f.names(f.header)
	}
	f.columns = len(names)
	for _, name := range columnNames {
		if slices.Contains(names, s.prefix+name) {
			return nil, &bands.ValueError{Param: "column", Got: s.prefix + name, Allowed: "names other than those that are added: --prefix puts something before them"}
		}
	}
	var err error
	f.use, err = findColumns(names, set.Map)
	if err != nil && len(names) == 1 {
		for _, other := range ";\t|," {
			if strings.ContainsRune(names[0], other) && byte(other) != separator {
				return nil, &bands.ValueError{Param: "header", Got: short(names[0]), Allowed: "names with " + separatorName(separator) + " between them", Nearest: "--separator " + separatorName(byte(other))}
			}
		}
	}
	return f, err
}

// HeaderNames reads the names of columns as they stand in a header row.
func HeaderNames(header string, separator byte) ([]string, error) {
	f := &csvForm{separator: separator}
	text := []byte(strings.TrimPrefix(header, string(bomUTF8)))
	src := newSource(bytes.NewReader(text), false)
	row, length, err := f.firstRow(src)
	if err == nil && length < len(text) {
		err = errors.New("header: more than one row")
	}
	if err != nil {
		return nil, err
	}
	return f.names(bytes.Clone(row)), nil
}

func separatorName(separator byte) string {
	if separator == '\t' {
		return "tab"
	}
	return strconv.Quote(string(separator))
}

// readHeader takes the first row that is not blank off the input.
func (f *csvForm) readHeader(src *source) ([]byte, error) {
	for {
		text, n, err := f.firstRow(src)
		if err != nil {
			return nil, err
		}
		text = bytes.Clone(text)
		src.consume(n)
		if len(text) > 0 {
			return text, nil
		}
	}
}

func (f *csvForm) firstRow(src *source) (text []byte, length int, err error) {
	for size := src.chunk; ; {
		b := src.window(size)
		end, n, _, state := f.scan(b, nil)
		whole := state == scanWhole
		if state == scanMore && src.atEnd(b) {
			whole, end = true, withoutCR(b[:end])
		}
		switch {
		case whole && bytes.IndexByte(b[:end], 0) >= 0:
			return nil, 0, errors.New("header: " + reasonNUL)
		case whole && bytes.IndexByte(b[:end], '"') < 0 && bytes.IndexByte(b[:end], '\r') >= 0:
			return nil, 0, errors.New("header: " + scanReasons[scanCarriage])
		case len(b) == 0 && src.ended != nil:
			if err := src.fault(); err != nil {
				return nil, 0, err
			}
			return nil, 0, errEmpty
		case whole:
			return b[:end], n, nil
		case state > scanMore && (state != scanOpen || src.atEnd(b)):
			reason, _ := fault(b, n, state)
			return nil, 0, errors.New("header: " + reason)
		case len(b) == maxRow:
			return nil, 0, errors.New("header: the first row is longer than " + maxRowText)
		case src.fault() != nil:
			return nil, 0, src.fault()
		case len(b) == size:
			size = min(2*size, maxRow)
		}
	}
}

// names are the fields of a header.
func (f *csvForm) names(header []byte) []string {
	_, _, spans, _ := f.scan(header, make([]span, 0, 16))
	if len(spans) == 0 {
		spans = splitPlain(spans, header, 0, f.separator)
	}
	names := make([]string, len(spans))
	for i, s := range spans {
		value := header[s.begin:s.end]
		if s.escaped {
			value = undoubled(nil, value)
		}
		names[i] = strings.TrimSpace(string(value))
	}
	return names
}

// findColumns finds the column of each field: that of its mapping, else that of its
// name, in which letter case does not matter.
func findColumns(names []string, mapping map[string]string) (columnUse, error) {
	var found [len(fieldNames)]int
	for i, field := range fieldNames {
		column, mapped := mapping[field]
		if !mapped {
			column = field
		}
		n, err := findColumn(names, column, !mapped)
		if err != nil {
			return columnUse{}, err
		}
		if n < 0 && (mapped || field == fieldCarriers) {
			return columnUse{}, &bands.ValueError{Param: "column for " + field, Got: column, Allowed: short(strings.Join(names, ", ")), Nearest: nearestName(names, column)}
		}
		found[i] = n
	}
	return columnUse{found[0], [figureCount]int(found[1:])}, nil
}

// findColumn finds a name; -1 if it is not there.
func findColumn(names []string, column string, fold bool) (int, error) {
	found := -1
	for i, name := range names {
		if name != column && !(fold && strings.EqualFold(name, column)) {
			continue
		}
		if found >= 0 {
			return -1, &bands.ValueError{Param: "header", Got: name, Allowed: "one column of that name, since it is read"}
		}
		found = i
	}
	return found, nil
}

// nearestName is the name that a mistyped one was most likely meant to be; empty if
// there is none.
func nearestName(names []string, mistyped string) string {
	best, least := "", max(1, len(mistyped)/2)+1
	for _, name := range names {
		if d := bands.EditDistance(strings.ToLower(mistyped), strings.ToLower(name)); d < least {
			best, least = name, d
		}
	}
	return best
}

// newJSONForm gathers the keys that matter.
func newJSONForm(s style, set *Settings) (*jsonForm, error) {
	if len(set.Columns) > 0 {
		return nil, errors.New("JSON lines have keys: columns cannot be named for them")
	}
	f := &jsonForm{keys: map[string]jsonKey{}, style: s}
	for _, name := range columnNames {
		f.keys[s.prefix+name] = keyAnswer
	}
	for i, field := range fieldNames {
		key := field
		if mapped, ok := set.Map[field]; ok {
			key = mapped
		}
		if f.keys[key] != 0 {
			return nil, &bands.ValueError{Param: "key for " + field, Got: key, Allowed: "a key for each field, and none of those that are added"}
		}
		f.keys[key] = keyCarriers + jsonKey(i)
	}
	return f, nil
}
