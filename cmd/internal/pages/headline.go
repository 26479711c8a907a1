package pages

import (
	"encoding/json"
	"math/big"

	"spectally/cmd/internal/render"
)

// headline is the answer about carriers in one look: whether they may be aggregated, how
// many megahertz they are, and what they yield.
type headline struct {
	Tone    string       `json:"tone"`
	Word    string       `json:"word"`
	Text    string       `json:"text"`
	Figures []headFigure `json:"figures"`
}

// headFigure is a figure of a headline.
type headFigure struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	Unit  string `json:"unit"`
	Note  string `json:"note"`
}

// combined is what a headline takes from the JSON of answers about carriers.
type combined struct {
	Name   string `json:"name"`
	Valid  bool   `json:"valid"`
	Totals struct {
		Downlink json.Number `json:"dl_mhz"`
		Uplink   json.Number `json:"ul_mhz"`
	} `json:"totals"`
	Downlink rateSum `json:"dl"`
	Uplink   rateSum `json:"ul"`
}

// rateSum are the rates of a direction.
type rateSum struct {
	Max       json.Number  `json:"max_rate_mbps"`
	Scheduled json.Number  `json:"scheduled_mbps"`
	Expected  *json.Number `json:"expected_mbps"`
}

// read takes an answer for what it says of carriers; nothing of one that does not.
func (c *combined) read(a *render.Answer) bool {
	if a == nil || a.Value == nil {
		return false
	}
	text, err := json.Marshal(a.Value())
	return err == nil && json.Unmarshal(text, c) == nil && c.Totals.Downlink != ""
}

// headlineOf reads the headline out of what a check of carriers and their rates say; the
// rates may be nil.
func headlineOf(check, rates *render.Answer) *headline {
	var c, r combined
	if !c.read(check) {
		return nil
	}
	rated := r.read(rates)
	h := &headline{Figures: []headFigure{}}
	for _, b := range check.Document {
		if v, ok := b.(render.Verdict); ok {
			h.Tone, h.Word, h.Text = toneNames[v.Tone], v.Word, v.Text
			break
		}
	}
	note := ""
	if c.Name != "" {
		note = "at most"
	}
	for _, d := range [...]struct {
		name  string
		width json.Number
		rates *rateSum
	}{{"down", c.Totals.Downlink, &r.Downlink}, {"up", c.Totals.Uplink, &r.Uplink}} {
		if zero(d.width) {
			continue
		}
		h.Figures = append(h.Figures, headFigure{d.name, d.width.String(), "MHz", note})
		if rated && c.Valid && !zero(d.rates.Scheduled) {
			h.Figures = append(h.Figures, headFigure{d.name, rounded(d.rates.Scheduled), "Mbit/s", "scheduled; maximum " + rounded(d.rates.Max)})
			if e := d.rates.Expected; e != nil && !zero(*e) {
				h.Figures = append(h.Figures, headFigure{d.name, rounded(*e), "Mbit/s", "expected at this signal"})
			}
		}
	}
	return h
}

var toneNames = [...]string{render.Neutral: "neutral", render.Good: "good", render.Doubtful: "doubtful", render.Bad: "bad"}

func zero(n json.Number) bool {
	x, ok := new(big.Rat).SetString(n.String())
	return !ok || x.Sign() == 0
}

// rounded is a rate as a headline has it: whole from 100 Mbit/s on, else with a decimal.
func rounded(n json.Number) string {
	x, ok := new(big.Rat).SetString(n.String())
	if !ok {
		return n.String()
	}
	if x.Cmp(big.NewRat(100, 1)) >= 0 {
		return x.FloatString(0)
	}
	return x.FloatString(1)
}
