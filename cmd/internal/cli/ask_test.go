package cli

import (
	"errors"
	"strings"
	"testing"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
)

func TestAskIsWhatTheCommandWrites(t *testing.T) {
	for _, line := range []string{
		"bands n78",
		"bands --rat=nr --duplex=tdd",
		"bands 1 GHz", // no band matches
		"channel n78 640000 --width=80",
		"ca B3:20+n78:80@640000",
		"ca n78:81", // refuted
		"configs --with=n78,3 --kind=en-dc",
		"sources",
	} {
		for f, name := range render.FormatNames() {
			if render.Format(f) > render.Markdown {
				continue // no command writes those everywhere
			}
			args := append(strings.Fields(line), "--format="+name)
			a, err := Ask(args, strings.NewReader(""))
			if err != nil {
				t.Errorf("%s: %v", args, err)
				continue
			}
			got, err := render.Render(a, render.Options{Format: render.Format(f), Width: usualWidth})
			status, want, _ := run(args...)
			if err != nil || string(got) != want || want == "" {
				t.Errorf("%s: %v, %d bytes; the command writes %d", args, err, len(got), len(want))
			}
			if a.Refuted != (status == command.Refuted) {
				t.Errorf("%s: refuted %t, exit status %d", args, a.Refuted, status)
			}
		}
	}
}

func TestAskTellsThePlaceOfAnError(t *testing.T) {
	for _, tt := range []struct{ line, place string }{
		{"channel n78 banana", "argument 2"},
		{"channel n78 640000 --width=-3", "--width"},
		{"bands --duplex=half", "--duplex"},
	} {
		a, err := Ask(strings.Fields(tt.line), strings.NewReader(""))
		var at interface{ Place() string }
		if a != nil || !errors.As(err, &at) || at.Place() != tt.place {
			t.Errorf("%s: %v, %v; want the place %q", tt.line, a, err, tt.place)
		}
	}
}

func TestAskRefusesWhatIsNoQuestion(t *testing.T) {
	for _, line := range []string{"", "help", "bands --help", "--version", "completion bash"} {
		if a, err := Ask(strings.Fields(line), strings.NewReader("")); a != nil || err == nil {
			t.Errorf("%q: %v, %v; want an error", line, a, err)
		}
	}
}
