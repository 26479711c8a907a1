package throughput

import (
	"slices"
	"strings"

	"spectally/bands"
	"spectally/ca"
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/notation"
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
	carriers       *combination.Answer // those that are taken; nil where there are none
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
	if err = k.rate(k.site, 0); err != nil {
		return nil, err
	}
	k.offered = k.taken
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

// rate works out what carriers can yield.
func (k *peak) rate(a *ca.Assessment, kind throughput.DeviceKind) (err error) {
	if k.carriers, err = combination.Of(a); err != nil {
		return err
	}
	err = k.carriers.Rate(kind, k.flag.settings())
	k.taken = k.carriers.Rates
	return err
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
		return notation.Explain(err)
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
	taken := ca.Assess(k.served.Carriers)
	k.findings = k.findings[:0] // what is not taken need not go together with the rest
	for _, f := range taken.Findings() {
		if f.Carrier > 0 {
			f.Carrier = k.number(f.Carrier - 1)
		}
		k.findings = append(k.findings, f)
	}
	return k.rate(taken, k.device.Kind)
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

// sums are the summed rates of a direction and the spectrum over which they are spread:
// zero where nothing is sent in it.
func (k *peak) sums(d bands.Direction) (throughput.Rates, bands.Frequency) {
	if k.taken == nil {
		return throughput.Rates{Max: exact.Whole(0), Schedulable: exact.Whole(0), Scheduled: exact.Whole(0)}, 0
	}
	return k.carriers.Sum(d)
}

var directions = [...]bands.Direction{bands.Downlink, bands.Uplink}

// goodput is what is left of the scheduled rate above the transport blocks.
func (k *peak) goodput(d bands.Direction) (throughput.Goodput, error) {
	if k.taken == nil {
		return throughput.Goodput{IP: exact.Whole(0), TCP: exact.Whole(0)}, nil
	}
	return k.taken.GoodputSum(d, &throughput.DefaultPacketHeaders, &throughput.LTEPacketHeaders)
}
