package flags

import "spectally/bands"

// NewDirection makes a flag for the direction of a link.
func NewDirection() Choice {
	return Choice{Param: "direction", Names: []string{bands.Downlink.Short(), bands.Uplink.Short()}, Index: -1}
}

// Direction is the direction chosen; none if none was.
func (c *Choice) Direction() bands.Direction {
	if !c.Given() {
		return 0
	}
	return bands.Direction(c.Index + 1)
}
