package web

import (
	"net"
	"sync"
)

const maxConnections = 256

// capped lets at most n connections be open; the next one waits.
func capped(l net.Listener, n int) net.Listener {
	return &cappedListener{Listener: l, slots: make(chan struct{}, n), closed: make(chan struct{})}
}

type cappedListener struct {
	net.Listener
	slots  chan struct{}
	closed chan struct{}
	once   sync.Once
}

func (l *cappedListener) Accept() (net.Conn, error) {
	select {
	case l.slots <- struct{}{}:
	case <-l.closed:
		return nil, net.ErrClosed
	}
	c, err := l.Listener.Accept()
	if err != nil {
		<-l.slots
		return nil, err
	}
	return &cappedConn{Conn: c, done: sync.OnceFunc(func() { <-l.slots })}, nil
}

func (l *cappedListener) Close() error {
	l.once.Do(func() { close(l.closed) })
	return l.Listener.Close()
}

type cappedConn struct {
	net.Conn
	done func()
}

func (c *cappedConn) Close() error {
	defer c.done()
	return c.Conn.Close()
}
