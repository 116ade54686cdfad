package main

import (
	"net"
	"net/netip"
	"net/url"
	"strings"
	"testing"
)

// privateAddress is one of this computer, of which there may be none.
func privateAddress(t *testing.T) netip.Addr {
	t.Helper()
	all, err := net.InterfaceAddrs()
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range all {
		if prefix, err := netip.ParsePrefix(a.String()); err == nil && prefix.Addr().IsPrivate() {
			return prefix.Addr()
		}
	}
	t.Skip("this computer has no private address")
	return netip.Addr{}
}

// TestServeLan: the site is at this computer, the crew's forms on the network too, at the
// same port; what that means is said at the start. The site that runs already without
// it is not taken for one with it.
func TestServeLan(t *testing.T) {
	inFolder(t, nil)
	at := privateAddress(t)
	s := serve(t, "serve", "--listen", "127.0.0.1:0", "--lan="+at.String())
	here, there, two := strings.Cut(s.url, "\n")
	u, err := url.Parse(there)
	if !two || err != nil || u.Hostname() != at.String() || !strings.HasPrefix(here, "http://127.0.0.1:") || !strings.HasSuffix(here, ":"+u.Port()) {
		t.Fatalf("%q %v", s.url, err)
	}
	for _, says := range []string{there, "could read what the phones send", "no password is taken", "Use a network that is yours"} {
		if !strings.Contains(s.errs.String(), says) {
			t.Errorf("it does not say %q: %s", says, s.errs)
		}
	}
	if status, body := ask(t, here+"/users"); status != 200 || !strings.Contains(body, "Add a crew phone") {
		t.Errorf("at this computer: %d %.300s", status, body)
	}
	for path, want := range map[string]int{"/users": 404, "/login": 404, "/pours": 401, "/healthz": 200} {
		if status, body := ask(t, there+path); status != want || strings.Contains(body, "pourback.db") {
			t.Errorf("%s on the network: %d, want %d: %.300s", path, status, want, body)
		}
	}
	call(t, "serve", "--listen", strings.TrimPrefix(here, "http://"), "--lan="+at.String()).want(t, exitDone, "running already")
	s.stop()

	inFolder(t, nil)
	s = serve(t, "serve", "--listen", "127.0.0.1:0")
	call(t, "serve", "--listen", s.address(t), "--lan="+at.String()).want(t, exitFailed, "running already at "+s.url+", without --lan")
	s.stop()

	inFolder(t, map[string]string{"pourback.yaml": "listen: 127.0.0.1:0\nlan: " + at.String() + "\n"})
	s = serve(t, "serve", "--json")
	if !strings.Contains(s.url, `"lan_url":`) && !strings.Contains(s.url, `"lan_url": `) {
		t.Error("by the settings: ", s.url)
	}
	s.stop()
	if s = serve(t); strings.Contains(s.url, "\n") {
		t.Error("without a command it is open to the network: ", s.url)
	}
}

// TestServeLanRefuses what is no network of one's own, and says what is.
func TestServeLanRefuses(t *testing.T) {
	inFolder(t, nil)
	for _, c := range []struct {
		says string
		args []string
	}{
		{"every address", []string{"--lan=0.0.0.0"}},
		{"no private address", []string{"--lan=203.0.113.9"}},
		{"a device gave itself", []string{"--lan=169.254.1.1"}},
		{"has no such address", []string{"--lan=10.255.255.254"}},
		{"want an address of this computer", []string{"--lan=office"}},
		{"leave --listen at 127.0.0.1", []string{"--lan", "--listen", "0.0.0.0:8377"}},
		{"phones come by https", []string{"--lan", "--tls-cert", "x.pem", "--tls-key", "y.pem"}},
		{"leave --lan out", []string{"--lan", "--behind-proxy", "--host", "jobs.example.com"}},
		{"--lan=192.168.1.20", []string{"--lan", "192.168.1.20"}},
	} {
		call(t, append([]string{"serve"}, c.args...)...).want(t, exitUsage, c.says)
	}
}
