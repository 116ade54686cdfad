package site

import (
	"errors"
	"fmt"
	"net"
	"net/http"
	"slices"
	"strconv"
	"strings"
)

// Access is how the site is reached.
type Access struct {
	Port        int
	Loopback    bool     // from this computer alone
	Secure      bool     // browsers reach it by https
	BehindProxy bool     // a proxy says who asks
	Named       bool     // it has names beside those of the address, by which others may reach it
	Hosts       []string // the names by which browsers may ask for it, without ports

	// Lan is an address of the network's own, without https: what is sent there may be
	// read by whoever is on the network. There are the crews' forms alone, and known
	// there are the phones alone that were added: nobody signs in.
	Lan bool
}

// check says what is wrong with the ways in.
func (x Access) check() error {
	if len(x.Hosts) == 0 {
		return errors.New("a site is reached by at least one name")
	}
	return nil
}

// knows says whether a browser may ask by a host's name. Another site may name
// this computer by a name of its own (DNS rebinding), and its pages would then be
// of our origin.
func (x Access) knows(host string) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	name = strings.ToLower(strings.Trim(name, "[]"))
	return slices.Contains(x.Hosts, name) || x.Loopback && strings.HasSuffix(name, ".localhost")
}

// cookie is the name of the session's cookie. Cookies ignore the port: another
// program's at this computer would see and overwrite ours, and those of a second
// site of ours.
func (x Access) cookie() string { return fmt.Sprintf("pourback-%d", x.Port) }

// base is the site's address by its first name.
func (x Access) base() string {
	return x.origin(net.JoinHostPort(x.Hosts[0], strconv.Itoa(x.Port)))
}

// origin is how a browser names the site.
func (x Access) origin(host string) string {
	if x.Secure {
		return "https://" + host
	}
	return "http://" + host
}

// door is a way into the site, with the routes that lie behind it.
type door struct {
	Access
	site    *Site
	mux     *http.ServeMux
	origins *http.CrossOriginProtection
}

// door is a way into the site. A route that is not behind it is not there for who
// comes by it.
func (s *Site) door(x Access) (*door, error) {
	if err := x.check(); err != nil {
		return nil, err
	}
	d := &door{Access: x, site: s, mux: http.NewServeMux(), origins: http.NewCrossOriginProtection()}
	for _, h := range x.Hosts {
		if x.BehindProxy {
			if err := d.origins.AddTrustedOrigin("https://" + h); err != nil {
				return nil, err
			}
		}
	}
	for _, r := range Routes() {
		if !x.Lan || r.For&Lan != 0 {
			d.mux.Handle(r.Method+" "+r.Pattern, d.guarded(r))
		}
	}
	return d, nil
}

// ServeHTTP answers a browser that has come by the site's own way.
func (s *Site) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.front.ServeHTTP(w, r) }
