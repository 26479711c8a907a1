package ca

import (
	"spectally/cmd/internal/combination"
	"spectally/cmd/internal/figures"
	"spectally/cmd/internal/render"
)

// answerValue is the answer of the command as JSON shows it.
type answerValue struct {
	combination.Value
	Assumptions []string      `json:"assumptions"`
	Working     []render.Step `json:"working"`
}

func (c *found) value() answerValue {
	return answerValue{c.Value(), figures.Present(c.assumptions()), figures.Present([]render.Step(c.working()))}
}
