package ca

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"spectally/bands"
)

// maxCarriers bounds the carriers of a combination. TS 36.331 and TS 38.331 know
// at most 32 serving cells of a UE (from memory).
const maxCarriers = 32

// NotationError reports a fault of the carrier notation and where it is.
type NotationError struct {
	Carrier int    // counted from 1; 0 for the whole text
	Text    string // the carrier as it was written
	Err     error
}

// Error writes the error on one line.
func (e *NotationError) Error() string {
	if e.Carrier == 0 {
		return e.Err.Error()
	}
	var v *bands.ValueError
	if errors.As(e.Err, &v) && v.Param == carrierParam { // the fault is the carrier as a whole
		whole := *v
		whole.Param, whole.Got = v.Param+" "+strconv.Itoa(e.Carrier), e.Text
		return whole.Error()
	}
	return fmt.Sprintf("carrier %d %q: %v", e.Carrier, e.Text, e.Err)
}

// Unwrap returns the fault itself.
func (e *NotationError) Unwrap() error { return e.Err }

// Parse reads carriers in the notation of this program:
//
//	carriers = carrier *( "+" carrier )
//	carrier  = [ count "x" ] band ":" width [ "@" where ] *( "," key "=" value )
//	band     = "n" number | "B" number | number
//	width    = DL [ "/" UL ]
//	where    = channel number | frequency with unit
//
// such as "B3:20 + n78:80@640000,scs=30" or "2xn78:80 + n28:10". Widths are in
// megahertz; one figure stands for both directions, 0 in the uplink for downlink
// only. White space and letter case do not matter. Errors are of type
// *NotationError.
func Parse(s string) (Combination, error) {
	return parseInto(make(Combination, 0, min(strings.Count(s, "+")+1, maxCarriers)), s)
}

func parseInto(list Combination, s string) (Combination, error) {
	for i := 1; ; i++ {
		text, rest, more := strings.Cut(s, "+")
		list = append(list, Carrier{}) // parsed in its place: nothing else is allocated
		c := &list[len(list)-1]
		count, err := c.parse(squeeze(text))
		if total := len(list) - 1 + count; err == nil && total > maxCarriers {
			err = &bands.ValueError{Param: "number of carriers", Got: strconv.Itoa(total), Allowed: "1 to " + strconv.Itoa(maxCarriers)}
		}
		if err != nil {
			if several := joinedByPlus(text); several != "" {
				err = &bands.ValueError{Param: carrierParam, Got: text, Allowed: "carriers with + between them", Nearest: several}
			}
			return nil, &NotationError{Carrier: i, Text: strings.TrimSpace(text), Err: err}
		}
		for first := *c; count > 1; count-- {
			list = append(list, first)
		}
		if !more {
			return list, nil
		}
		s = rest
	}
}

// joinedByPlus is a text of several carriers with blanks between them, as it has to be
// written; empty if it is none.
func joinedByPlus(text string) string {
	var list []string
	for word := range strings.FieldsSeq(text) {
		if n := len(list) - 1; n >= 0 && !strings.Contains(word, ":") {
			list[n] += word
		} else {
			list = append(list, word)
		}
	}
	for _, text := range list {
		if _, err := new(Carrier).parse(text); err != nil || len(list) == 1 {
			return ""
		}
	}
	return strings.Join(list, " + ")
}

// squeeze drops white space, which the notation ignores.
func squeeze(s string) string {
	s = strings.TrimSpace(s)
	for i := range len(s) {
		if s[i] <= ' ' || s[i] >= utf8.RuneSelf {
			return strings.Join(strings.Fields(s), "")
		}
	}
	return s
}

const (
	carrierParam = "carrier"
	carrierForm  = "band:width, such as n78:80 or B3:20"
)

// parse reads a carrier without white space into c, which is zero.
func (c *Carrier) parse(s string) (count int, err error) {
	if s == "" {
		return 0, &bands.ValueError{Param: carrierParam, Got: "", Allowed: carrierForm}
	}
	head, keys, hasKeys := strings.Cut(s, ",")
	head, where, hasWhere := strings.Cut(head, "@")
	head, count, counted, err := parseCount(head)
	if err != nil {
		return 0, err
	}
	band, width, ok := strings.Cut(head, ":")
	if !ok {
		e := &bands.ValueError{Param: carrierParam, Got: s, Allowed: carrierForm}
		if strings.Contains(s, "_") {
			e.Allowed += "; a name of the standard such as CA_3A-7A stands alone"
		}
		return 0, e
	}
	if c.Band, err = bands.ParseID(band); err != nil {
		return 0, err
	}
	if err = c.parseWidth(width); err != nil {
		return 0, err
	}
	if hasWhere {
		if counted {
			return 0, &bands.ValueError{Param: "place", Got: "@" + where, Allowed: "without @ beside a count: write each carrier with its own position"}
		}
		if err = c.parseWhere(where); err != nil {
			return 0, err
		}
	}
	if hasKeys {
		err = c.parseKeys(keys)
	}
	return count, err
}

// parseCount takes "2x" or "2×" off the front of a carrier.
func parseCount(head string) (rest string, count int, counted bool, err error) {
	end := 0
	for end < len(head) && '0' <= head[end] && head[end] <= '9' {
		end++
	}
	if end == 0 || end == len(head) {
		return head, 1, false, nil
	}
	rest = head[end:]
	switch {
	case rest[0] == 'x' || rest[0] == 'X':
		rest = rest[1:]
	case strings.HasPrefix(rest, "×"):
		rest = rest[len("×"):]
	default:
		return head, 1, false, nil
	}
	n, err := strconv.Atoi(head[:end])
	if err != nil || n < 1 || n > maxCarriers {
		return "", 0, false, &bands.ValueError{Param: "count", Got: head[:end], Allowed: "1 to " + strconv.Itoa(maxCarriers)}
	}
	return rest, n, true, nil
}

func (c *Carrier) parseWidth(s string) error {
	down, up, split := strings.Cut(s, "/")
	w, err := parseMegahertz(down)
	if err != nil {
		return &bands.ValueError{Param: "width", Got: s, Allowed: "megahertz such as 20, 1.4, or downlink/uplink such as 20/10 or 20/0"}
	}
	c.Downlink, c.Uplink = w, w
	if split {
		if c.Uplink, err = parseMegahertz(up); err != nil {
			return &bands.ValueError{Param: "uplink width", Got: up, Allowed: "megahertz such as 10, or 0 for downlink only"}
		}
	}
	if c.Downlink == 0 && c.Uplink == 0 {
		return &bands.ValueError{Param: "width", Got: s, Allowed: "a width above zero in at least one direction"}
	}
	return nil
}

// parseMegahertz reads a width with or without the unit MHz.
func parseMegahertz(s string) (bands.Frequency, error) {
	return bands.ParseMHz(withoutUnit(s, "MHz"))
}

// withoutUnit drops a unit that a number may have behind it.
func withoutUnit(s, unit string) string {
	if n := len(s) - len(unit); n > 0 && strings.EqualFold(s[n:], unit) {
		return s[:n]
	}
	return s
}

func (c *Carrier) parseWhere(s string) error {
	if isDigits(s) {
		n, err := strconv.ParseInt(s, 10, 32)
		if err != nil {
			return &bands.ValueError{Param: "channel number", Got: s, Allowed: "0 to 3279165 for NR, 0 to 134441 for LTE"}
		}
		c.Channel, c.HasChannel = int32(n), true
		return nil
	}
	f, err := bands.ParseFrequency(s)
	if err != nil || f == 0 {
		return &bands.ValueError{Param: "place", Got: "@" + s, Allowed: "a channel number such as 640000, or the downlink carrier centre with its unit such as 3540.96MHz"}
	}
	c.Centre = f
	return nil
}

func isDigits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}
