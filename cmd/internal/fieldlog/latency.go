package fieldlog

import (
	"math/big"

	"spectally/cmd/internal/claim"
)

func latencyOf(n *Network) LatencyReport {
	idle, down, up := valuesOf(n, idleOf), valuesOf(n, loadedDownOf), valuesOf(n, loadedUpOf)
	base := claim.Median(idle)
	return LatencyReport{
		Idle: spreadOf(idle), LoadedDown: spreadOf(down), LoadedUp: spreadOf(up),
		Added:          Loaded{float(addedAt(n, loadedDownOf)), float(addedAt(n, loadedUpOf))},
		RoundTrips:     Loaded{float(roundTrips(claim.Median(down))), float(roundTrips(claim.Median(up)))},
		IdleRoundTrips: float(roundTrips(base)),
	}
}

// added is the latency that load adds; nil if either is not known.
func added(loaded, idle *big.Rat) *big.Rat {
	if loaded == nil || idle == nil {
		return nil
	}
	return new(big.Rat).Sub(loaded, idle)
}

// roundTrips is how many round trips of so many ms fit into a minute; nil if the
// time is not known.
func roundTrips(ms *big.Rat) *big.Rat {
	if ms == nil || ms.Sign() <= 0 {
		return nil
	}
	return claim.RoundTripsPerMinute(ms)
}
