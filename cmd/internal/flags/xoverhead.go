package flags

// XOverheads are the values that xOverhead of NR may have (TS 38.331 xOverhead).
var XOverheads = []string{"0", "6", "12", "18"}
