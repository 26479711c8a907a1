package bands

// Direction is the direction of a link.
type Direction uint8

// The two directions. The zero Direction is none.
const (
	Downlink Direction = iota + 1 // towards the UE
	Uplink                        // from the UE
)

// String names the direction in a word: "downlink" or "uplink".
func (d Direction) String() string {
	switch d {
	case Downlink:
		return "downlink"
	case Uplink:
		return "uplink"
	}
	return "none"
}

// Short names the direction in two letters: "dl" or "ul".
func (d Direction) Short() string {
	switch d {
	case Downlink:
		return "dl"
	case Uplink:
		return "ul"
	}
	return ""
}

// directions is a set of directions.
type directions struct{ downlink, uplink bool }

func (d directions) or(e directions) directions {
	return directions{d.downlink || e.downlink, d.uplink || e.uplink}
}

func (d directions) has(dir Direction) bool {
	return dir == Downlink && d.downlink || dir == Uplink && d.uplink
}
