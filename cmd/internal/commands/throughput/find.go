package throughput

import (
	"slices"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/command"
	"spectally/throughput"
	"spectally/throughput/exact"
)

// peak is what is found out about the rates of carriers.
type peak struct {
	// site are the carriers as they were asked for, with what the lists say.
	site *ca.Assessment
	text string // the carriers as they were typed, in the notation
	flag *options
	// offered are the rates of the site, taken those of the carriers that the
	// device takes: the same where there is no device, nil where it takes none.
	offered, taken *throughput.Result
	carriers       *ca.Assessment // those that are taken; nil where there are none
	device         *throughput.Device
	served         *throughput.Served
	// assumed is what the device filled in.
	assumed  []throughput.Assumption
	findings []ca.Finding
}

// ruleDevice names the finding that a device takes none of the carriers.
const ruleDevice ca.Rule = "device"

func findPeak(args []string, f *options) (*peak, error) {
	k := &peak{flag: f}
	var err error
	if k.device, err = f.readDevice(); err != nil {
		return nil, err
	}
	if err = k.readCarriers(args); err != nil {
		return nil, err
	}
	k.carriers = k.site
	if k.offered, err = rate(k.carriers, 0, f.settings()); err != nil {
		return nil, err
	}
	k.taken = k.offered
	k.findings = slices.Clone(k.site.Findings())
	if k.device != nil {
		if err = k.serve(); err != nil {
			return nil, err
		}
	}
	if k.taken != nil {
		for _, found := range k.taken.Findings() {
			found.Carrier = k.number(found.Carrier - 1)
			k.findings = append(k.findings, found)
		}
	}
	return k, nil
}

func rate(a *ca.Assessment, kind throughput.DeviceKind, s throughput.Settings) (*throughput.Result, error) {
	r, err := throughput.RateOn(a, kind)
	if err != nil {
		return nil, err
	}
	return r, r.Schedule(s)
}

// readCarriers reads the arguments, fills in what flags and device say, and checks
// the carriers.
func (k *peak) readCarriers(args []string) error {
	text := strings.TrimSpace(strings.Join(args, " "))
	if text == "" {
		return command.Absent("carriers", "carriers such as B3:20 + n78:80, or a name such as CA_3A-7A")
	}
	a, err := ca.AssessText(text)
	if err != nil {
		return err
	}
	if len(a.Carriers) == 0 {
		return unratedName(a.Name)
	}
	list := a.Combination()
	k.text = list.String()
	k.site = a.Reassess(k.fill(list))
	return nil
}

// unratedName says that the standard lists no widths for a name.
func unratedName(n ca.Name) error {
	for _, c := range n.Components() {
		if _, err := bands.Lookup(c.Band); err != nil {
			return err
		}
	}
	e := &bands.ValueError{Param: "configuration name", Got: n.String(), Allowed: "a configuration for which the standard lists channel bandwidths"}
	if near := ca.NearestTo(n); len(near) > 0 {
		e.Nearest, e.Source = near[0].Configuration.Name().String(), near[0].Configuration.Source()
	}
	return e
}

func (k *peak) fill(list ca.Combination) ca.Combination {
	k.flag.fill(list)
	if k.device != nil {
		list, k.assumed = k.device.FillIn(list)
	}
	return list
}

// serve works out what the device takes.
func (k *peak) serve() error {
	k.served = k.device.Serve(k.offered)
	if len(k.served.Carriers) == 0 {
		k.carriers, k.taken = nil, nil
		k.findings = append(k.findings, ca.Finding{Severity: ca.Error, Rule: ruleDevice, Message: "The device takes none of these carriers."})
		return nil
	}
	k.carriers = ca.Assess(k.served.Carriers)
	k.findings = k.findings[:0] // what is not taken need not go together with the rest
	for _, f := range k.carriers.Findings() {
		if f.Carrier > 0 {
			f.Carrier = k.number(f.Carrier - 1)
		}
		k.findings = append(k.findings, f)
	}
	var err error
	k.taken, err = rate(k.carriers, k.device.Kind, k.flag.settings())
	return err
}

// number is the number of a carrier that is taken among those of the site, counted
// from 1.
func (k *peak) number(i int) int {
	if k.served == nil {
		return i + 1
	}
	return k.served.Of[i]
}

// refuted tells whether a finding is an error.
func (k *peak) refuted() bool {
	return slices.ContainsFunc(k.findings, func(f ca.Finding) bool { return f.Severity == ca.Error })
}

// count is the number of carriers that are taken.
func (k *peak) count() int {
	if k.taken == nil {
		return 0
	}
	return len(k.taken.Carriers)
}

// sums are the summed rates of a direction: zero where nothing is sent in it.
func (k *peak) sums(d bands.Direction) throughput.Rates {
	sum := throughput.Rates{}
	if k.taken != nil {
		sum = k.taken.Downlink
		if d == bands.Uplink {
			sum = k.taken.Uplink
		}
	}
	if k.width(d) == 0 {
		none := exact.Whole(0)
		sum.Max, sum.Scheduled, sum.Expected = none, none, exact.Ratio{}
	}
	return sum
}

// total is the spectrum of the carriers that are taken.
func (k *peak) total() ca.Totals {
	if k.taken == nil {
		return ca.Totals{}
	}
	return k.carriers.Totals(k.taken.DownlinkShare)
}

// width is the spectrum of a direction over which a rate is spread: what the links
// that count have.
func (k *peak) width(d bands.Direction) bands.Frequency {
	sum := bands.Frequency(0)
	for i := range k.count() {
		if l := k.taken.Carriers[i].Link(d); l.Counted {
			sum += l.Width
		}
	}
	return sum
}

var directions = [...]bands.Direction{bands.Downlink, bands.Uplink}

// goodput is what is left of the scheduled rate above the transport blocks.
func (k *peak) goodput(d bands.Direction) (throughput.Goodput, error) {
	if k.taken == nil {
		return throughput.Goodput{IP: exact.Whole(0), TCP: exact.Whole(0)}, nil
	}
	return k.taken.GoodputSum(d, &throughput.DefaultPacketHeaders, &throughput.LTEPacketHeaders)
}
