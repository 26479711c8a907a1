package main

import (
	"os"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"spectally/cmd/internal/cli"
	"spectally/cmd/internal/golden"
)

// racePause keeps a process of a program with the race detector from waiting a second
// before it ends. The detector of this process goes on as ever.
const racePause = "GORACE=atexit_sleep_ms=0"

func TestMain(m *testing.M) {
	name, value, _ := strings.Cut(racePause, "=")
	if err := os.Setenv(name, value); err != nil { // for the processes that tests start
		panic(err)
	}
	testscript.Main(m, map[string]func(){
		"spectally": func() { os.Exit(cli.Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) },
	})
}

// The transcripts run the program as its users do, in a process of its own.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{Dir: "testdata/script", RequireExplicitExec: true, UpdateScripts: golden.Update(), Setup: func(env *testscript.Env) error {
		env.Vars = append(env.Vars, racePause)
		return nil
	}})
}
