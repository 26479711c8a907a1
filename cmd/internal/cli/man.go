package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/manpage"
	"spectally/cmd/internal/savefile"
)

// manCommand is for those who make packages; help does not list it.
func manCommand(p *program) *cobra.Command {
	folder := ""
	cmd := &cobra.Command{
		Use:    "man [COMMAND ...]",
		Hidden: true,
		Short:  "print the manual page of a command, or write those of all commands",
		Long: "Prints a page in the form that the command man reads, or writes all pages into a folder, where they replace older ones. " +
			"The date of the pages is that of SOURCE_DATE_EPOCH, seconds since 1970; without it they have none.",
		Example: "spectally man bands   # to be read with: spectally man bands | man -l -\n" +
			"spectally man --output man1   # all pages, into a folder",
		RunE: func(cmd *cobra.Command, args []string) error {
			date, err := sourceDate(os.Getenv("SOURCE_DATE_EPOCH"))
			if err != nil {
				return err
			}
			if folder == "" {
				found, err := findCommand(cmd.Root(), args)
				if err == nil {
					p.answer.Write(manPage(found, date))
				}
				return err
			}
			if len(args) > 0 {
				return command.At(command.Argument(0), fmt.Errorf("no command with --output, which writes the pages of all"))
			}
			pages := withPages(cmd.Root())
			if err := os.MkdirAll(folder, 0o777); err != nil {
				return command.At("--output", err)
			}
			for _, c := range pages {
				if err := savefile.Write(filepath.Join(folder, manName(c)+".1"), manPage(c, date), true); err != nil {
					return command.At("--output", err)
				}
			}
			p.answer.WriteString(strconv.Itoa(len(pages)) + " pages\n")
			return nil
		},
	}
	cmd.Flags().StringVarP(&folder, "output", "o", "", "write the pages of all commands into a `FOLDER`")
	return cmd
}

// sourceDate is the date of pages that are built for a release.
func sourceDate(epoch string) (string, error) {
	if epoch == "" {
		return "", nil
	}
	seconds, err := strconv.ParseInt(epoch, 10, 64)
	if err != nil || seconds < 0 {
		return "", command.At("SOURCE_DATE_EPOCH", &bands.ValueError{Param: "time", Got: epoch, Allowed: "seconds since the beginning of 1970, a whole number"})
	}
	return time.Unix(seconds, 0).UTC().Format(time.DateOnly), nil
}

// withPages lists the commands that have pages: all that help lists.
func withPages(cmd *cobra.Command) []*cobra.Command {
	list := []*cobra.Command{cmd}
	for _, c := range cmd.Commands() {
		if !c.Hidden {
			list = append(list, withPages(c)...)
		}
	}
	return list
}

// manName is the name of the page of a command.
func manName(cmd *cobra.Command) string { return strings.ReplaceAll(cmd.CommandPath(), " ", "-") }

// manPage writes what help says about a command as a manual page.
func manPage(cmd *cobra.Command, date string) []byte {
	p := manpage.New(manName(cmd), date, "spectally "+version, "spectally manual")
	p.Name(manName(cmd), cmd.Short)
	p.Section("Synopsis")
	p.Synopsis(cmd.CommandPath(), strings.TrimPrefix(usageLine(cmd), cmd.CommandPath()))
	p.Section("Description")
	for text := range strings.SplitSeq(cmd.Long, "\n\n") {
		p.Paragraph(text)
	}
	var related []string
	if list := subcommands(cmd); len(list) > 0 {
		p.Section("Commands")
		for _, c := range list {
			p.Entry(manpage.Bold(c.Name), c.Value)
			related = append(related, manName(cmd)+"-"+c.Name)
		}
	}
	p.Section("Options")
	cmd.LocalNonPersistentFlags().VisitAll(func(f *pflag.Flag) { manFlag(p, f) })
	cmd.Root().PersistentFlags().VisitAll(func(f *pflag.Flag) { manFlag(p, f) })
	p.Section("Exit status")
	for _, s := range exitStatuses() {
		p.Entry(manpage.Bold(s.Name), s.Value)
	}
	if list := examples(cmd.Example); len(list) > 0 {
		p.Section("Examples")
		for _, e := range list {
			p.Entry(manpage.Bold(e.Name), e.Value)
		}
	}
	if cmd.HasParent() {
		related = append([]string{manName(cmd.Parent())}, related...)
	}
	p.SeeAlso(related)
	return p.Bytes()
}

func manFlag(p *manpage.Page, f *pflag.Flag) {
	if f.Hidden {
		return
	}
	value, usage := pflag.UnquoteUsage(f)
	term := manpage.Bold("--" + f.Name)
	if f.Shorthand != "" {
		term = manpage.Bold("-"+f.Shorthand) + ", " + term
	}
	if value != "" {
		term += " " + manpage.Italic(value)
	}
	p.Entry(term, usage)
}
