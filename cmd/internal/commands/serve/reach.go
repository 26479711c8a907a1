package serve

import (
	"cmp"
	"net"
	"net/netip"
	"slices"
)

// reached lists the addresses at which what listens at one can be asked: that one, or, if
// it is every address of this computer, those by which others reach it, private ones of
// IPv4 first, and at the end that for this computer alone.
func reached(at netip.AddrPort, own []netip.Addr) []netip.AddrPort {
	if !at.Addr().IsUnspecified() {
		return []netip.AddrPort{at}
	}
	var list []netip.AddrPort
	for _, a := range own {
		a = a.Unmap()
		// An address of the link needs the name of the interface, which no browser takes.
		if a.IsLoopback() || a.IsLinkLocalUnicast() || a.Is6() && at.Addr().Is4() {
			continue
		}
		list = append(list, netip.AddrPortFrom(a, at.Port()))
	}
	rank := func(a netip.AddrPort) int {
		switch {
		case a.Addr().Is4() && a.Addr().IsPrivate():
			return 0
		case a.Addr().Is4():
			return 1
		}
		return 2
	}
	slices.SortStableFunc(list, func(x, y netip.AddrPort) int { return cmp.Compare(rank(x), rank(y)) })
	return append(list, netip.AddrPortFrom(netip.AddrFrom4([4]byte{127, 0, 0, 1}), at.Port()))
}

// ownAddresses are those of the interfaces of this computer.
func ownAddresses() ([]netip.Addr, error) {
	list, err := net.InterfaceAddrs()
	if err != nil {
		return nil, err
	}
	var own []netip.Addr
	for _, a := range list {
		if p, err := netip.ParsePrefix(a.String()); err == nil {
			own = append(own, p.Addr())
		}
	}
	return own, nil
}
