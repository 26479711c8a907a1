// Package pages is the command that writes the pages as files, which work without a server
// and without a network.
package pages

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/offline"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/savefile"
	"spectally/cmd/internal/words"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "pages",
		Usage: "FILE.html|FOLDER",
		Short: "write the pages as files that need no server or network",
		Long: "Writes the pages of \"serve\" with the program that answers in them. A file whose name ends in .html holds everything: copied to a phone it opens from its storage, with no network at all. " +
			"A folder is for any server of files: a browser that has been there once keeps the pages, works without a network, can install them, and takes a newer version whole when there is one.\n\n" +
			"Nothing that is entered leaves the device. Pages are written whole or not at all. A server must be reached by https (or be this computer) for browsers to keep a folder.",
		Examples: "spectally pages spectally.html   # one file, for a phone\n" +
			"spectally pages public   # a folder, for a server of files\n" +
			"spectally pages public --force   # a newer version in its place",
		Answers: []any{written{}},
		New: func(set *pflag.FlagSet) command.Answer {
			force := set.Bool("force", false, "replace the pages that are there")
			return func(env *command.Env, args []string) (*render.Answer, error) {
				if len(args) == 0 {
					return nil, command.Absent("file or folder", "a name: FILE.html for one file, another for a folder")
				}
				if len(args) > 1 {
					return nil, command.TooMany(args, 1, "one file or folder")
				}
				ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
				defer stop()
				return write(ctx, env, args[0], *force)
			}
		},
		Offers: command.OneFile("html"),
	}
}

// written is what was written.
type written struct {
	Path    string        `json:"path"`
	Version string        `json:"version"`
	Files   []writtenFile `json:"files"`
}

type writtenFile struct {
	Name  string `json:"name"`
	Bytes int    `json:"bytes"`
}

// write writes the pages to a file or a folder.
func write(ctx context.Context, env *command.Env, path string, force bool) (*render.Answer, error) {
	program, err := program(ctx, env)
	if err != nil {
		return nil, err
	}
	w, err := put(offline.NewEdition(env.Program, program), path, force)
	if err != nil {
		return nil, fault(path, err)
	}
	return w.answer(), nil
}

// put writes an edition, as one file or a folder by the end of its name.
func put(e *offline.Edition, path string, force bool) (*written, error) {
	w := &written{Path: path, Version: e.Version}
	if ending := strings.ToLower(filepath.Ext(path)); ending == ".html" || ending == ".htm" {
		page := e.Single()
		w.Files = []writtenFile{{filepath.Base(path), len(page)}}
		return w, savefile.Write(path, page, force)
	}
	files := e.Folder()
	for _, f := range files {
		w.Files = append(w.Files, writtenFile{f.Name, len(f.Data)})
	}
	return w, savefile.Folder(path, force, offline.Owns, func(folder string) error { return save(folder, files) })
}

func save(folder string, files []offline.File) error {
	for _, f := range files {
		if err := savefile.Write(filepath.Join(folder, f.Name), f.Data, false); err != nil {
			return err
		}
	}
	return nil
}

// program is the program that is built in, or one that is built of the sources.
func program(ctx context.Context, env *command.Env) (*offline.Program, error) {
	if p := offline.BuiltIn(); p != nil {
		return p, nil
	}
	sources, err := offline.Sources(ctx)
	if errors.Is(err, offline.ErrNoSources) {
		return nil, &command.Unsaid{Err: errors.New("this build has no pages in it, and cannot make them here: use a release of spectally, or run it in the folder of its sources, with the go command installed")}
	}
	if err != nil {
		return nil, &command.Unsaid{Err: err}
	}
	if env.Messages != nil {
		env.Say("pages", "this build has no pages in it; building them from the sources in %s, which takes a minute the first time", sources)
	}
	p, err := offline.Build(ctx, sources, offline.Package)
	if err != nil {
		return nil, &command.Unsaid{Err: err}
	}
	return p, nil
}

// fault says why nothing was written.
func fault(path string, err error) error {
	allowed := ""
	switch {
	case errors.Is(err, savefile.ErrExists):
		allowed = "a name that is not taken; --force replaces pages that are there"
	case errors.Is(err, savefile.ErrOthers):
		allowed = "a folder with nothing but pages in it"
	case errors.Is(err, savefile.ErrNotFile):
		allowed = "a file"
	default:
		return &command.Unsaid{Err: command.At(command.Argument(0), fmt.Errorf("%q could not be written: %w", path, cause(err)))}
	}
	return command.At(command.Argument(0), &bands.ValueError{Param: "file or folder", Got: path, Allowed: allowed})
}

// cause is an error of the system without the names of files that only this program knows.
func cause(err error) error {
	if e, ok := errors.AsType[*os.PathError](err); ok {
		return e.Err
	}
	if e, ok := errors.AsType[*os.LinkError](err); ok {
		return e.Err
	}
	return err
}

// answer says what was written.
func (w *written) answer() *render.Answer {
	table := &render.Table{Columns: []render.Column{{Key: "name", Header: "file"}, {Key: "bytes", Header: "bytes", Align: render.Number}}}
	for _, f := range w.Files {
		table.Rows = append(table.Rows, []string{f.Name, words.Grouped(int64(f.Bytes))})
	}
	how := "Copy it to a phone and open it there: it needs no network."
	if slices.ContainsFunc(w.Files, func(f writtenFile) bool { return f.Name == "sw.js" }) {
		how = "Put the folder on a server of files with https and open its address once: from then on it needs no network."
	}
	return &render.Answer{
		Value:    func() any { return *w },
		Document: []render.Block{render.Title{Text: w.Path, Detail: w.Version}, table, render.Paragraph(how)},
		Data:     table,
	}
}
