package site

import (
	"errors"
	"strings"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/siteplan"
	"spectally/cmd/internal/sitereport"
	"spectally/cmd/internal/userfile"
)

// settings is a flag that may be given several times.
type settings struct{ list []string }

// Set implements pflag.Value.
func (s *settings) Set(text string) error {
	s.list = append(s.list, text)
	return nil
}

// String implements pflag.Value.
func (s *settings) String() string { return strings.Join(s.list, " ") }

// Type implements pflag.Value.
func (s *settings) Type() string { return "KEY=VALUE" }

// Allowed says what the flag takes.
func (s *settings) Allowed() string { return "KEY=VALUE, such as load_percent=80" }

// sideBySide compares plans of files, or one with itself under settings.
func sideBySide(kind *userfile.Kind[*siteplan.Plan], env *command.Env, args []string, f *userfile.Flags, set []string) (*render.Answer, error) {
	var list []sitereport.Variant
	for i := range max(1, len(args)) {
		plan, err := kind.Open(env, args[min(i, len(args)):min(i+1, len(args))], f)
		if placed, ok := errors.AsType[*command.Placed](err); ok && i > 0 {
			err = command.At(command.Argument(i), placed.Unwrap())
		}
		if err != nil {
			return nil, err
		}
		name := plan.Site.Name
		if len(args) > 1 {
			name = args[i]
		}
		list = append(list, sitereport.Variant{Name: name, Plan: plan})
	}
	first := list[0]
	if len(set) > 0 && len(list) > 1 {
		return nil, command.At("--set", errSet)
	}
	for _, text := range set {
		v := sitereport.Variant{Name: text}
		for s := range strings.SplitSeq(text, ";") {
			v.Settings = append(v.Settings, strings.TrimSpace(s))
		}
		varied, err := siteplan.Vary(first.Plan.Source, v.Settings...)
		if err != nil {
			return nil, command.At("--set", err)
		}
		if v.Plan, err = siteplan.Read("the plan with "+text, []byte(varied)); err != nil {
			return nil, err
		}
		list = append(list, v)
	}
	return sitereport.Compare(list)
}
