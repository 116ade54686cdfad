package site

import (
	"bufio"
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// TestWhoNeverReadsIsDropped: a browser that does not read its answer is waited for
// no longer than one that does not send its question, and one that reads slowly gets
// all of it.
func TestWhoNeverReadsIsDropped(t *testing.T) {
	const within = 800 * time.Millisecond
	const answer = 16 << 20 // more than lies about between both
	done := make(chan error, 1)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		out := &counted{ResponseWriter: w, to: http.NewResponseController(w), within: within}
		n, err := out.Write(make([]byte, answer))
		if err == nil && (n != answer || out.bytes != answer) {
			err = fmt.Errorf("%d bytes written, %d counted", n, out.bytes)
		}
		done <- err
	}))
	defer server.Close()
	ask := func() net.Conn {
		c, err := net.Dial("tcp", strings.TrimPrefix(server.URL, "http://"))
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(c, "GET / HTTP/1.1\r\nHost: x\r\n\r\n")
		return c
	}
	silent := ask()
	defer silent.Close()
	select {
	case err := <-done:
		if err == nil {
			t.Error("all was written, and nobody read it")
		}
	case <-time.After(20 * time.Second):
		t.Fatal("who never reads is waited for")
	}

	slow := ask()
	defer slow.Close()
	read := bufio.NewReaderSize(slow, 1<<20)
	for end := time.Now().Add(3 * within); time.Now().Before(end); time.Sleep(within / 10) { // longer than anybody may be silent
		if _, err := read.Discard(256 << 10); err != nil {
			t.Fatal("who reads slowly is dropped: ", err)
		}
	}
	go func() {
		for {
			if _, err := read.Discard(1 << 20); err != nil {
				return
			}
		}
	}()
	if err := <-done; err != nil {
		t.Error("who reads slowly did not get all: ", err)
	}
}
