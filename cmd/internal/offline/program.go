// Package offline makes the pages into files that work without a server and without a
// network: one HTML file with all in it, or a folder for any server of files. The program
// that answers is in them, as WebAssembly (cmd/internal/browser).
package offline

import (
	"bytes"
	"compress/gzip"
	"context"
	"embed"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
)

//go:generate go run ./make built

// Program is the program of the pages.
type Program struct {
	// Packed is the WebAssembly, packed by gzip.
	Packed []byte
	// Start is the script of the Go toolchain that the program needs around it.
	Start []byte
}

// Size is how many bytes the program has, not packed: the last four of gzip say so (RFC
// 1952 clause 2.3.1).
func (p *Program) Size() int {
	return int(binary.LittleEndian.Uint32(p.Packed[len(p.Packed)-4:]))
}

// The files of a program.
const (
	packedName = "program.gz"
	startName  = "wasm_exec.js"
)

//go:embed built
var built embed.FS

// BuiltIn is the program that a release has in it; nil if there is none in this one.
func BuiltIn() *Program {
	packed, err := built.ReadFile("built/" + packedName)
	if err != nil {
		return nil
	}
	start, err := built.ReadFile("built/" + startName)
	if err != nil {
		return nil
	}
	return &Program{packed, start}
}

// Write writes the files that BuiltIn finds in the next build.
func (p *Program) Write(folder string) error {
	return errors.Join(
		os.WriteFile(filepath.Join(folder, packedName), p.Packed, 0o644),
		os.WriteFile(filepath.Join(folder, startName), p.Start, 0o644),
	)
}

// Package is the program, as the go command names it.
const Package = "spectally/cmd/internal/browser"

// ErrNoSources tells that there are no sources to build the program from.
var ErrNoSources = errors.New("the sources of spectally are not here")

// Sources finds the folder of the sources: where this program was built, or else the one
// that it runs in, if its module is spectally.
func Sources(ctx context.Context) (string, error) {
	folders := []string{"."}
	if _, file, _, ok := runtime.Caller(0); ok && filepath.IsAbs(file) {
		folders = append([]string{filepath.Dir(file)}, folders...)
	}
	for _, folder := range folders {
		cmd := exec.CommandContext(ctx, "go", "list", "-f", "{{.Module.Dir}}", Package)
		cmd.Dir, cmd.Env = folder, browserEnv()
		if out, err := cmd.Output(); err == nil {
			return strings.TrimSpace(string(out)), nil
		}
	}
	return "", ErrNoSources
}

func browserEnv() []string {
	return append(os.Environ(), "GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=-trimpath -buildvcs=false -mod=readonly")
}

// Build builds a program from sources in a folder with the go command. The same sources
// and the same version of Go give the same bytes.
func Build(ctx context.Context, sources, name string) (*Program, error) {
	folder, err := os.MkdirTemp("", "spectally-pages-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	file := filepath.Join(folder, "program.wasm")
	// Functions that are not inlined make the program an eighth smaller; in the runtime they
	// would make it slow.
	if _, err := run(ctx, sources, "build", "-gcflags=all=-l", "-gcflags=runtime/...=", "-gcflags=internal/...=", "-ldflags=-s -w", "-o", file, name); err != nil {
		return nil, err
	}
	program, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	root, err := run(ctx, sources, "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	start, err := os.ReadFile(filepath.Join(root, "lib", "wasm", startName))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("the Go toolchain in %s has no lib/wasm/%s", root, startName)
	}
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(program); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return &Program{Start: start, Packed: b.Bytes()}, nil
}

// run runs the go command and returns what it prints.
func run(ctx context.Context, folder string, args ...string) (string, error) {
	cmd := exec.CommandContext(ctx, "go", args...)
	cmd.Dir, cmd.Env = folder, browserEnv()
	var complaints bytes.Buffer
	cmd.Stderr = &complaints
	out, err := cmd.Output()
	if err != nil {
		first, _, _ := strings.Cut(strings.TrimSpace(complaints.String()), "\n")
		return "", fmt.Errorf("go %s: %w: %s", args[0], err, first)
	}
	return strings.TrimSpace(string(out)), nil
}
