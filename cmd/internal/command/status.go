package command

// The exit statuses of the program.
const (
	Good      = 0 // the answer is good
	Refuted   = 1 // the thing checked does not hold
	Unusable  = 2 // the input cannot be used
	Unwritten = 3 // the answer could not be written
)
