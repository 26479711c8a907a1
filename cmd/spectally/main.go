// Spectally tells which spectrum a set of mobile-radio carriers is, whether it
// may be aggregated, and what it can yield, from the tables of 3GPP.
package main

import (
	"os"

	"spectally/cmd/internal/cli"
)

func main() { os.Exit(cli.Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
