package flags

import (
	"spectally/throughput/nr"
)

// DMRS is a flag for demodulation reference signals.
type DMRS struct {
	Value nr.DMRS
	IsSet bool
}

// Set implements pflag.Value.
func (d *DMRS) Set(s string) error {
	v, err := nr.ParseDMRS(s)
	if err != nil {
		return err
	}
	d.Value, d.IsSet = v, true
	return nil
}

// Allowed implements valued.
func (*DMRS) Allowed() string {
	return "type=, length=, pos=, mapping= and groups=, such as type=1,length=1,pos=1,mapping=A"
}

// String implements pflag.Value.
func (d *DMRS) String() string {
	if !d.IsSet {
		return ""
	}
	return d.Value.String()
}

// Type implements pflag.Value.
func (*DMRS) Type() string { return "DMRS" }
