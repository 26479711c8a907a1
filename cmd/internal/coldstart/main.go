// Coldstart is the emptiest program with one cobra command. The benchmark of the
// start of spectally measures against it.
package main

import (
	"os"

	"github.com/spf13/cobra"
)

func main() {
	root := &cobra.Command{Use: "coldstart"}
	root.AddCommand(&cobra.Command{Use: "bands", Run: func(*cobra.Command, []string) {}})
	if root.Execute() != nil {
		os.Exit(2)
	}
}
