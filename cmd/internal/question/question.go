// Package question answers what is asked without naming a command: carriers, a
// configuration, a band, a name of the trade, a frequency or a range, a channel number, a
// TDD pattern or a transfer. The answer is short; the command it stands for has the rest.
package question

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/notation"
	"spectally/cmd/internal/quantity"
	"spectally/cmd/internal/spectrum"
)

// Kind is what is asked about.
type Kind string

// The kinds of questions.
const (
	Carriers      Kind = "carriers"
	Configuration Kind = "configuration"
	Band          Kind = "band"
	Name          Kind = "name"
	Frequency     Kind = "frequency"
	Range         Kind = "range"
	Channel       Kind = "channel"
	Pattern       Kind = "pattern"
	Transfer      Kind = "transfer"
)

// Question is a question that was read.
type Question struct {
	Text string
	Kind Kind
	// Command is the command line, without the program, that answers in full.
	Command []string

	bands     []*bands.Band // without widths, or of a name
	frequency bands.Frequency
	span      bands.Span
	size      quantity.Size
	seconds   quantity.Decimal
}

const allowed = "carriers such as B3:20 + n78:80, a configuration such as CA_3A-7A, a band, a frequency such as 3540MHz, a range such as 3410-3500MHz, a channel number, a TDD pattern such as DDDSU, or a transfer such as 1 GB in 30 s"

// Read reads a question. The error of one that cannot be read is a *bands.ValueError, or
// that of the carriers that it seems to be.
func Read(text string) (*Question, error) {
	text = strings.ReplaceAll(strings.Join(strings.Fields(text), " "), "–", "-") // as answers write a range
	for _, read := range [...]func(string) (*Question, error){
		readName, readTransfer, readPattern, readBands, readSpectrum, readCarriers, readTradeName,
	} {
		if q, err := read(text); q != nil || err != nil {
			if q != nil {
				q.Text = text
			}
			return q, err
		}
	}
	return nil, &bands.ValueError{Param: "question", Got: text, Allowed: allowed}
}

func readName(s string) (*Question, error) {
	_, is, err := ca.ReadName(s)
	if !is || err != nil {
		return nil, err
	}
	return &Question{Kind: Configuration, Command: []string{"ca", s}}, nil
}

// readTransfer reads "1 GB in 30 s".
func readTransfer(s string) (*Question, error) {
	size, time, ok := strings.Cut(s, " in ")
	if !ok {
		return nil, nil
	}
	z, err := quantity.ParseSize(size)
	if err != nil {
		return nil, err
	}
	d, err := quantity.Seconds.Parse(time)
	if err != nil {
		return nil, err
	}
	return &Question{Kind: Transfer, Command: []string{"claim", "--transfer", z.String(), "--in", d.String()}, size: z, seconds: d}, nil
}

// readPattern reads slots of NR or a frame of LTE. Letters alone decide: 2/7 is a frame,
// 27 a number.
func readPattern(s string) (*Question, error) {
	upper := strings.ToUpper(s)
	slots := strings.Trim(upper, "DSU0123456789/:-") == "" && strings.ContainsAny(upper, "DU") && strings.Trim(upper, "0123456789DSU/:-") == ""
	lte := len(s) > 2 && strings.Count(s, "/") == 1 && strings.Trim(s, "0123456789/") == ""
	if !slots && !lte {
		return nil, nil
	}
	if _, err := flags.ReadFrame(s); err != nil {
		return nil, err
	}
	return &Question{Kind: Pattern, Command: []string{"frames", s}}, nil
}

// readBands reads bands without widths: one, or several joined by +.
func readBands(s string) (*Question, error) {
	if strings.ContainsAny(s, ":@") {
		return nil, nil
	}
	parts := strings.Split(s, "+")
	q := &Question{}
	var names []string
	for _, part := range parts {
		part = strings.TrimSpace(part)
		id, err := bands.ParseID(part)
		if err != nil {
			return nil, nil
		}
		b, err := bands.Lookup(id)
		if err != nil {
			if len(parts) == 1 && strings.Trim(part, "0123456789") == "" {
				return nil, nil // a channel number
			}
			return nil, err
		}
		q.bands, names = append(q.bands, b), append(names, id.String())
	}
	if len(parts) == 1 {
		q.Kind, q.Command = Band, []string{"bands", names[0]}
		return q, nil
	}
	q.Kind, q.Command = Carriers, []string{"configs", "--with", strings.Join(names, ","), "--only"}
	return q, nil
}

// readSpectrum reads a frequency, a range of frequencies, or a channel number, which a bare
// whole number is where a band has it.
func readSpectrum(s string) (*Question, error) {
	number, notNumber := strconv.ParseInt(s, 10, 32)
	text := s
	if strings.Trim(s, "0123456789.") == "" {
		text += " MHz"
	}
	f, notFrequency := bands.ParseFrequency(text)
	switch {
	case notNumber == nil && number >= 0 && (isChannel(int32(number)) || len(bands.At(f)) == 0):
		return &Question{Kind: Channel, Command: []string{"channel", strconv.FormatInt(number, 10)}, frequency: f}, nil
	case notFrequency == nil:
		return &Question{Kind: Frequency, Command: []string{"bands", f.MHz() + "MHz"}, frequency: f}, nil
	}
	low, high, ok := strings.Cut(s, "-")
	if bad := spectrum.FrequencyError(s); !ok && bad != nil {
		return nil, bad
	}
	if !ok || low == "" || low[0] < '0' || low[0] > '9' {
		return nil, nil
	}
	low, high = strings.TrimSpace(low), strings.TrimSpace(high)
	unit := strings.TrimLeft(high, "0123456789. ")
	if unit == "" {
		high, unit = high+" MHz", "MHz"
	}
	if strings.Trim(low, "0123456789. ") == "" {
		low += " " + unit
	}
	from, err := bands.ParseFrequency(low)
	if err != nil {
		return nil, nil
	}
	to, err := bands.ParseFrequency(high)
	if err != nil {
		return nil, nil
	}
	if from >= to {
		return nil, &bands.ValueError{Param: "range", Got: s, Allowed: "the lower edge first, such as 3410-3500MHz", Nearest: to.MHz() + "-" + from.MHz() + "MHz"}
	}
	q := &Question{Kind: Range, Command: []string{"bands"}, span: bands.Span{Low: from, High: to}}
	q.bands = containing(q.inRange)
	for _, b := range q.bands {
		q.Command = append(q.Command, b.ID.String())
	}
	if len(q.bands) == 0 {
		return nil, &bands.ValueError{Param: "range", Got: s, Allowed: "within a band of LTE or NR"}
	}
	return q, nil
}

// isChannel tells whether a band has a channel of this number.
func isChannel(n int32) bool {
	return len(bands.ByChannel(bands.LTE, n)) > 0 || len(bands.ByChannel(bands.NR, n)) > 0
}

func readCarriers(s string) (*Question, error) {
	if !strings.ContainsAny(s, ":@+") {
		return nil, nil
	}
	if _, err := ca.Parse(s); err != nil {
		return nil, notation.Explain(err)
	}
	return &Question{Kind: Carriers, Command: []string{"ca", s}}, nil
}

func readTradeName(s string) (*Question, error) {
	list, err := bands.ByName(s)
	if err != nil || len(list) == 0 {
		return nil, nil
	}
	nr := slices.DeleteFunc(slices.Clone(list), func(b *bands.Band) bool { return b.ID.RAT != bands.NR })
	lte := slices.DeleteFunc(slices.Clone(list), func(b *bands.Band) bool { return b.ID.RAT == bands.NR })
	return &Question{Kind: Name, Command: []string{"bands", s}, bands: append(nr, lte...)}, nil
}
