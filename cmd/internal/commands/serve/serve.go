// Package serve is the command that shows the answers as pages in a browser.
package serve

import (
	"context"
	"errors"
	"io"
	"log/slog"
	"net"
	"net/netip"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"strings"
	"syscall"

	"github.com/spf13/pflag"
	"golang.org/x/term"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/pages"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/web"
)

// usualAddress is where the pages are if no address is given: this computer alone.
const usualAddress = "127.0.0.1:5378"

// lanAddress is where they are for others too: every address of this computer.
const lanAddress = "0.0.0.0:5378"

// lanCaution is what whoever lets others in must know.
const lanCaution = "Anyone in these networks can use the pages, and can read what is asked: there is no password and no encryption. Stop them with Ctrl+C when they are not needed."

type serveFlags struct {
	address addressFlag
	hosts   []string
	open    bool
	lan     bool
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
		Long: "Serves pages with the same answers as the commands, until it is interrupted. The first line on standard output is the address of the first page; where they have several addresses, each has a line. " +
			"Nothing is fetched and nothing is stored: the address of a page holds all that was asked, so it can be kept or sent. Behind the path of a page, .json, .csv, .md or .txt gives what the command writes.\n\n" +
			"The pages are for this computer alone, unless --lan lets others in or --address names another interface. Whoever reaches that address can then use the pages: there is no password and no encryption. " +
			"Give a name used for them there with --host; all others are refused.\n\n" +
			"Standard error has a line for each request, without what was asked. /healthz answers \"ok\", /metrics counts requests.",
		Examples: "spectally serve   # at http://" + usualAddress + "/\n" +
			"spectally serve --open   # also opens the browser\n" +
			"spectally serve --lan   # for a phone in the same network: scan the code it prints\n" +
			"spectally serve --address 127.0.0.1:0   # at any free port\n" +
			"spectally serve --address 0.0.0.0:8080 --host planning.example   # for others, by this name",
		New: func(set *pflag.FlagSet) command.Answer {
			f := serveFlags{
				address: addressFlag{text: usualAddress},
				log:     flags.Choice{Param: "what is logged", Names: []string{logRequests: "requests", logFailures: "failures"}},
			}
			set.Var(&f.address, "address", "where the pages are; port 0 is any free one, by default "+usualAddress)
			set.StringArrayVar(&f.hosts, "host", nil, "a `NAME` by which the pages may be called, beside the address; may be given several times")
			set.BoolVar(&f.lan, "lan", false, "let phones and computers of your networks in: prints the addresses that they can open, and in a terminal the first as a QR code")
			set.BoolVar(&f.open, "open", false, "open the first page in the browser")
			set.Var(&f.log, "log", "what standard error has")
			return func(env *command.Env, args []string) (*render.Answer, error) {
				if len(args) > 0 {
					return nil, command.TooMany(args, 0, "none")
				}
				if f.lan {
					if set.Changed("address") {
						return nil, command.Conflict("lan", "address", "it is at every address of this computer; --address 0.0.0.0:PORT is the same at another port")
					}
					f.address.text = lanAddress
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
	address, err := announce(env, l.Addr())
	if err != nil {
		return errors.Join(&command.Unsaid{Err: errors.New("the address could not be written: " + err.Error())}, l.Close())
	}
	if f.open {
		if err := openBrowser(address); err != nil {
			log.Warn("no browser was opened", slog.String("error", err.Error()))
		}
	}
	return web.Serve(ctx, l, site, log)
}

// announce prints the addresses of the first page, the best on the first line, and returns
// that. Where others can open it, a terminal shows it as a code too.
func announce(env *command.Env, at net.Addr) (string, error) {
	where, err := netip.ParseAddrPort(at.String())
	if err != nil {
		return "", err
	}
	own, err := ownAddresses()
	if err != nil {
		return "", err
	}
	list := reached(where, own)
	var b strings.Builder
	for _, a := range list {
		b.WriteString("http://" + a.String() + "/\n")
	}
	first := "http://" + list[0].String() + "/"
	if where.Addr().IsUnspecified() {
		if file, ok := env.Output.(*os.File); ok && len(list) > 1 && term.IsTerminal(int(file.Fd())) {
			code, err := drawCode(first, env.Look.Color)
			if err != nil {
				return "", err
			}
			b.WriteString("\n" + code + "\n")
		}
	}
	if _, err = io.WriteString(env.Output, b.String()); err == nil && where.Addr().IsUnspecified() {
		env.Say("serve", "%s", lanCaution)
	}
	return first, err
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
