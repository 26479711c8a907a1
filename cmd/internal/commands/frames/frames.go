// Package frames is the command that draws TDD patterns and frame structures.
package frames

import (
	"strings"

	"github.com/spf13/pflag"

	"spectally/bands"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/flags"
	"spectally/cmd/internal/render"
	"spectally/throughput"
	"spectally/throughput/exact"
	"spectally/throughput/lte"
	"spectally/throughput/nr"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "frames",
		Usage: "PATTERN",
		Short: "draw a TDD pattern and its downlink and uplink shares",
		Long: "Draws the slots of an NR pattern, or the subframes of an LTE frame structure, and adds up what each direction has. " +
			"An NR pattern is written with D for downlink, S for special and U for uplink slots, each with a count in front or repeated, then / and the downlink, guard and uplink symbols of the special slots: DDDSU/10:2:2, 7DS2U/6:4:4, 14D2S4U/12:8:8; two patterns in turn have - between them. " +
			"LTE has its uplink-downlink and special subframe configuration: 2/7.\n\n" +
			"Whether the period exists is checked by TS 38.213 clause 11.1, for one subcarrier spacing with --scs, else for all. If it exists for none of them, the exit status is 1.",
		Examples: "spectally frames DDDSU/10:2:2 --scs 30   # five slots of 0.5 ms\n" +
			"spectally frames 7DS2U/6:4:4 --scs 30 --explain   # with the working of the shares\n" +
			"spectally frames DDDSU/10:2:2-DDSUU/10:2:2   # two patterns in turn, at every subcarrier spacing\n" +
			"spectally frames 2/7 --format json   # LTE, for a program",
		Answers: []any{framesValue{}},
		New: func(set *pflag.FlagSet) command.Answer {
			f := framesFlags{}
			set.Var(&f.scs, "scs", "subcarrier spacing of the slots")
			return func(env *command.Env, args []string) (*render.Answer, error) {
				k, err := findFrames(args, &f)
				if err != nil {
					return nil, err
				}
				return k.answer(), nil
			}
		},
		Offers: command.None,
	}
}

type framesFlags struct{ scs flags.Spacing }

// frames is what is found out about a pattern.
type frames struct {
	throughput.Frame
	scs     bands.Frequency // none if none was given
	checks  []periodCheck   // of NR
	slots   []frameSlot     // of one period; of a frame in LTE
	units   int64           // of a period, of which the shares are
	shares  [3]int64        // downlink, guard, uplink
	refuted bool
}

// frameSlot is a slot of NR or a subframe of LTE.
type frameSlot struct {
	kind             string
	dl, guard, ul    int // symbols
	dlTs, gTs, ulTs  int // LTE: basic time units
	format           int // slot format of NR; -1 for none
	downlinkInUplink bool
}

// periodCheck tells whether the periods exist at a subcarrier spacing.
type periodCheck struct {
	scs     bands.Frequency
	slot    exact.Ratio // ms
	total   exact.Ratio // ms
	periods []exact.Ratio
	err     error
}

func findFrames(args []string, f *framesFlags) (*frames, error) {
	text := strings.Join(args, "")
	if strings.TrimSpace(text) == "" {
		return nil, command.Absent("pattern", "a TDD pattern such as DDDSU/10:2:2, or for LTE 2/7")
	}
	frame, err := flags.ReadFrame(text)
	if err != nil {
		return nil, command.At(command.Argument(0), err)
	}
	k := &frames{Frame: frame, scs: f.scs.Value}
	if frame.RAT == bands.LTE {
		if k.scs != 0 && k.scs != 15*bands.KHz {
			return nil, command.At("--scs", &bands.ValueError{Param: "subcarrier spacing of LTE", Got: f.scs.String(), Allowed: "15 kHz"})
		}
		k.scs = 15 * bands.KHz
		k.readLTE()
		return k, nil
	}
	k.readNR()
	k.checkPeriods()
	return k, nil
}

func (k *frames) readNR() {
	for _, s := range k.Pattern.Expand(k.Pattern.Slots()) {
		slot := frameSlot{kind: string(s.Letter()), dl: int(s.DL), guard: int(s.Guard), ul: int(s.UL), format: -1}
		if n, ok := s.Format(); ok {
			slot.format = n
		}
		k.slots = append(k.slots, slot)
		for i, n := range [...]uint8{s.DL, s.Guard, s.UL} {
			k.shares[i] += int64(n)
			k.units += int64(n)
		}
	}
}

func (k *frames) readLTE() {
	for i := range lte.Subframes {
		s := k.LTE.Subframe(i)
		k.slots = append(k.slots, frameSlot{kind: s.Kind.String(), dl: s.DownlinkSymbols, guard: s.GuardSymbols, ul: s.UplinkSymbols,
			dlTs: s.DownlinkTs, gTs: s.GuardTs, ulTs: s.UplinkTs, format: -1, downlinkInUplink: s.Kind == lte.Paired})
	}
	s := k.LTE.Shares()
	k.units, k.shares = lte.FrameTs, [3]int64{int64(s.Downlink), int64(s.Guard), int64(s.Uplink)}
}

// checkPeriods checks the pattern at the subcarrier spacing given, or at all.
func (k *frames) checkPeriods() {
	holds := false
	for _, n := range nr.Numerologies() {
		if n.Extended || k.scs != 0 && n.SCS != k.scs {
			continue
		}
		if _, err := nr.NumerologyOf(n.SCS); err != nil {
			continue // for synchronisation alone
		}
		c := periodCheck{scs: n.SCS, slot: exact.Of(10, int64(n.SlotsPerFrame)).Reduced()}
		c.total = c.slot.Mul(exact.Whole(int64(len(k.slots))))
		periods, err := k.Pattern.Periods(n.SCS)
		c.err = err
		for _, p := range periods {
			if !p.IsZero() {
				c.periods = append(c.periods, p)
			}
		}
		holds = holds || err == nil
		k.checks = append(k.checks, c)
	}
	k.refuted = !holds
}

// share is the share of time of downlink, guard or uplink.
func (k *frames) share(i int) exact.Ratio {
	return exact.Of(k.shares[i], k.units).Reduced()
}

// letters draws slots: D, S and U.
func letters(slots []frameSlot) string {
	var b strings.Builder
	for i := range slots {
		b.WriteString(slots[i].kind)
	}
	return b.String()
}

// drawing shows the symbols of a slot: D, U, and F for flexible, as slot formats do.
func (s *frameSlot) drawing() string {
	return strings.Repeat("D", s.dl) + strings.Repeat("F", s.guard) + strings.Repeat("U", s.ul)
}
