package site

import (
	"bytes"
	"net"
	"sync"
	"testing"
	"time"
)

// line is what is between a phone and the site: a socket that goes on to the site's, and
// that can be bad in every way in which a line is.
type line struct {
	t    testing.TB
	at   string // where phones call
	to   string // the site
	mu   sync.Mutex
	ear  net.Listener
	open map[net.Conn]bool
	how  lineState
	wait time.Duration // before what the site says goes on, where it is late
	lost int           // answers that did not go on
}

// lineState is how a line is.
type lineState int

const (
	fine     lineState = iota
	refuses            // nobody is there
	swallows           // what is said goes nowhere, and nothing comes back
	hangsUp            // is there, and ends each call at once
	deaf               // the phone is heard, and what it is told to a POST is lost, with the call
	late               // what it is told comes after a while
)

// newLine opens a line to a site, at a port of its own.
func newLine(t testing.TB, to string) *line {
	t.Helper()
	l := &line{t: t, to: to, open: map[net.Conn]bool{}, how: refuses, at: "127.0.0.1:0"}
	l.is(fine)
	t.Cleanup(func() { l.is(refuses) })
	return l
}

// is makes the line good or bad; calls that are under way end.
func (l *line) is(how lineState) {
	l.t.Helper()
	l.mu.Lock()
	defer l.mu.Unlock()
	was := l.how
	l.how = how
	for c := range l.open {
		c.Close()
		delete(l.open, c)
	}
	switch {
	case how == refuses && was != refuses:
		l.ear.Close()
	case how != refuses && was == refuses:
		ear, err := net.Listen("tcp", l.at)
		for end := time.Now().Add(10 * time.Second); err != nil && time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
			ear, err = net.Listen("tcp", l.at)
		}
		if err != nil {
			l.t.Error(err)
			return
		}
		l.ear, l.at = ear, ear.Addr().String()
		go l.listen(ear)
	}
}

func (l *line) listen(ear net.Listener) {
	for {
		c, err := ear.Accept()
		if err != nil {
			return
		}
		go l.call(c)
	}
}

// held takes a connection among those that end when the line changes, and says how the line is.
func (l *line) held(c net.Conn) lineState {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.how == refuses {
		c.Close()
		return refuses
	}
	l.open[c] = true
	return l.how
}

func (l *line) call(phone net.Conn) {
	defer phone.Close()
	switch l.held(phone) {
	case refuses:
		return
	case hangsUp:
		if tcp, ok := phone.(*net.TCPConn); ok {
			tcp.SetLinger(0) // as an error, not as an end
		}
		return
	case swallows:
		for b := make([]byte, 4096); ; {
			if _, err := phone.Read(b); err != nil {
				return
			}
		}
	}
	site, err := net.Dial("tcp", l.to)
	if err != nil {
		return
	}
	defer site.Close()
	l.held(site)
	l.carry(phone, site)
}

// carry carries what is said both ways, until one of them has ended.
func (l *line) carry(phone, site net.Conn) {
	var mu sync.Mutex
	posts := false // what the phone has asked for last
	ended := make(chan struct{}, 2)
	go func() {
		for b := make([]byte, 32<<10); ; {
			n, err := phone.Read(b)
			if n > 0 {
				mu.Lock()
				if bytes.HasPrefix(b[:n], []byte("POST ")) {
					posts = true
				} else if bytes.HasPrefix(b[:n], []byte("GET ")) {
					posts = false
				}
				mu.Unlock()
				site.Write(b[:n])
			}
			if err != nil {
				break
			}
		}
		ended <- struct{}{}
	}()
	go func() {
		for b := make([]byte, 32<<10); ; {
			n, err := site.Read(b)
			mu.Lock()
			post := posts
			mu.Unlock()
			if n > 0 && post && !l.tells() || err != nil {
				break
			}
			phone.Write(b[:n])
		}
		ended <- struct{}{}
	}()
	<-ended
}

// tells says whether the answer to a POST goes on, after as long as it takes.
func (l *line) tells() bool {
	l.mu.Lock()
	how, wait := l.how, l.wait
	if how == deaf {
		l.lost++
	}
	l.mu.Unlock()
	if how == late {
		time.Sleep(wait)
	}
	return how != deaf
}

// missed is how many answers were lost.
func (l *line) missed() int {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.lost
}
