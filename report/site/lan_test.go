package site

import (
	"context"
	"net"
	"net/http"
	"net/netip"
	"strings"
	"testing"

	"pourback/ingest/store/storetest"
)

// TestTheNetworksAddressIsPrivate: the one that is asked for, or the only one there is;
// none that is not of a network of one's own, and none that is not this computer's.
func TestTheNetworksAddressIsPrivate(t *testing.T) {
	at := func(addr, name string) lanAt { return lanAt{netip.MustParseAddr(addr), name} }
	home, office, v6, v6b := at("192.168.1.20", "wlan0"), at("10.0.0.5", "eth0"), at("fd12:3456::20", "wlan0"), at("fd12:3456::21", "wlan0")
	for _, c := range []struct {
		asked string
		here  []lanAt
		want  string // an address, or what the error says
	}{
		{"auto", []lanAt{home}, "192.168.1.20"},
		{"auto", []lanAt{v6, v6b, home}, "192.168.1.20"},
		{"auto", []lanAt{v6}, "fd12:3456::20"},
		{"auto", []lanAt{home, office}, "on several networks: 192.168.1.20 (wlan0), 10.0.0.5 (eth0); say which one the phones are on, such as --lan=192.168.1.20"},
		{"auto", []lanAt{v6, v6b}, "on several networks: fd12:3456::20 (wlan0)"},
		{"auto", nil, "has no private address: connect it to the network"},
		{"10.0.0.5", []lanAt{home, office}, "10.0.0.5"},
		{"fd12:3456::21", []lanAt{home, v6, v6b}, "fd12:3456::21"},
		{"::ffff:10.0.0.5", []lanAt{office}, "10.0.0.5"},
		{"10.0.0.6", []lanAt{home, office}, "has no such address; it has 192.168.1.20 (wlan0), 10.0.0.5 (eth0)"},
		{"10.0.0.6", nil, "it has no private one"},
		{"0.0.0.0", []lanAt{home}, "every address, public ones too"},
		{"::", []lanAt{home}, "every address, public ones too"},
		{"127.0.0.1", []lanAt{home}, "this computer alone"},
		{"::1", []lanAt{home}, "this computer alone"},
		{"169.254.3.4", []lanAt{home}, "a device gave itself"},
		{"fe80::1%wlan0", []lanAt{home}, "a device gave itself"},
		{"203.0.113.9", []lanAt{home}, "no private address"},
		{"100.64.0.9", []lanAt{home}, "no private address"},
		{"172.32.0.1", []lanAt{home}, "no private address"},
		{"2001:db8::1", []lanAt{home}, "no private address"},
		{"224.0.0.1", []lanAt{home}, "no private address"},
		{"192.168.1.20:8377", []lanAt{home}, "want an address of this computer, such as 192.168.1.20"},
		{"yes", []lanAt{home}, "want an address of this computer, such as 192.168.1.20"},
	} {
		got, err := lanAddress(c.asked, c.here)
		if is := got.String(); err != nil && !strings.Contains(err.Error(), c.want) || err == nil && is != c.want {
			t.Errorf("%s of %v: %s, %v, want %s", c.asked, c.here, is, err, c.want)
		}
	}
	for _, private := range []string{"10.1.2.3", "172.16.0.1", "172.31.255.1", "192.168.0.1", "fc00::1", "fdff::1"} {
		if why := notPrivate(netip.MustParseAddr(private)); why != "" {
			t.Errorf("%s: %s", private, why)
		}
	}
}

// TestLanPlans: the network's address goes with a site at this computer alone, without
// https.
func TestLanPlans(t *testing.T) {
	for _, c := range []struct {
		way  Way
		says string
	}{
		{Way{Listen: "127.0.0.1:0", Lan: "auto", Cert: "c", Key: "k"}, "phones come by https"},
		{Way{Listen: "127.0.0.1:0", Lan: "auto", BehindProxy: true, Hosts: []string{"jobs.example.com"}}, "leave --lan out"},
		{Way{Listen: "192.168.1.20:8377", Lan: "auto"}, "leave --listen at 127.0.0.1"},
		{Way{Listen: "0.0.0.0:8377", Lan: "auto"}, "leave --listen at 127.0.0.1"},
		{Way{Listen: "127.0.0.1:8377", Lan: "0.0.0.0"}, "want a private address"},
	} {
		if _, err := c.way.Plan(); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%+v: %v, want %q", c.way, err, c.says)
		}
	}
	p, err := Way{Listen: "127.0.0.1:8377"}.Plan()
	if err != nil || p.Lan != nil || p.LanURL() != "" {
		t.Errorf("without it: %+v %v", p, err)
	}
	if ln, err := p.ListenLan(t.Context()); ln != nil || err != nil {
		t.Error(ln, err)
	}
	for set, want := range map[string]string{"http://Office.local:8377": "office.local", "http://office.local:9000": "", "https://office.local:8377": "", "http://localhost:8377": "", "http://127.0.0.1:8377": "", "": ""} {
		x := Access{Port: 8377, Hosts: []string{"10.0.0.5"}, Lan: true}
		x.alsoNamed(set)
		if got := strings.Join(x.Hosts[1:], " "); got != want || x.base() != "http://10.0.0.5:8377" {
			t.Errorf("set to %q it is asked for by %q, want %q", set, got, want)
		}
	}
}

// TestServesPhones: the site answers at this computer, and its forms at the network's
// address, until it is stopped.
func TestServesPhones(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	lan := Access{Hosts: []string{"127.0.0.2"}, Lan: true} // as an address of a network's own would be
	plan := Plan{Way: Way{Listen: "127.0.0.1:0"}, Lan: &lan}
	ln, err := plan.Listen(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	forPhones, err := plan.ListenLan(t.Context())
	if err != nil {
		t.Skip("this system has no second address of its own: ", err)
	}
	if port := forPhones.Addr().(*net.TCPAddr).Port; port != plan.Access.Port || port == 0 {
		t.Errorf("ports %d and %d", port, plan.Access.Port)
	}
	if _, err := plan.ListenLan(t.Context()); err == nil || !strings.Contains(err.Error(), "choose another") {
		t.Error("a port that is taken: ", err)
	}
	p.lan = &lan
	access := atHome
	access.Port = plan.Access.Port
	p.reopen(access)
	ctx, stop := context.WithCancel(t.Context())
	done := make(chan error, 1)
	go func() { done <- p.site.Serve(ctx, ln, forPhones, plan) }()
	for url, want := range map[string]int{"http://" + ln.Addr().String() + "/users": 200, lan.base() + "/users": 404, lan.base() + "/pours": 401, lan.base() + "/healthz": 200} {
		resp, err := http.Get(url)
		if err != nil {
			t.Fatal(err)
		}
		resp.Body.Close()
		if resp.StatusCode != want {
			t.Errorf("%s: %s", url, resp.Status)
		}
	}
	stop()
	if err := <-done; err != nil {
		t.Error(err)
	}
	if _, err := http.Get(lan.base() + "/healthz"); err == nil {
		t.Error("it is stopped, and answers phones")
	}
}
