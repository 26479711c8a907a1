// Package walkrun reads files of samples for the command line: it shows how far it is,
// and keeps to a bound of memory.
package walkrun

import (
	"io"
	"os"
	"runtime/debug"

	"spectally/bands"
	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/commands/walk"
	"spectally/cmd/internal/rowrun"
	"spectally/cmd/internal/userfile"
)

// Files are how the command reads files.
func Files() walk.Files { return walk.Files{Read: read, Track: track, Bound: boundMemory} }

// usualMemory is how much memory a run keeps to, as far as it can; the environment
// variable GOMEMLIMIT goes before. Below that garbage is left longer than usual: what is
// gathered stays.
const (
	usualMemory  = 220 << 20
	usualGarbage = 400 // per cent
)

// boundMemory keeps to it until the function that it returns is called.
func boundMemory() func() {
	if os.Getenv("GOMEMLIMIT") != "" {
		return func() {}
	}
	limit, garbage := debug.SetMemoryLimit(usualMemory), debug.SetGCPercent(usualGarbage)
	return func() {
		debug.SetMemoryLimit(limit)
		debug.SetGCPercent(garbage)
	}
}

// input is an opened file.
type input struct {
	batch.Input
	close func()
}

// read hands the files to a function, one after the other.
func read(env *command.Env, paths []string, take func(name string, in io.Reader, rows *batch.Progress) error) error {
	var list []input
	defer func() {
		for _, in := range list {
			in.close()
		}
	}()
	size := int64(0)
	for i, path := range paths { // all of them first: a wrong name is told at once
		if path == "-" {
			list = append(list, input{batch.Input{Name: "standard input", Reader: env.Input}, func() {}})
			continue
		}
		in, info, closeInput, err := rowrun.Open(path)
		if err != nil {
			return command.At(command.Argument(i), err)
		}
		list = append(list, input{in, closeInput})
		if there, err := os.Stat(env.File.Name); err == nil && os.SameFile(there, info) {
			return command.At("--output", &bands.ValueError{Param: "file", Got: env.File.Name, Allowed: "a file other than those that are read"})
		}
		size += in.Size
	}
	var progress batch.Progress
	defer rowrun.Show(env, &progress, size)()
	for i := range list {
		in, release, err := list[i].Open(&progress)
		if err != nil {
			return command.At(list[i].Name, err)
		}
		err = take(list[i].Name, in, &progress)
		release()
		if err != nil {
			return err
		}
	}
	return nil
}

func track(path string) (io.ReadCloser, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, userfile.Unreadable(path, err)
	}
	return f, nil
}
