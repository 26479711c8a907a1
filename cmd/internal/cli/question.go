package cli

import (
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/question"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/words"
)

// measuredFlags are the flags of a question without a command.
type measuredFlags struct{ down, up, ping string }

func (m *measuredFlags) add(set *pflag.FlagSet) {
	set.StringVar(&m.down, "down", "", "hold a measured downlink `RATE` against the carriers: 612, 1.2Gbit/s")
	set.StringVar(&m.up, "up", "", "hold a measured uplink `RATE` against them")
	set.StringVar(&m.ping, "ping", "", "say what a latency of `IDLE/LOADED` ms means")
}

// question answers what is asked without a command. A word that is nearly the name of a
// command is taken for that.
func (p *program) question(cmd *cobra.Command, args []string, m *measuredFlags) error {
	measured, err := question.ReadMeasured(m.down, m.up, m.ping)
	if err != nil {
		return err
	}
	q, err := question.Read(strings.Join(args, " "))
	if word := args[0]; strings.Trim(word, "abcdefghijklmnopqrstuvwxyz-") == "" && (err != nil || len(args) > 1) {
		names := commandNames(cmd)
		if near := words.Nearest(word, names); near != "" || len(args) == 1 {
			return &bands.ValueError{Param: "command", Got: word, Allowed: strings.Join(names, ", "), Nearest: near}
		}
	}
	if err != nil {
		return err
	}
	answer, err := question.Answer(q, measured, func(args []string) (*render.Answer, error) { return Ask(args, nil) })
	if err != nil {
		return err
	}
	if answer.Refuted {
		p.status = command.Refuted
	}
	return p.show(answer)
}
