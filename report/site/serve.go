package site

import (
	"context"
	"crypto/tls"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"net/netip"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"pourback/analysis/stat"
)

// Way is how a site is to be reached, as the owner has set it.
type Way struct {
	Listen      string   // an address and a port
	Cert, Key   string   // files of a certificate and its key; https where they are given
	BehindProxy bool     // a proxy on this computer or network ends https before it
	Hosts       []string // further names that browsers may ask for it by
	Lan         string   // the network's address, where phones reach the crew's forms without https; "auto" to find it, "" for none
	SiteURL     string   // the address of the crew's site, as the owner has set it
}

// Plan is a way that holds together, and what follows from it.
type Plan struct {
	Way
	Access Access
	Lan    *Access // the way for phones on the network; nil where there is none
	host   string
}

// Plan says what is wrong with a way, or what follows from it.
func (w Way) Plan() (Plan, error) {
	host, port, err := net.SplitHostPort(w.Listen)
	if err != nil {
		return Plan{}, fmt.Errorf("--listen %q: want an address and a port, such as 127.0.0.1:8377", w.Listen)
	}
	number, err := strconv.Atoi(port)
	if err != nil || number < 0 || number > 65535 {
		return Plan{}, fmt.Errorf("--listen %q: want a port from 1 to 65535, such as 8377", w.Listen)
	}
	if (w.Cert == "") != (w.Key == "") {
		return Plan{}, errors.New("--tls-cert and --tls-key belong together: give both")
	}
	if w.Cert != "" && w.BehindProxy {
		return Plan{}, errors.New("--behind-proxy says that a proxy ends https, and --tls-cert that the site does: give one of them")
	}
	if w.BehindProxy && len(w.Hosts) == 0 {
		return Plan{}, errors.New("--behind-proxy: name the site as browsers do, such as --host jobs.example.com")
	}
	p := Plan{Way: w, host: host}
	p.Access = Access{Port: number, Loopback: loopback(host), Secure: w.Cert != "" || w.BehindProxy, BehindProxy: w.BehindProxy, Named: len(w.Hosts) > 0}
	for _, h := range w.Hosts {
		if name := strings.ToLower(strings.TrimSpace(h)); name == "" || strings.ContainsAny(name, "/: ") {
			return Plan{}, fmt.Errorf("--host %q: want a name alone, such as jobs.example.com", h)
		} else if !slices.Contains(p.Access.Hosts, name) {
			p.Access.Hosts = append(p.Access.Hosts, name)
		}
	}
	p.Access.Hosts = append(p.Access.Hosts, namesOf(host)...)
	p.Lan, err = w.planLan(host)
	return p, err
}

// loopback says whether an address is reached from this computer alone.
func loopback(host string) bool {
	at, err := netip.ParseAddr(host)
	return host == "localhost" || err == nil && at.IsLoopback()
}

// namesOf are the names by which an address may be asked for.
func namesOf(host string) []string {
	at, err := netip.ParseAddr(host)
	if host != "" && (err != nil || !at.IsUnspecified()) {
		if loopback(host) {
			return slices.Compact([]string{"localhost", "127.0.0.1", "::1", host})
		}
		return []string{strings.ToLower(host)}
	}
	names := []string{"localhost", "127.0.0.1", "::1"}
	if all, err := net.InterfaceAddrs(); err == nil {
		for _, a := range all {
			if prefix, err := netip.ParsePrefix(a.String()); err == nil && !prefix.Addr().IsLoopback() {
				names = append(names, prefix.Addr().WithZone("").String())
			}
		}
	}
	if name, err := os.Hostname(); err == nil {
		names = append(names, strings.ToLower(name))
	}
	return names
}

// MustHave says what is missing before a site may be reached from elsewhere.
func (p Plan) MustHave(users bool) error {
	switch {
	case p.Access.open():
		return nil
	case !p.Access.Secure && !p.Access.Loopback:
		return fmt.Errorf("%s can be reached from other computers, where passwords would travel in the clear: give --tls-cert and --tls-key, put it behind a proxy with --behind-proxy, or listen on 127.0.0.1", p.Way.Listen)
	case !users:
		return errors.New("by this call others may reach the site, and it has no users: make its owner first with `pourback serve --add-owner NAME`")
	}
	return nil
}

// URL is the site's address for a browser on this computer.
func (p Plan) URL() string {
	host := p.host
	if at, err := netip.ParseAddr(host); host == "" || err == nil && at.IsUnspecified() {
		host = "127.0.0.1"
	}
	scheme := "http"
	if p.Cert != "" {
		scheme = "https"
	}
	return scheme + "://" + net.JoinHostPort(host, strconv.Itoa(p.Access.Port))
}

// Running is the site that answers at a plan's address already; ok is false where
// none of ours does.
func (p Plan) Running(ctx context.Context) (h Health, ok bool) {
	ctx, stop := context.WithTimeout(ctx, 2*time.Second)
	defer stop()
	r, err := http.NewRequestWithContext(ctx, "GET", p.URL()+"/healthz", nil)
	if err != nil {
		return h, false
	}
	// It is only asked who it is, and told nothing: whose certificate it has does not matter.
	client := http.Client{Transport: &http.Transport{DisableKeepAlives: true, TLSClientConfig: &tls.Config{InsecureSkipVerify: true}}}
	resp, err := client.Do(r)
	if err != nil {
		return h, false
	}
	defer resp.Body.Close()
	err = json.NewDecoder(http.MaxBytesReader(nil, resp.Body, 4096)).Decode(&h)
	return h, err == nil && h.Program == ProgramName
}

// Listen takes the plan's port. Where it was 0 the plan knows the port afterwards.
func (p *Plan) Listen(ctx context.Context) (net.Listener, error) {
	ln, err := new(net.ListenConfig).Listen(ctx, "tcp", p.Way.Listen)
	if err != nil {
		return nil, err
	}
	if at, ok := ln.Addr().(*net.TCPAddr); ok {
		p.Access.Port = at.Port
	}
	return ln, nil
}

// longest is how long an answer may take, with all its bytes.
const longest = 10 * time.Minute

// lastAnswers is how long answers under way may take once the site is to stop.
const lastAnswers = 2 * time.Second

// server answers who comes by a door.
func (d *door) server() *http.Server {
	return &http.Server{Handler: d, ReadHeaderTimeout: 10 * time.Second, ReadTimeout: silence, WriteTimeout: longest, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: mostHeaders,
		ErrorLog: slog.NewLogLogger(d.site.Log.Handler(), slog.LevelWarn)}
}

// Serve answers until ctx ends, and then finishes what is under way; at lan, where that
// is not nil, phones on the network.
func (s *Site) Serve(ctx context.Context, ln, lan net.Listener, p Plan) error {
	defer thrifty()()
	defer stat.Leave(stat.Leave(1)) // for who reads while an answer is worked out
	servers := []*http.Server{s.front.server()}
	done := make(chan error, 2)
	go func() {
		if p.Cert != "" {
			done <- servers[0].ServeTLS(ln, p.Cert, p.Key)
		} else {
			done <- servers[0].Serve(ln)
		}
	}()
	if lan != nil && s.lan != nil {
		forPhones := s.lan.server()
		servers = append(servers, forPhones)
		go func() { done <- forPhones.Serve(lan) }()
	}
	tending, stop := context.WithCancel(ctx)
	defer stop()
	go s.Tend(tending)
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
	}
	return s.stop(context.WithoutCancel(ctx), servers)
}

// stop lets answers under way be done, so long as that takes no longer than it may.
func (s *Site) stop(ctx context.Context, servers []*http.Server) (err error) {
	last, cancel := context.WithTimeout(ctx, lastAnswers)
	defer cancel()
	for _, server := range servers {
		if server.Shutdown(last) != nil {
			s.Log.Warn("stopped before all answers were done")
			err = errors.Join(err, server.Close())
		}
	}
	return err
}
