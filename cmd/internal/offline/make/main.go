// Make builds the program of the pages and puts it where the next build of spectally
// finds it: make FOLDER.
package main

import (
	"context"
	"fmt"
	"os"

	"spectally/cmd/internal/offline"
)

func main() {
	p, err := offline.Build(context.Background(), ".", offline.Package)
	if err == nil {
		err = p.Write(os.Args[1])
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "make:", err)
		os.Exit(1)
	}
}
