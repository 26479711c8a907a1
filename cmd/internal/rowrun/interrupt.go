package rowrun

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

// Signal is why a run is cancelled.
type Signal struct{ signal syscall.Signal }

// Error implements error.
func (s *Signal) Error() string { return s.signal.String() }

// status is the exit status of a run that a signal ended, as shells count them.
func (s *Signal) status() int { return 128 + int(s.signal) }

// Interruptible is a context that the first interrupt cancels, or the end of the
// terminal; the second ends the program as ever. A closed pipe becomes an error of the
// write.
func Interruptible() (context.Context, func()) {
	ctx, cancel := context.WithCancelCause(context.Background())
	signals := make(chan os.Signal, 1)
	pipes := make(chan os.Signal, 1) // nobody looks: that there is a channel is what matters
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	if !signal.Ignored(syscall.SIGHUP) { // as nohup has it
		signal.Notify(signals, syscall.SIGHUP)
	}
	signal.Notify(pipes, syscall.SIGPIPE)
	done := make(chan struct{})
	go func() {
		select {
		case s := <-signals:
			signal.Stop(signals)
			if number, ok := s.(syscall.Signal); ok {
				cancel(&Signal{number})
			}
		case <-done:
		}
	}()
	return ctx, func() {
		signal.Stop(signals)
		signal.Stop(pipes)
		close(done)
		cancel(nil)
	}
}
