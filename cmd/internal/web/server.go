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

// Times after which a connection is given up.
const (
	headerTime   = 5 * time.Second  // to send the header of a request
	readTime     = 20 * time.Second // to send a whole request
	writeTime    = 60 * time.Second // to read it, answer it and take the answer
	idleTime     = 60 * time.Second // between two requests
	shutdownTime = 5 * time.Second  // to finish what is under way at the end
)

// maxConnections is how many connections are open at a time; others wait.
const maxConnections = 512

// Serve serves a handler on a listener until the context is done. It then takes no
// new requests and lets those under way finish, for a few seconds. It closes the
// listener.
func Serve(ctx context.Context, l net.Listener, h http.Handler, log *slog.Logger) error {
	server := &http.Server{
		Handler:           h,
		ReadHeaderTimeout: headerTime,
		ReadTimeout:       readTime,
		WriteTimeout:      writeTime,
		IdleTimeout:       idleTime,
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
	last, cancel := context.WithTimeout(context.WithoutCancel(ctx), shutdownTime)
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
