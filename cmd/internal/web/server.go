package web

import (
	"context"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"sync"
	"time"
)

// times are those after which a connection is given up.
type times struct {
	header   time.Duration // to send the header of a request
	read     time.Duration // to send a whole request
	write    time.Duration // to read it, answer it and take the answer
	idle     time.Duration // between two requests
	shutdown time.Duration // to finish what is under way at the end
}

var usualTimes = times{header: 5 * time.Second, read: 20 * time.Second, write: 60 * time.Second, idle: 60 * time.Second, shutdown: 5 * time.Second}

// maxConnections is how many connections are open at a time; others wait.
const maxConnections = 512

// Serve serves a handler on a listener until the context is done. It then takes no
// new requests and lets those under way finish, for a few seconds. It closes the
// listener.
func Serve(ctx context.Context, l net.Listener, h http.Handler, log *slog.Logger) error {
	return serve(ctx, l, h, log, usualTimes)
}

func serve(ctx context.Context, l net.Listener, h http.Handler, log *slog.Logger, t times) error {
	server := &http.Server{
		Handler:           h,
		ReadHeaderTimeout: t.header,
		ReadTimeout:       t.read,
		WriteTimeout:      t.write,
		IdleTimeout:       t.idle,
		MaxHeaderBytes:    maxHeader,
		ErrorLog:          slog.NewLogLogger(log.Handler(), slog.LevelWarn),
	}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(limit(l, maxConnections)) }()
	select {
	case err := <-failed:
		return err
	case <-ctx.Done():
	}
	last, cancel := context.WithTimeout(context.WithoutCancel(ctx), t.shutdown)
	defer cancel()
	err := server.Shutdown(last)
	if errors.Is(err, context.DeadlineExceeded) {
		log.Warn("requests were cut off at the end")
		err = server.Close()
	}
	<-failed
	return err
}

// limitedListener accepts so many connections at a time.
type limitedListener struct {
	net.Listener
	room   chan struct{}
	closed chan struct{}
	once   sync.Once
}

func limit(l net.Listener, most int) net.Listener {
	return &limitedListener{Listener: l, room: make(chan struct{}, most), closed: make(chan struct{})}
}

// Accept implements net.Listener.
func (l *limitedListener) Accept() (net.Conn, error) {
	select {
	case l.room <- struct{}{}:
	case <-l.closed:
		return nil, net.ErrClosed
	}
	c, err := l.Listener.Accept()
	if err != nil {
		<-l.room
		return nil, err
	}
	return &limitedConn{Conn: c, leave: func() { <-l.room }}, nil
}

// Close implements net.Listener.
func (l *limitedListener) Close() error {
	l.once.Do(func() { close(l.closed) })
	return l.Listener.Close()
}

// limitedConn makes room when it is closed.
type limitedConn struct {
	net.Conn
	once  sync.Once
	leave func()
}

// Close implements net.Conn.
func (c *limitedConn) Close() error {
	err := c.Conn.Close()
	c.once.Do(c.leave)
	return err
}
