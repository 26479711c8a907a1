package ca

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"

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
	return parseInto(make(Combination, 0, strings.Count(s, "+")+1), s)
}

func parseInto(list Combination, s string) (Combination, error) {
	rest := s
	for i := 1; ; i++ {
		text, tail, more := strings.Cut(rest, "+")
		c, count, err := parseCarrier(squeeze(text))
		if err == nil && len(list)+count > maxCarriers {
			err = &bands.ValueError{Param: "number of carriers", Got: strconv.Itoa(len(list) + count), Allowed: "1 to " + strconv.Itoa(maxCarriers)}
		}
		if err != nil {
			return nil, &NotationError{Carrier: i, Text: strings.TrimSpace(text), Err: err}
		}
		for range count {
			list = append(list, c)
		}
		if !more {
			return list, nil
		}
		rest = tail
	}
}

// squeeze drops white space, which the notation ignores.
func squeeze(s string) string {
	s = strings.TrimSpace(s)
	if strings.IndexFunc(s, unicode.IsSpace) < 0 {
		return s
	}
	return strings.Join(strings.Fields(s), "")
}

const carrierForm = "band:width, such as n78:80 or B3:20"

func parseCarrier(s string) (c Carrier, count int, err error) {
	if s == "" {
		return c, 0, &bands.ValueError{Param: "carrier", Got: "", Allowed: carrierForm}
	}
	count = 1
	head, keys, hasKeys := strings.Cut(s, ",")
	head, where, hasWhere := strings.Cut(head, "@")
	head, counted, err := parseCount(head, &count)
	if err != nil {
		return c, 0, err
	}
	band, width, ok := strings.Cut(head, ":")
	if !ok {
		if len(s) > 3 && strings.ContainsAny(s, "_") {
			return c, 0, &bands.ValueError{Param: "carrier", Got: s, Allowed: carrierForm + "; a name of the standard such as CA_3A-7A stands alone"}
		}
		return c, 0, &bands.ValueError{Param: "carrier", Got: s, Allowed: carrierForm}
	}
	if c.Band, err = bands.ParseID(band); err != nil {
		return c, 0, err
	}
	if err = c.parseWidth(width); err != nil {
		return c, 0, err
	}
	if hasWhere {
		if counted {
			return c, 0, &bands.ValueError{Param: "place", Got: "@" + where, Allowed: "no place beside a count: write each carrier with its own"}
		}
		if err = c.parseWhere(where); err != nil {
			return c, 0, err
		}
	}
	if hasKeys {
		err = c.parseKeys(keys)
	}
	return c, count, err
}

// parseCount takes "2x" or "2×" off the front of a carrier.
func parseCount(head string, count *int) (rest string, counted bool, err error) {
	end := 0
	for end < len(head) && '0' <= head[end] && head[end] <= '9' {
		end++
	}
	if end == len(head) {
		return head, false, nil
	}
	rest, counted = head[end:], true
	switch {
	case rest[0] == 'x' || rest[0] == 'X':
		rest = rest[1:]
	case strings.HasPrefix(rest, "×"):
		rest = rest[len("×"):]
	default:
		return head, false, nil
	}
	n, err := strconv.Atoi(head[:end])
	if err != nil || n < 1 || n > maxCarriers {
		return "", false, &bands.ValueError{Param: "count", Got: head[:end], Allowed: "1 to " + strconv.Itoa(maxCarriers)}
	}
	*count = n
	return rest, counted, nil
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
	if n := len(s) - 3; n > 0 && strings.EqualFold(s[n:], "MHz") {
		s = s[:n]
	}
	return bands.ParseMHz(s)
}

func (c *Carrier) parseWhere(s string) error {
	if s != "" && strings.IndexFunc(s, func(r rune) bool { return r < '0' || r > '9' }) < 0 {
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
