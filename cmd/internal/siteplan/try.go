package siteplan

import (
	"errors"

	"spectally/cmd/internal/tomlfile"
	"spectally/throughput/site"
)

// tryRadio plans a radio by itself, in any environment, so that what does not fit
// together is reported where it stands.
func tryRadio(t *tomlfile.Table, radio *site.Radio) {
	if !t.Faultless() {
		return
	}
	_, err := site.Plan(&site.Site{Sectors: []site.Sector{{
		Environment: site.DenseUrban, Radios: []site.Radio{*radio},
	}}})
	var of *site.Error
	if errors.As(err, &of) {
		key := ""
		if of.Carrier > 0 {
			key = "carriers"
		}
		t.Report(key, withoutPlace(of))
	}
}

// tryOut plans the site, so that what only the whole shows is reported too.
func (r *reader) tryOut(root *tomlfile.Table) {
	_, err := site.Plan(&r.plan.Site)
	var of *site.Error
	switch {
	case err == nil:
		r.tryCoverage()
	case errors.As(err, &of) && of.Sector > 0:
		r.sectors[of.Sector-1].Report("", withoutPlace(of))
	default:
		root.Report("", err)
	}
}

// withoutPlace leaves out the sector and radio, which the place of the problem names.
func withoutPlace(e *site.Error) error {
	return &site.Error{Carrier: e.Carrier, Text: e.Text, Err: e.Err}
}
