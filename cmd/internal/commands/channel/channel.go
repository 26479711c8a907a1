// Package channel is the command that turns channel numbers into frequencies and back.
package channel

import (
	"errors"
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/render"
	"spectally/cmd/internal/spectrum"
	"spectally/cmd/internal/words"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "channel",
		Usage: "[BAND] NUMBER|FREQUENCY",
		Short: "turn channel numbers into frequencies and back",
		Long: "Finds the carrier at a channel number (NR-ARFCN or EARFCN) or at a frequency of a band, in both directions, and checks that it lies on the channel raster. " +
			"A number or frequency of the uplink is taken for the uplink carrier, any other for the downlink carrier. A number without a band is listed in each band of both technologies that has it.\n\n" +
			"With --width the carrier is checked against the band in full, and its edges and guard bands are shown. " +
			"With --gscn the entries of the synchronisation raster whose SS/PBCH block has room between the guard bands of the carrier are listed, or the nearest where no width is given; a NUMBER may then be a GSCN itself. " +
			"With --ssb the number is that of the SS/PBCH block, which most phones show, and the answer is where the carrier can lie. " +
			"If the place is not allowed, the exit status is 1.",
		Examples: "spectally channel n78 640000   # where a channel number lies\n" +
			"spectally channel 1300   # what a number is in each band\n" +
			"spectally channel B3 1842.5 MHz --width 20   # the channel number of a frequency, and the edges\n" +
			"spectally channel n78 3600MHz --width 40 --scs 30 --gscn   # also where a UE may find the cell\n" +
			"spectally channel n78 640032 --ssb --width 80 --within 3560-3660   # where a carrier lies whose block a phone shows\n" +
			"spectally channel n78 7811 --gscn --explain   # the frequency of a GSCN, with the working",
		Answers: []any{channelValue{}, meaningsValue{}, blockValue{}},
		New: func(set *pflag.FlagSet) command.Answer {
			var f channelFlags
			f.add(set)
			return func(env *command.Env, args []string) (*render.Answer, error) {
				if isNumber(args) {
					if err := alone(set); err != nil {
						return nil, err
					}
					return answerNumber(args[0])
				}
				if f.ssb {
					return answerBlock(args, &f)
				}
				if f.within != "" {
					return nil, command.At("--within", errors.New("not without --ssb: it narrows down where the carrier lies"))
				}
				c, err := findChannel(args, &f)
				if err != nil {
					return nil, err
				}
				return channelAnswer(c), nil
			}
		},
		Offers: func(args []string) command.Offers {
			if len(args) > 0 {
				return command.Offers{}
			}
			return command.Bands(nil)
		},
	}
}

// channelFlags are the flags of the command.
type channelFlags struct {
	width flags.Width
	scs   flags.Spacing
	gscn  bool

	ssb    bool
	within string
}

func (f *channelFlags) add(set *pflag.FlagSet) {
	set.Var(&f.width, "width", "channel bandwidth of the carrier")
	set.Var(&f.scs, "scs", "subcarrier spacing of the carrier")
	set.BoolVar(&f.ssb, "ssb", false, "NUMBER or FREQUENCY is that of the SS/PBCH block: where can a carrier of --width lie")
	set.StringVar(&f.within, "within", "", "with --ssb: the block of spectrum, `LOW-HIGH` in MHz, that the carrier lies in")
	set.BoolVar(&f.gscn, "gscn", false, "show the synchronisation raster, or take NUMBER for a GSCN")
}

// alone refuses the flags that need a band.
func alone(set *pflag.FlagSet) error {
	for _, name := range [...]string{"width", "scs", "gscn", "ssb", "within"} {
		if set.Changed(name) {
			return command.At("--"+name, errors.New("not with a number without a band"))
		}
	}
	return nil
}

// readChannelArgs reads the band and returns with it what stands behind it, and
// where that begins. Neither needs quotes where it has a blank in it.
func readChannelArgs(args []string) (b *bands.Band, value string, first int, err error) {
	if len(args) == 0 {
		return nil, "", 0, command.Absent("band", "a band such as n78 or B3, and a channel number or a frequency")
	}
	var firstErr error
	for n := 1; n <= min(len(args), spectrum.LongestQuery); n++ {
		b, err := oneBand(strings.Join(args[:n], " "))
		if err != nil {
			if firstErr == nil {
				firstErr = err
			}
			continue
		}
		if n == len(args) {
			return nil, "", 0, command.Absent("channel of "+b.ID.String(), "a channel number, or a frequency with its unit")
		}
		return b, strings.Join(args[n:], " "), n, nil
	}
	return nil, "", 0, command.At(command.Argument(0), firstErr)
}

// oneBand reads a band, or a name of the trade that only one band has.
func oneBand(s string) (*bands.Band, error) {
	q, err := spectrum.ParseQuery(s)
	switch {
	case err != nil:
		return nil, err
	case q.Bands == nil:
		return nil, &bands.ValueError{Param: "band", Got: s, Allowed: "a band such as n78 or B3"}
	case len(q.Bands) > 1:
		names := make([]string, len(q.Bands))
		for i, b := range q.Bands {
			names[i] = b.ID.String()
		}
		return nil, &bands.ValueError{Param: "band", Got: s, Allowed: "one band; the name stands for " + words.Or(names)}
	}
	return q.Bands[0], nil
}
