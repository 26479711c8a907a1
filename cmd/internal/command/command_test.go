package command

import (
	"errors"
	"io"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/render"
)

// echo is a command that answers with what it got.
func echo() *Command {
	return &Command{
		Name: "echo",
		New: func(set *pflag.FlagSet) Answer {
			times := set.Int("times", 1, "how often")
			return func(env *Env, args []string) (*render.Answer, error) {
				if len(args) == 0 {
					return nil, At(Argument(0), Absent("word", "any word"))
				}
				input, err := io.ReadAll(env.Input)
				text := strings.Repeat(strings.Join(args, " ")+string(input), *times)
				return &render.Answer{Document: []render.Block{render.Title{Text: text, Detail: env.Look.Format.String()}}}, err
			}
		},
	}
}

func TestAsk(t *testing.T) {
	list := []*Command{echo(), {Name: "group", Chooses: "member", Below: []*Command{echo()}}}
	for _, c := range []struct{ args, want, place string }{
		{"echo a b --times 2", "a b-a b- text", ""},
		{"echo --format=json a", "a- json", ""},
		{"group echo a -- --times", "a --times- text", ""},
		{"echo", "argument 1: no word given: must be any word", "argument 1"},
		{"echo a --times x", "value x, not a whole number", "--times"},
		{"echo a --time 2", "flag --time, not --color, --explain, --format, --full, --help, --quiet, --times, --version: --times", ""},
		{"echo a --times", "--times: no value given: the flag takes int", "--times"},
		{"ecko a", "command ecko, not echo, group: echo", ""},
		{"group other", "member other, not echo", ""},
		{"echo --help", ErrNoAnswer.Error(), ""},
		{"echo --version", ErrNoAnswer.Error(), ""},
		{"group", ErrNoAnswer.Error(), ""},
	} {
		a, err := Ask(list, strings.Fields(c.args), strings.NewReader("-"))
		got, place := "", ""
		if err != nil {
			got = err.Error()
			if v, ok := errors.AsType[*bands.ValueError](err); ok {
				got = strings.TrimSuffix(v.Param+" "+v.Got+", not "+v.Allowed+": "+v.Nearest, ": ")
			}
			if p, ok := errors.AsType[*Placed](err); ok {
				place = p.Place()
			}
		} else {
			title := a.Document[0].(render.Title)
			got = title.Text + " " + title.Detail
		}
		if got != c.want || place != c.place {
			t.Errorf("%s: %q at %q, want %q at %q", c.args, got, place, c.want, c.place)
		}
	}
}
