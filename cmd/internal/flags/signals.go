package flags

import "spectally/throughput/nr"

// Signals is a flag for the control and reference signals of NR carriers.
type Signals struct{ Value nr.Signals }

// Set implements pflag.Value.
func (g *Signals) Set(s string) (err error) {
	g.Value, err = nr.ParseSignals(s)
	return err
}

// Allowed implements valued.
func (*Signals) Allowed() string { return nr.SignalsAllowed }

// String implements pflag.Value.
func (g *Signals) String() string { return g.Value.String() }

// Type implements pflag.Value.
func (*Signals) Type() string { return "SIGNALS" }
