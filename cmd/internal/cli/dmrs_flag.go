package cli

import "spectally/throughput"

// dmrsFlag is a flag for demodulation reference signals.
type dmrsFlag struct {
	value throughput.NRDMRS
	set   bool
}

// Set implements pflag.Value.
func (d *dmrsFlag) Set(s string) error {
	v, err := throughput.ParseNRDMRS(s)
	if err != nil {
		return err
	}
	d.value, d.set = v, true
	return nil
}

// allowed implements valued.
func (*dmrsFlag) allowed() string {
	return "type=, length=, pos=, mapping= and groups=, such as type=1,length=1,pos=1,mapping=A"
}

// String implements pflag.Value.
func (d *dmrsFlag) String() string {
	if !d.set {
		return ""
	}
	return d.value.String()
}

// Type implements pflag.Value.
func (*dmrsFlag) Type() string { return "DMRS" }
