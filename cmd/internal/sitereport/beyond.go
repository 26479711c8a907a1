package sitereport

import (
	"errors"
	"slices"
	"strings"

	"spectally/bands"
	"spectally/cmd/internal/render"
)

// beyond is one limit of the models that figures of the plan lie outside of.
type beyond struct {
	param, allowed string
	source         bands.Source
	extrapolated   bool
	carriers, got  []string
}

// reachNotes says what is outside the validity of the models: each limit once, with the
// carriers that pass it and the way on.
func (s *study) reachNotes() render.Points {
	var list []beyond
	var other []string
	note := func(carrier string, err error, extrapolated bool) {
		v, ok := errors.AsType[*bands.ValueError](err)
		if !ok {
			if err != nil && !slices.Contains(other, err.Error()) {
				other = append(other, err.Error())
			}
			return
		}
		i := slices.IndexFunc(list, func(b beyond) bool {
			return b.param == v.Param && b.allowed == v.Allowed && b.extrapolated == extrapolated
		})
		if i < 0 {
			i = len(list)
			list = append(list, beyond{param: v.Param, allowed: v.Allowed, source: v.Source, extrapolated: extrapolated})
		}
		b := &list[i]
		if !slices.Contains(b.carriers, carrier) {
			b.carriers = append(b.carriers, carrier)
		}
		if !slices.Contains(b.got, v.Got) {
			b.got = append(b.got, v.Got)
		}
	}
	for i := range s.reaches {
		r := &s.reaches[i]
		name := carrierName(&r.carrier)
		for _, l := range r.links() {
			for _, e := range l.Beyond {
				note(name, e, true)
			}
			note(name, l.RangeError, false)
		}
		for _, e := range r.At.Beyond {
			note(name, e, true)
		}
		note(name, r.RSRPError, false)
	}
	points := render.Points(other)
	missing := false
	for i := range list {
		points = append(points, list[i].sentence())
		missing = missing || !list[i].extrapolated
	}
	if missing {
		points = append(points, "The way on: extrapolate = true in [coverage] works such figures out and marks them; or take a model that holds there.")
	}
	return points
}

func (b *beyond) sentence() string {
	got := b.got[0]
	if n := len(b.got); n > 1 {
		got = itoa(n) + " values such as " + got
	}
	done := "not worked out"
	if b.extrapolated {
		done = "extrapolated"
	}
	basis := ""
	if b.source != (bands.Source{}) {
		basis = " (" + b.source.Short() + ")"
	}
	return "The model has the " + b.param + " from " + b.allowed + basis + "; " + got + " on " + strings.Join(b.carriers, ", ") + ": " + done + "."
}
