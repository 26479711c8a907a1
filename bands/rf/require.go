package rf

import (
	"slices"
	"strconv"
	"strings"

	"spectally/bands"
)

// UE is what, beside band and channel, the requirements of a UE go by.
type UE struct {
	PowerClass   string // "3" or as [Powers] has it
	ReceivePorts int    // 2, 4, 6 or 8
}

// Receiver is the least sensitive that a receiver may be.
type Receiver struct {
	Level   bands.DB // dBm
	Channel string   // reference channel that has this power, of base stations; else the whole width
	Notes   string   // numbers of notes of the first source, with commas between them
	Sources []bands.Source
}

// Receiver is the reference sensitivity of the UE in an NR band in FR1, with what more
// receive ports add and what a UE of a higher power class with one transmitter may lose.
// Of two values in the table, by what UEs support, it takes the weaker, and that of
// handheld UEs. What the tables lack is a *bands.ValueError.
func (u UE) Receiver(id bands.ID, spacing, width bands.Frequency) (Receiver, error) {
	var r Receiver
	for _, s := range Sensitivities(id) {
		if s.Spacing == spacing && s.Width == width && (r.Sources == nil || s.Level > r.Level) {
			r = Receiver{Level: s.Level, Notes: s.Notes, Sources: []bands.Source{s.Source}}
		}
	}
	if r.Sources == nil {
		return r, lacking("UE REFSENS", id, spacing, width)
	}
	if u.ReceivePorts != 2 {
		ports := MorePorts(id)
		i := slices.IndexFunc(ports, func(p Ports) bool { return p.Ports == u.ReceivePorts && p.Form != "FWA" })
		if i < 0 {
			return r, &bands.ValueError{Param: "receive ports of a UE in " + id.String(), Got: strconv.Itoa(u.ReceivePorts), Allowed: "2, or more for which the tables have a figure"}
		}
		r.Level += ports[i].Delta
		r.Sources = append(r.Sources, ports[i].Source)
	}
	var lost ClassLoss
	for _, l := range ClassLosses(id) {
		if l.Class == u.PowerClass && l.Transmitters == 1 && l.Width == width && l.Loss >= lost.Loss {
			lost = l
		}
	}
	if lost.Class != "" {
		r.Level += lost.Loss
		r.Sources = append(r.Sources, lost.Source)
	}
	return r, nil
}

// Power is the maximum output power of the UE in an NR band in FR1. A power class that the
// tables lack for the band is a *bands.ValueError.
func (u UE) Power(id bands.ID) (Power, error) {
	list := Powers(id)
	if len(list) == 0 {
		return Power{}, &bands.ValueError{Param: "band for UE output power", Got: id.String(), Allowed: tabled}
	}
	var classes []string
	for _, p := range list {
		if p.Class == u.PowerClass {
			return p, nil
		}
		classes = append(classes, p.Class)
	}
	return Power{}, &bands.ValueError{Param: "UE power class in " + id.String(), Got: u.PowerClass, Allowed: strings.Join(classes, " or "), Source: list[0].Source}
}

// Receiver is the reference sensitivity of a base station of the class. Reference channels
// of a width all have the same. What the tables lack is a *bands.ValueError.
func (c StationClass) Receiver(id bands.ID, spacing, width bands.Frequency) (Receiver, error) {
	for _, s := range StationIn(id) {
		if s.Class == c && s.Spacing == spacing && s.Width == width {
			return Receiver{Level: s.Level, Channel: s.Channel, Sources: []bands.Source{s.Source}}, nil
		}
	}
	return Receiver{}, lacking(string(c)+" base station REFSENS", id, spacing, width)
}

// tabled are the bands with figures.
const tabled = "an NR band in FR1 with an entry in the tables here"

func lacking(what string, id bands.ID, spacing, width bands.Frequency) error {
	if id.RAT != bands.NR {
		return &bands.ValueError{Param: "band for " + what, Got: id.String(), Allowed: tabled}
	}
	return &bands.ValueError{Param: "channel for " + what, Got: id.String() + ":" + width.MHz() + " at " + spacing.KHz() + " kHz", Allowed: "a width and spacing with an entry in the tables here"}
}
