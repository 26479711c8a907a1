package cli

import "spectally/throughput"

// itbsFlag is a flag for I_TBS.
type itbsFlag struct{ value throughput.ITBS }

// Set implements pflag.Value.
func (i *itbsFlag) Set(s string) error {
	v, err := throughput.ParseITBS(s)
	if err != nil {
		return err
	}
	i.value = v
	return nil
}

// allowed implements valued.
func (*itbsFlag) allowed() string { return "0 to 37, 26A, 32A, 33A, 33B, 34A or 37A" }

// String implements pflag.Value.
func (i *itbsFlag) String() string {
	if i.value == 0 {
		return ""
	}
	return i.value.String()
}

// Type implements pflag.Value.
func (*itbsFlag) Type() string { return "INDEX" }

// frameFlag is a flag for a frame structure of LTE.
type frameFlag struct {
	value throughput.LTEFrame
	set   bool
}

// Set implements pflag.Value.
func (f *frameFlag) Set(s string) error {
	v, err := throughput.ParseLTEFrame(s)
	if err != nil {
		return err
	}
	f.value, f.set = v, true
	return nil
}

// allowed implements valued.
func (*frameFlag) allowed() string { return "FDD, or configurations such as 2/7" }

// String implements pflag.Value.
func (f *frameFlag) String() string {
	if !f.set {
		return ""
	}
	return f.value.String()
}

// Type implements pflag.Value.
func (*frameFlag) Type() string { return "FRAME" }
