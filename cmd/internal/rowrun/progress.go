package rowrun

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"sync"
	"time"
	"unicode/utf8"

	"golang.org/x/term"

	"spectally/cmd/internal/batch"
	"spectally/cmd/internal/command"
	"spectally/cmd/internal/words"
)

// progressEvery is the time between two lines of progress.
const progressEvery = 250 * time.Millisecond

// Show keeps a line about a run on the terminal, if standard error is one,
// until the function that it returns is called. The size of the input is 0 if it is
// not known.
func Show(env *command.Env, counts *batch.Progress, size int64) func() {
	file, ok := env.Messages.(*os.File)
	if !ok || env.Look.Quiet || !term.IsTerminal(int(file.Fd())) {
		return func() {}
	}
	stop := make(chan struct{})
	var running sync.WaitGroup
	running.Go(func() {
		tick := time.NewTicker(progressEvery)
		defer tick.Stop()
		line := progressLine{began: time.Now(), size: size}
		shown := 0
		for {
			select {
			case <-stop:
				fmt.Fprint(file, "\r"+strings.Repeat(" ", shown)+"\r")
				return
			case now := <-tick.C:
				text := line.text(now, counts.Rows.Load(), counts.Bytes.Load())
				if w, _, err := term.GetSize(int(file.Fd())); err == nil && utf8.RuneCountInString(text) >= w {
					text = string([]rune(text)[:max(0, w-1)])
				}
				n := utf8.RuneCountInString(text)
				fmt.Fprint(file, "\r"+text+strings.Repeat(" ", max(0, shown-n)))
				shown = n
			}
		}
	})
	return func() {
		close(stop)
		running.Wait()
	}
}

// progressLine makes lines of progress. Its rate is that of the last few seconds.
type progressLine struct {
	began   time.Time
	size    int64
	history []progressPoint
}

type progressPoint struct {
	at          time.Time
	rows, bytes int64
}

// rateOver is how far back the rate looks.
const rateOver = 5 * time.Second

func (l *progressLine) text(now time.Time, rows, bytes int64) string {
	if len(l.history) == 0 {
		l.history = append(l.history, progressPoint{at: l.began})
	}
	l.history = append(l.history, progressPoint{now, rows, bytes})
	for len(l.history) > 2 && now.Sub(l.history[1].at) >= rateOver {
		l.history = l.history[1:]
	}
	first := l.history[0]
	seconds := now.Sub(first.at).Seconds()
	s := RowCount(rows)
	if seconds <= 0 {
		return s
	}
	s += ", " + words.Grouped(int64(float64(rows-first.rows)/seconds)) + " a second"
	if l.size > 0 && bytes <= l.size {
		s += ", " + strconv.FormatInt(100*bytes/l.size, 10) + " %"
		if read := float64(bytes-first.bytes) / seconds; read > 0 {
			s += ", " + ShortDuration(time.Duration(float64(l.size-bytes)/read*float64(time.Second))) + " left"
		}
	}
	return s
}
