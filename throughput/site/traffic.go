package site

import (
	"spectally/bands"
	"spectally/throughput/exact"
)

// Users is how many users a site serves in the busy hour at the rates of its traffic
// model.
type Users struct {
	// Given tells that the traffic model gives a rate; without one there are no
	// figures.
	Given bool
	// Active is how many can have the rate at once, Served how many the site can have
	// at all: Active times oversubscription, divided by activity.
	Active, Served int64
	// By is the direction that decides.
	By bands.Direction
}

// users counts by what the link lets through.
func (t *Traffic) users(c *SiteCapacity) Users {
	var u Users
	for _, d := range bothDirections {
		rate := t.Rate
		if d == bands.Uplink {
			rate = t.UplinkRate
		}
		if rate.IsZero() {
			continue
		}
		mean := c.Backhaul.In(d).Delivered
		share := exact.Whole(1)
		if !t.Oversubscription.IsZero() {
			share = share.Mul(t.Oversubscription)
		}
		if !t.Activity.IsZero() {
			share = share.Mul(exact.Of(t.Activity.Den, t.Activity.Num))
		}
		each := exact.Of(rate.Den, rate.Num)
		active, served := wholes(mean, each), wholes(mean, each, share)
		if !u.Given || active < u.Active {
			u = Users{Active: active, Served: served, Given: true, By: d}
		}
	}
	return u
}

// Volume is the user data that a site moves, in bytes: that of a day from that of the
// busy hour and its share, that of a month of DaysOfMonth days.
type Volume struct {
	BusyHour, Day, Month DirectionBytes
	// Share is the part of a day's traffic that falls into the busy hour.
	Share exact.Ratio
}

// DirectionBytes are bytes in each direction.
type DirectionBytes struct{ Downlink, Uplink int64 }

// In is the amount in a direction.
func (b *DirectionBytes) In(d bands.Direction) *int64 {
	if d == bands.Uplink {
		return &b.Uplink
	}
	return &b.Downlink
}

func (t *Traffic) volume(c *SiteCapacity) Volume {
	v := Volume{Share: t.BusyHourShare}
	if v.Share.IsZero() {
		v.Share = DefaultBusyHourShare()
	}
	for _, d := range bothDirections {
		mean := c.Backhaul.In(d).Delivered
		day := exact.Of(v.Share.Den, v.Share.Num)
		*v.BusyHour.In(d) = product(bytesOfHour, mean)
		*v.Day.In(d) = product(bytesOfHour, mean, day)
		*v.Month.In(d) = product(bytesOfHour*DaysOfMonth, mean, day)
	}
	return v
}

// bytesOfHour is the number of bytes in an hour at 1 bit/s.
const bytesOfHour = 3600 / 8
