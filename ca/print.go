package ca

import (
	"strconv"
	"strings"
)

// String writes the combination in the notation that [Parse] reads; equal
// neighbours without a place are counted: "2xn78:80 + B3:20".
func (c Combination) String() string {
	var s strings.Builder
	for i := 0; i < len(c); {
		n := 1
		for !c[i].IsPlaced() && i+n < len(c) && c[i+n] == c[i] {
			n++
		}
		if i > 0 {
			s.WriteString(" + ")
		}
		if n > 1 {
			s.WriteString(strconv.Itoa(n))
			s.WriteByte('x')
		}
		c[i].write(&s)
		i += n
	}
	return s.String()
}

// String writes the carrier in the notation that [Parse] reads.
func (c Carrier) String() string {
	var s strings.Builder
	c.write(&s)
	return s.String()
}

func (c *Carrier) write(s *strings.Builder) {
	s.WriteString(c.Band.String())
	s.WriteByte(':')
	s.WriteString(c.Downlink.MHz())
	if c.Uplink != c.Downlink {
		s.WriteByte('/')
		s.WriteString(c.Uplink.MHz())
	}
	switch {
	case c.HasChannel:
		s.WriteByte('@')
		s.WriteString(strconv.Itoa(int(c.Channel)))
	case c.Centre != 0:
		s.WriteByte('@')
		s.WriteString(c.Centre.MHz())
		s.WriteString("MHz")
	}
	for i := range keys {
		if v := keys[i].write(c); v != "" {
			s.WriteByte(',')
			s.WriteString(keys[i].name)
			s.WriteByte('=')
			s.WriteString(v)
		}
	}
}
