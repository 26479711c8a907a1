// Package schema is the command that says what other commands answer in JSON.
package schema

import (
	"bytes"
	"encoding/json"

	"github.com/spf13/pflag"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/schema"
)

// Command describes the command, which knows the commands of the list.
func Command(list func() []*command.Command) *command.Command {
	return &command.Command{
		Name:  "schema",
		Usage: "COMMAND",
		Short: "print the JSON Schema of what a command answers",
		Long: "Prints the JSON Schema (draft 2020-12) of what a command writes with --format json: every field with its type, and what it means with its unit. " +
			"A fact has the same name, type and unit in every command.",
		Examples: "spectally schema ca   # the fields of the answer about a combination\n" +
			"spectally schema tbs nr   # those of a command below another",
		New: func(*pflag.FlagSet) command.Answer {
			return func(_ *command.Env, args []string) (*render.Answer, error) {
				if len(args) == 0 {
					return nil, command.Absent("command", "a command that answers in JSON, such as ca")
				}
				found, rest, err := command.Find(answering(list()), args)
				if err != nil {
					return nil, command.At(command.Argument(0), err)
				}
				if len(rest) > 0 {
					return nil, command.TooMany(args, len(args)-len(rest), "one command")
				}
				return &render.Answer{Raw: text(found)}, nil
			}
		},
		Offers: func(args []string) command.Offers {
			var o command.Offers
			for _, c := range answering(list()) {
				if len(args) == 0 {
					o.Words = append(o.Words, c.Name)
				}
			}
			return o
		},
	}
}

// answering keeps the commands that answer in JSON.
func answering(list []*command.Command) []*command.Command {
	var kept []*command.Command
	for _, c := range list {
		if len(c.Answers) > 0 || len(c.Below) > 0 {
			kept = append(kept, c)
		}
	}
	return kept
}

func text(c *command.Command) string {
	raw, err := json.Marshal(schema.Of("spectally "+c.Name, c.Answers...))
	if err != nil {
		panic(err) // a schema is built in: it can be written, or the build is at fault
	}
	var b bytes.Buffer
	_ = json.Indent(&b, raw, "", "  ") // it was just written
	b.WriteByte('\n')
	return b.String()
}
