package flags

import (
	"spectally/throughput/lte"
)

// ITBS is a flag for I_TBS.
type ITBS struct{ Value lte.ITBS }

// Set implements pflag.Value.
func (i *ITBS) Set(s string) error {
	v, err := lte.ParseITBS(s)
	if err != nil {
		return err
	}
	i.Value = v
	return nil
}

// Allowed implements valued.
func (*ITBS) Allowed() string { return "0 to 37, 26A, 32A, 33A, 33B, 34A or 37A" }

// String implements pflag.Value.
func (i *ITBS) String() string {
	if i.Value == 0 {
		return ""
	}
	return i.Value.String()
}

// Type implements pflag.Value.
func (*ITBS) Type() string { return "INDEX" }

// LTEFrame is a flag for a frame structure of LTE.
type LTEFrame struct {
	Value lte.Frame
	IsSet bool
}

// Set implements pflag.Value.
func (f *LTEFrame) Set(s string) error {
	v, err := lte.ParseFrame(s)
	if err != nil {
		return err
	}
	f.Value, f.IsSet = v, true
	return nil
}

// Allowed implements valued.
func (*LTEFrame) Allowed() string { return "FDD, or configurations such as 2/7" }

// String implements pflag.Value.
func (f *LTEFrame) String() string {
	if !f.IsSet {
		return ""
	}
	return f.Value.String()
}

// Type implements pflag.Value.
func (*LTEFrame) Type() string { return "FRAME" }

// Cell is a flag for what of LTE cells is not as usual.
type Cell struct{ Value lte.Cell }

// Set implements pflag.Value.
func (c *Cell) Set(s string) (err error) {
	c.Value, err = lte.ParseCell(s)
	return err
}

// Allowed implements valued.
func (*Cell) Allowed() string { return lte.CellAllowed }

// String implements pflag.Value.
func (c *Cell) String() string { return c.Value.Text() }

// Type implements pflag.Value.
func (*Cell) Type() string { return "CELL" }
