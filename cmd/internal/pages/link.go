package pages

import (
	"net/url"

	"spectally/bands"
	"spectally/ca"
)

// cellLink is the address to which a cell of an answer leads: bands to their page,
// names of configurations to theirs. Empty for all else.
func cellLink(header, cell string) string {
	switch header {
	case "band":
		if id, err := bands.ParseID(cell); err == nil && id.String() == cell {
			return address("/bands", []string{"find"}, url.Values{"find": {cell}})
		}
	case "name":
		if _, err := ca.ParseName(cell); err == nil {
			return address("/configs", []string{"names"}, url.Values{"names": {cell}})
		}
	}
	return ""
}
