// Package serve is the command that shows the answers as pages in a browser.
package serve

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"strings"
	"syscall"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/pages"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/web"
)

// usualAddress is where the pages are if no address is given: this computer alone.
const usualAddress = "127.0.0.1:5378"

type serveFlags struct {
	address addressFlag
	hosts   []string
	open    bool
	log     flags.Choice
}

// The values of --log.
const (
	logRequests = iota
	logFailures
)

// Command describes the command, whose pages ask the others.
func Command(ask pages.Ask) *command.Command {
	return &command.Command{
		Name:  "serve",
		Short: "show the answers as pages in a browser",
		Long: "Serves pages with the same answers as the commands, until it is interrupted. The first line on standard output is the address of the first page. " +
			"Nothing is fetched and nothing is stored: the address of a page holds all that was asked, so it can be kept or sent. Behind the path of a page, .json, .csv, .md or .txt gives what the command writes.\n\n" +
			"The pages are for this computer alone, unless --address names another interface. Whoever reaches that address can then use the pages: there is no password and no encryption. " +
			"A name by which they are called there has to be given with --host, all others are refused.\n\n" +
			"Standard error has a line for each request, without what was asked. /healthz answers \"ok\", /metrics counts requests.",
		Examples: "spectally serve   # at http://" + usualAddress + "/\n" +
			"spectally serve --open   # also opens the browser\n" +
			"spectally serve --address 127.0.0.1:0   # at any free port\n" +
			"spectally serve --address 0.0.0.0:8080 --host planning.example   # for others, by this name",
		New: func(set *pflag.FlagSet) command.Answer {
			f := serveFlags{
				address: addressFlag{text: usualAddress},
				log:     flags.Choice{Param: "what is logged", Names: []string{logRequests: "requests", logFailures: "failures"}},
			}
			set.Var(&f.address, "address", "where the pages are; port 0 is any free one, by default "+usualAddress)
			set.StringArrayVar(&f.hosts, "host", nil, "a `NAME` by which the pages may be called, beside the address; may be given several times")
			set.BoolVar(&f.open, "open", false, "open the first page in the browser")
			set.Var(&f.log, "log", "what standard error has")
			return func(env *command.Env, args []string) (*render.Answer, error) {
				if len(args) > 0 {
					return nil, command.TooMany(args, 0, "none")
				}
				ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
				defer stop()
				return nil, serve(ctx, env, &f, ask)
			}
		},
		Offers: command.None,
	}
}

// serve serves the pages until the context is done.
func serve(ctx context.Context, env *command.Env, f *serveFlags, ask pages.Ask) error {
	level := slog.LevelInfo
	if f.log.Index == logFailures {
		level = slog.LevelWarn
	}
	log := slog.New(slog.NewTextHandler(env.Messages, &slog.HandlerOptions{Level: level}))
	l, err := net.Listen("tcp", f.address.text)
	if err != nil {
		return command.At("--address", listenError(f.address.text, err))
	}
	site := web.New(web.Config{Ask: ask, Hosts: f.hosts, Log: log})
	address := "http://" + l.Addr().String() + "/"
	if _, err := fmt.Fprintln(env.Output, address); err != nil {
		return errors.Join(&command.Unsaid{Err: errors.New("the address could not be written: " + err.Error())}, l.Close())
	}
	if f.open {
		if err := openBrowser(address); err != nil {
			log.Warn("no browser was opened", slog.String("error", err.Error()))
		}
	}
	return web.Serve(ctx, l, site, log)
}

// listenError says why nothing can be served at an address.
func listenError(address string, err error) error {
	e := &bands.ValueError{Param: "address", Got: address, Allowed: "an address of this computer and a port that is free; " + lastCause(err).Error()}
	if errors.Is(err, syscall.EADDRINUSE) {
		host, _, _ := net.SplitHostPort(address) // it was listened at: it can be split
		e.Nearest = net.JoinHostPort(host, "0")
	}
	return e
}

// lastCause is the innermost error.
func lastCause(err error) error {
	for {
		inner := errors.Unwrap(err)
		if inner == nil {
			return err
		}
		err = inner
	}
}

// openers are the programs that open an address, by operating system.
var openers = map[string][]string{
	"darwin":  {"open"},
	"windows": {"rundll32", "url.dll,FileProtocolHandler"},
}

func openBrowser(address string) error {
	opener := openers[runtime.GOOS]
	if opener == nil {
		opener = []string{"xdg-open"}
	}
	cmd := exec.Command(opener[0], append(opener[1:], address)...)
	if err := cmd.Start(); err != nil {
		return err
	}
	go func() { _ = cmd.Wait() }() // how the browser ends is its own affair
	return nil
}

// addressFlag is a flag that takes a host and a port.
type addressFlag struct{ text string }

// Set implements pflag.Value.
func (a *addressFlag) Set(s string) error {
	text := strings.TrimSpace(s)
	_, port, err := net.SplitHostPort(text)
	if err == nil {
		_, err = net.LookupPort("tcp", port)
	}
	if err != nil || port == "" {
		e := &bands.ValueError{Param: "address", Got: s, Allowed: a.Allowed()}
		if _, err := net.LookupPort("tcp", text); err == nil && text != "" {
			e.Nearest = "127.0.0.1:" + text
		}
		return e
	}
	a.text = text
	return nil
}

// Allowed implements valued.
func (*addressFlag) Allowed() string { return "a host and a port, such as " + usualAddress }

// String implements pflag.Value.
func (a *addressFlag) String() string { return a.text }

// Type implements pflag.Value.
func (*addressFlag) Type() string { return "HOST:PORT" }
