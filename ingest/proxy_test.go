package ingest_test

import (
	"io"
	"net"
	"sync/atomic"
	"testing"
)

// fault is what a proxy does to a connection once so many bytes have gone one
// way through it: each of them once, unless it is done to all that come later.
type fault struct {
	does  string // cut, swallow (what comes is read and dropped), stall (nothing is read any more)
	down  bool   // to what the server says; else to what it is told
	after int64  // bytes
	all   bool
}

// proxy stands between us and the server.
type proxy struct {
	fault
	socket string
	passed atomic.Int64 // bytes that went the fault's way
	struck atomic.Bool
	ended  chan struct{}
}

// through starts a proxy to a server's socket and returns its address.
func through(t *testing.T, socket string, f fault) (*proxy, string) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	p := &proxy{fault: f, socket: socket, ended: make(chan struct{})}
	t.Cleanup(func() {
		listener.Close()
		close(p.ended)
	})
	go func() {
		for {
			conn, err := listener.Accept()
			if err != nil {
				return
			}
			go p.serve(conn)
		}
	}()
	return p, listener.Addr().String()
}

func (p *proxy) serve(client net.Conn) {
	defer client.Close()
	server, err := net.Dial("unix", p.socket)
	if err != nil {
		return
	}
	defer server.Close()
	done := make(chan struct{}, 2)
	pump := func(to, from net.Conn, down bool) {
		p.pump(to, from, down)
		done <- struct{}{}
	}
	go pump(server, client, false)
	go pump(client, server, true)
	select { // what ends on one side ends on the other, as it does without a proxy
	case <-done:
	case <-p.ended:
	}
}

// pump passes bytes on until it is the fault's turn.
func (p *proxy) pump(to, from net.Conn, down bool) {
	buf := make([]byte, 4096)
	for {
		n, err := from.Read(buf)
		if err != nil {
			return
		}
		if down == p.down && p.passed.Add(int64(n)) > p.after && (p.all || !p.struck.Load()) {
			p.struck.Store(true)
			switch p.does {
			case "swallow":
				io.Copy(io.Discard, from)
			case "stall":
				<-p.ended
			}
			return
		}
		if _, err := to.Write(buf[:n]); err != nil {
			return
		}
	}
}
