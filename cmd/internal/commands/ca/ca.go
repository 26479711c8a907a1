// Package ca is the command that checks and totals carriers that serve one UE together.
package ca

import (
	"strings"

	"github.com/spf13/pflag"

	"spectally/ca"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/notation"
	"spectally/cmd/internal/render"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "ca",
		Usage: "CARRIERS|NAME",
		Short: "check and total carriers that serve one UE together",
		Long: "Tells whether carriers may be aggregated, or be in dual connectivity, and as which listed configuration; how they are spaced; and how many megahertz they add up to, under each meaning of the word. " +
			"If they are not allowed, the exit status is 1.\n\n" +
			"CARRIERS are written BAND:WIDTH and joined by +, with no need of quotes: n78 is a band of NR, B3 or 3 one of LTE, the width is in MHz, or DOWNLINK/UPLINK where they differ (20/0 is downlink only). " +
			"2x in front counts equal carriers. @ puts a carrier at a channel number or at a frequency (@640000, @3540.96MHz); without it every layout of the carriers of a band is tried. " +
			"Behind that, keys may follow, each after a comma: " + keyHelp + ".\n\n" +
			"A NAME of the standard, such as CA_3A-7A or DC_3A_n78A, stands for its carriers with the widest widths that are listed: an upper bound. Names with brackets need quotes in a shell.",
		Examples: "spectally ca B3:20 + n78:80@640000   # LTE with NR\n" +
			"spectally ca B3:20 + 2xn78:80 + B7:20   # two carriers at unknown positions\n" +
			"spectally ca n78:100@630000 + n78:100@636664 --explain   # with the working: spacing, edges, class, sums\n" +
			"spectally ca n78:80,pattern=DDDSU/10:2:2,pci=17 + n28:10,pci=17   # the totals of a site and the downlink share of time\n" +
			"spectally ca DC_3A-7A_n78A   # a name of the standard\n" +
			"spectally ca B1:20 + B3:20 + B7:20 --format json   # for a program",
		Answers: []any{answerValue{}},
		New: func(set *pflag.FlagSet) command.Answer {
			return func(env *command.Env, args []string) (*render.Answer, error) {
				a, err := readCombination(args)
				if err != nil {
					return nil, err
				}
				c, err := find(a)
				if err != nil {
					return nil, err
				}
				return c.answer(), nil
			}
		},
		Offers: command.Bands,
	}
}

const keyHelp = "scs= subcarrier spacing in kHz, pattern= TDD pattern (DDDSU/10:2:2, or 2/7 for LTE), ul=1 or ul=0 whether the UE transmits, role= pcell, pscell or scell, " +
	"pci= physical cell identity, rsrp= and sinr= levels in dBm and dB, and layers=, qam=, ullayers=, ulqam=, scale= for the command throughput"

// readCombination reads the arguments, which are one text, and looks it up.
func readCombination(args []string) (*ca.Assessment, error) {
	text := strings.TrimSpace(strings.Join(args, " "))
	if text == "" {
		return nil, command.Absent("carriers", "carriers such as B3:20 + n78:80, or a name such as CA_3A-7A")
	}
	a, err := ca.AssessText(text)
	return a, notation.Explain(err)
}
