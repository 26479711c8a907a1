// Package throughput is the command that gives the peak rates of carriers.
package throughput

import (
	"github.com/spf13/pflag"

	"spectally/cmd/internal/command"
	"spectally/cmd/internal/render"
)

// Command describes the command.
func Command() *command.Command {
	return &command.Command{
		Name:  "throughput",
		Usage: "CARRIERS|NAME",
		Short: "the peak rates of carriers that serve one UE together",
		Long: "Works out three different figures for each carrier, direction and the whole: the maximum data rate of the standard (NR by the formula of TS 38.306, LTE by the largest transport blocks), which counts all of the time for either direction and does not discount TDD; " +
			"the most a network can schedule, exact transport blocks in every slot of a frame; and, with a SINR or an RSRP, what the signal supports. " +
			"If the carriers are not allowed together, they are rated all the same and the exit status is 1.\n\n" +
			"CARRIERS are written as for the command ca, with the keys layers=, qam=, ullayers=, ulqam=, scs=, pattern=, scale=, sinr= and rsrp= for what is known; the flags stand for keys that carriers leave out. " +
			"qam= takes the constellation size: 2 for pi/2-BPSK, 4, 16, 64, 256, 1024. Whatever is still open is assumed, and the answer lists it. A NAME of the standard stands for the widest carriers that it lists: an upper bound.\n\n" +
			"--device FILE compares with a device. The file is TOML: name, carriers, lte_carriers, nr_carriers, uplink_carriers, width_mhz, lte_width_mhz, nr_width_mhz, configurations (a list of names of the standard, which bring their fallbacks), " +
			"and a table [[band]] for each band with band, layers, ullayers, qam, ulqam, widest_mhz and downlink_only. Only band is needed. A UE of reduced capability has kind (redcap, eredcap, eredcap-full), receive_antennas, and half_duplex in a band. The answer is then what the device takes of the site, with the items that limit; carriers that do not say are taken to offer what the device has.",
		Examples: "spectally throughput n78:100,layers=4,qam=256   # one carrier\n" +
			"spectally throughput B3:20 + B7:20 + n78:100 --pattern 7DS2U/6:4:4   # LTE with NR, and the TDD pattern of the NR carrier\n" +
			"spectally throughput B3:20,sinr=14 + n78:80,sinr=9   # also what the signal supports\n" +
			"spectally throughput n78:100 --explain   # formulas with their numbers, and the transport blocks element by element\n" +
			"spectally throughput n41:100,layers=8,pattern=DDDSU/11:1:2 --signals tr37910-1   # with the overhead that TR 37.910 counts\n" +
			"spectally throughput DC_3A-7A_n78A --goodput   # an upper bound, down to what an application sees\n" +
			"spectally throughput n1:20 + n78:100 --format json   # for a program",
		Answers: []any{peakValue{}},
		New: func(set *pflag.FlagSet) command.Answer {
			var f options
			f.add(set)
			return func(env *command.Env, args []string) (*render.Answer, error) {
				k, err := findPeak(args, &f)
				if err != nil {
					return nil, err
				}
				return k.answer()
			}
		},
		Offers: command.Bands,
	}
}
