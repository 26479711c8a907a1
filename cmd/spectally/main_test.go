package main

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"spectally/cmd/internal/cli"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"spectally": func() { os.Exit(cli.Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) },
	})
}

// The transcripts run the program as its users do, in a process of its own.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata/script", RequireExplicitExec: true})
}
