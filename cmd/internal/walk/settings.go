package walk

import (
	"time"

	"spectally/cmd/internal/gpx"
	"spectally/cmd/internal/samples"
)

// Settings say what is asked of samples. The zero value takes the default of each.
type Settings struct {
	// Site is where the antennas are, in the same kind of place as the samples.
	Site samples.Place
	// Cells are the identities of the site's cells; all if there are none.
	Cells []int32
	// Levels are those whose reach is asked for, in hundredths of a dBm.
	Levels []int16
	// PingPong is the time within which a change back counts as ping-pong.
	PingPong time.Duration
	// GapLevel is the RSRP in hundredths of a dBm below which there is no coverage.
	GapLevel int16
	// Pause is the time between two samples from which on samples are missing.
	Pause time.Duration
	// Track joins places to samples that have none, between track points no farther
	// apart in time than TrackLimit.
	Track      *gpx.Track
	TrackLimit time.Duration
}

// Defaults: common practice, no source. GapLevel is about where LTE and NR phones give a
// cell up (Qrxlevmin of networks is from -128 to -110 dBm).
const (
	DefaultPingPong   = 10 * time.Second
	DefaultGapLevel   = int16(-12500)
	DefaultPause      = time.Minute
	DefaultTrackLimit = 10 * time.Second
)

var defaultLevels = []int16{-9000, -10000, -11000, -12000}

func (s Settings) withDefaults() Settings {
	if len(s.Levels) == 0 {
		s.Levels = defaultLevels
	}
	if s.PingPong == 0 {
		s.PingPong = DefaultPingPong
	}
	if s.GapLevel == 0 {
		s.GapLevel = DefaultGapLevel
	}
	if s.Pause == 0 {
		s.Pause = DefaultPause
	}
	if s.TrackLimit == 0 {
		s.TrackLimit = DefaultTrackLimit
	}
	return s
}
