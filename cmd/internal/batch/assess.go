package batch

import (
	"errors"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/products"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// finding is what was found out about a combination, as the commands ca and
// throughput do.
type finding struct {
	reason        string  // why it cannot be used; empty if it can
	rule          ca.Rule // of the first error; empty if there is none
	configuration string
	sets          []int
	total         ca.Total
	hits          int    // products of the uplinks that fall on a downlink
	worst         string // that of the lowest order
	// The rates are not given where a carrier is such that it has none.
	downlink, uplink throughput.Rates
}

// verdict is what the lists of the standard say of the forms of a combination.
type verdict struct {
	rule          ca.Rule // that is broken; empty if none is
	configuration string
	sets          []int
}

// find answers a text: carriers in the notation of package ca, or a name of the
// standard.
func (b *book) find(text string) *answer {
	f := &finding{}
	var err error
	if name, isName, nameErr := ca.ReadName(text); isName {
		if err = nameErr; err == nil {
			err = f.of(ca.AssessName(name), b)
		}
	} else {
		var list ca.Combination
		if list, err = ca.Parse(text); err == nil {
			return b.findCarriers(list)
		}
		if fixed, found := withoutDecimalComma(text); found {
			err = &bands.ValueError{Param: fieldCarriers, Got: short(text), Allowed: "a decimal point, not a decimal comma", Nearest: short(fixed)}
		}
	}
	if err != nil {
		f.reason = carriersFault(err)
	}
	return b.style.answerOf(f)
}

// carriersFault writes an error about carriers.
func carriersFault(err error) string {
	if v, ok := errors.AsType[*bands.ValueError](err); ok && v.Param == fieldCarriers {
		return cutTo(err.Error(), maxReason)
	}
	return fieldCarriers + ": " + cutTo(err.Error(), maxReason)
}

// maxReason is how much of a reason is written: it may quote what is long.
const maxReason = 500

// findCarriers answers carriers. What changes from one measurement to the next, cell
// identities and levels, decides nothing and is left out first.
func (b *book) findCarriers(list ca.Combination) *answer {
	for i := range list {
		c := &list[i]
		c.PCI, c.HasPCI, c.RSRP, c.SINR = 0, false, ca.Level{}, ca.Level{}
	}
	key := appendKey(make([]byte, 0, 256), list)
	if a, ok := b.answers.get(key); ok {
		return a
	}
	f := &finding{}
	if err := f.of(ca.Assess(list), b); err != nil {
		f.reason = carriersFault(err)
	}
	a := b.style.answerOf(f)
	b.answers.put(key, a)
	return a
}

// of takes what is known of a combination. It is an error if a TDD pattern cannot be
// read, or if there is nothing wrong but that there are no rates.
func (f *finding) of(a *ca.Assessment, b *book) error {
	shares, err := throughput.DownlinkShares(a)
	if err != nil {
		return err
	}
	f.total = a.Sum(shares)
	v := b.verdictOn(a)
	f.configuration, f.sets, f.rule = v.configuration, v.sets, v.rule
	for _, r := range a.RuleFindings() {
		if r.Severity == ca.Error {
			f.rule = r.Rule
			break
		}
	}
	if len(a.Carriers) == 0 {
		return nil // a name of which the widths are not known
	}
	f.worst, f.hits = products.Worst(a)
	return f.rate(a)
}

// rate works the rates out.
func (f *finding) rate(a *ca.Assessment) error {
	r, err := throughput.Rate(a)
	if err == nil {
		err = r.Schedule(throughput.Settings{})
	}
	if err != nil {
		if f.rule != "" {
			return nil // a carrier that is not allowed need not have rates
		}
		return err
	}
	f.downlink, f.uplink = r.Downlink, r.Uplink
	for _, d := range [...]*throughput.Rates{&f.downlink, &f.uplink} {
		if d.Scheduled.IsZero() { // no carrier has the direction
			d.Schedulable, d.Scheduled = exact.Whole(0), exact.Whole(0)
		}
	}
	return nil
}

// verdictOn looks up the configurations that the carriers can form.
func (b *book) verdictOn(a *ca.Assessment) *verdict {
	forms, complete := a.Formed()
	if !complete || len(forms) == 0 { // so that the forms do not tell combinations apart
		return newVerdict(a)
	}
	key := appendForms(make([]byte, 0, 256), a.Kind, forms)
	if v, ok := b.verdicts.get(key); ok {
		return v
	}
	v := newVerdict(a)
	b.verdicts.put(key, v)
	return v
}

func newVerdict(a *ca.Assessment) *verdict {
	l, broken := a.Decisive()
	if l == nil {
		return &verdict{rule: broken}
	}
	return &verdict{broken, l.Name.String(), l.BandwidthSets()}
}
