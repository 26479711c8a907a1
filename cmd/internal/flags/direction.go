package flags

import "spectally/bands"

// NewDirection makes a flag for the direction of a link.
func NewDirection() Choice {
	down, up := bands.Downlink.Short(), bands.Uplink.Short()
	return Choice{Param: "direction", Names: []string{down, up}, Index: -1,
		Others: map[string]string{"downlink": down, "down": down, "download": down, "uplink": up, "up": up, "upload": up}}
}

// Direction is the direction chosen; none if none was.
func (c *Choice) Direction() bands.Direction {
	if !c.Given() {
		return 0
	}
	return bands.Direction(c.Index + 1)
}
