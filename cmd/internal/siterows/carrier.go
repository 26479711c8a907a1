package siterows

import (
	"errors"
	"fmt"
	"strconv"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/tomlcarrier"
)

// carriers reads carriers and remembers what stands against them.
type carriers map[ca.Carrier]error

func newCarriers() carriers { return make(carriers) }

// read reads a field that is to be one carrier, and refuses what no carrier of the
// standard can be. What changes from one measurement to the next decides nothing here
// and is left out.
func (k carriers) read(text string) (ca.Carrier, error) {
	list, err := ca.Parse(text)
	if err != nil {
		if n, ok := errors.AsType[*ca.NotationError](err); ok {
			err = n.Err
		}
		if v, ok := errors.AsType[*bands.ValueError](err); ok && v.Param == "carrier" {
			whole := *v
			whole.Got = short(text)
			return ca.Carrier{}, &whole
		}
		return ca.Carrier{}, carrierFault(text, err)
	}
	if len(list) != 1 {
		return ca.Carrier{}, &bands.ValueError{Param: "carrier", Got: short(text), Allowed: "one carrier in a row, and not " + strconv.Itoa(len(list))}
	}
	c := list[0]
	c.PCI, c.HasPCI, c.RSRP, c.SINR = 0, false, ca.Level{}, ca.Level{}
	against, known := k[c]
	if !known {
		tomlcarrier.Check(ca.Combination{c}, func(_ int, _ string, err error) {
			if against == nil {
				against = err
			}
		})
		if len(k) == keptCarriers {
			clear(k)
		}
		k[c] = against
	}
	if against != nil {
		return c, carrierFault(text, against)
	}
	return c, nil
}

// carrierFault says what is wrong with a carrier.
func carrierFault(text string, err error) error {
	return fmt.Errorf("carrier %q: %w", short(text), err)
}
