// Package configs is the command that looks up and searches the configurations of the
// standard.
package configs

import (
	"github.com/spf13/pflag"

	"spectally/ca"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/spectrum"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "configs",
		Usage: "[NAME ...]",
		Short: "look up and search the listed configurations",
		Long: "Searches all configurations of carrier aggregation and dual connectivity that the standard lists: " +
			"E-UTRA CA, NR CA, EN-DC and NE-DC, NR-DC, and supplementary uplinks. Those with the widest downlink come first. Flags narrow the search, and all that are given must hold.\n\n" +
			"A NAME shows one configuration in full, with the channel bandwidths of its bandwidth combination sets (BCS) and the uplinks that are allowed; the order of its bands does not matter. " +
			"Names with brackets need quotes in a shell. If a name is not listed, or nothing is found, the exit status is 1.",
		Examples: "spectally configs CA_n3A-n78C   # one configuration in full\n" +
			"spectally configs --with n78,3 --kind en-dc --at-most 3   # the configurations of two bands\n" +
			"spectally configs --with n3,n28,n78 --only --widths   # these bands alone, with the widths of each set\n" +
			"spectally configs --with 3,7 --kind lte-ca --at-least 4 --dl-mhz 80   # by number of carriers and width\n" +
			"spectally configs --with n78 --uplink CA_n3A-n78A --limit 10   # by the uplink they allow\n" +
			"spectally configs --kind sul --format csv   # for a spreadsheet",
		Answers: []any{[]configValue{}},
		New: func(set *pflag.FlagSet) command.Answer {
			f := newConfigFilter()
			f.add(set)
			return func(env *command.Env, args []string) (*render.Answer, error) {
				found, err := findConfigs(args, f)
				if err != nil {
					return nil, err
				}
				a := found.answer()
				if env.Look.Format == render.CSV { // many thousand rows that nothing else shows
					a.Data = found.data()
				}
				return a, nil
			}
		},
		Offers: command.None,
	}
}

// foundConfigs are the configurations of an answer.
type foundConfigs struct {
	list []ca.Configuration
	// named are the names that were asked for, if any, in their order.
	named []namedConfig
	// narrowed says that the flags leave out names that are listed.
	narrowed int
	widths   bool
	limit    int // of the list that text shows; 0 for none
	cut      bool
}

// namedConfig is a name that was asked for.
type namedConfig struct {
	ca.Status
	nearest []ca.NearMiss // of one that the standard does not have
}

// findConfigs looks up the names, or searches.
func findConfigs(args []string, f *configFilter) (*foundConfigs, error) {
	query, err := f.query()
	if err != nil {
		return nil, err
	}
	found := &foundConfigs{widths: f.widths, limit: f.limit.value, cut: f.limit.IsSet}
	if len(args) == 0 {
		found.list = ca.Search(query)
		return found, nil
	}
	names := make([]ca.Name, len(args))
	for i, arg := range args {
		if names[i], err = ca.ParseName(arg); err != nil {
			return nil, command.At(command.Argument(i), command.WithNearest(err, meantBy(arg)))
		}
	}
	kept := map[string]bool{}
	if f.given() {
		for _, c := range ca.Search(query) {
			kept[c.Name().String()] = true
		}
	}
	for _, n := range names {
		status := namedConfig{Status: ca.StatusOf(n)}
		if !status.Supported() {
			status.nearest = ca.NearestTo(n)
		}
		if len(status.Listed) > 0 && f.given() && !kept[n.String()] {
			found.narrowed++
			continue
		}
		found.named = append(found.named, status)
		found.list = append(found.list, status.Listed...)
	}
	return found, nil
}

// meantBy says what takes a text that is no name: a band, or carriers; empty if
// neither is the case.
func meantBy(text string) string {
	if b, err := spectrum.ParseBand(text); err == nil {
		return "--with " + b.ID.String()
	}
	if _, err := ca.Parse(text); err == nil {
		return "spectally ca " + text
	}
	return ""
}

// missing lists the names that are not listed.
func (f *foundConfigs) missing() []*namedConfig {
	var list []*namedConfig
	for i := range f.named {
		if len(f.named[i].Listed) == 0 {
			list = append(list, &f.named[i])
		}
	}
	return list
}

func (f *foundConfigs) answer() *render.Answer {
	a := &render.Answer{
		Values:  f.values(),
		Refuted: len(f.list) == 0 || len(f.missing()) > 0,
	}
	for _, m := range f.missing() {
		a.Document = append(a.Document, m.card()...)
	}
	switch {
	case len(f.list) == 0 && len(f.missing()) == 0:
		a.Document = append(a.Document, render.Title{Text: "No configuration"}, render.Paragraph("No configuration is listed that matches."))
	case len(f.named) > 0 && len(f.list) <= mostCards:
		for _, c := range f.list {
			a.Document = append(a.Document, configCard(c)...)
		}
	case len(f.list) > 0:
		a.Document = append(a.Document, f.table()...)
	}
	return a
}

// mostCards is how many configurations that were named are shown in full.
const mostCards = 5
