package site

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/netip"
	"net/url"
	"slices"
	"strconv"
	"strings"
)

// LanAuto has the site find the network's address by itself.
const LanAuto = "auto"

// lanAt is a private address of this computer, and the interface that has it.
type lanAt struct {
	addr netip.Addr
	name string
}

// lanHere are the private addresses of this computer.
func lanHere() (all []lanAt, err error) {
	cards, err := net.Interfaces()
	for _, card := range cards {
		if card.Flags&net.FlagUp == 0 {
			continue
		}
		has, err := card.Addrs()
		if err != nil {
			return nil, err
		}
		for _, a := range has {
			if prefix, err := netip.ParsePrefix(a.String()); err == nil && prefix.Addr().Unmap().IsPrivate() {
				all = append(all, lanAt{prefix.Addr().Unmap(), card.Name})
			}
		}
	}
	return all, err
}

// lanAddress is the address that is asked for, of those there are: "auto" is the only
// one there is, of the fourth version of the protocol before the sixth.
func lanAddress(asked string, here []lanAt) (netip.Addr, error) {
	if asked == LanAuto {
		return onlyLan(here)
	}
	at, err := netip.ParseAddr(asked)
	if err != nil {
		return at, fmt.Errorf("--lan=%s: want an address of this computer, such as 192.168.1.20, or --lan alone", asked)
	}
	if why := notPrivate(at.Unmap()); why != "" {
		return at, fmt.Errorf("--lan=%s: %s: want a private address of this computer, such as 192.168.1.20", asked, why)
	}
	if !slices.ContainsFunc(here, func(l lanAt) bool { return l.addr == at.Unmap() }) {
		return at, fmt.Errorf("--lan=%s: this computer has no such address; it has %s", asked, namesOfLan(here))
	}
	return at.Unmap(), nil
}

// onlyLan is the private address to choose where nobody says which.
func onlyLan(here []lanAt) (netip.Addr, error) {
	for _, v4 := range []bool{true, false} {
		some := slices.DeleteFunc(slices.Clone(here), func(l lanAt) bool { return l.addr.Is4() != v4 })
		switch {
		case len(some) == 1:
			return some[0].addr, nil
		case len(some) > 1:
			return netip.Addr{}, fmt.Errorf("--lan: this computer is on several networks: %s; say which one the phones are on, such as --lan=%s", namesOfLan(some), some[0].addr)
		}
	}
	return netip.Addr{}, errors.New("--lan: this computer has no private address: connect it to the network that the phones are on, and start again")
}

// namesOfLan lists addresses with their interfaces.
func namesOfLan(here []lanAt) string {
	if len(here) == 0 {
		return "no private one"
	}
	var all []string
	for _, l := range here {
		all = append(all, fmt.Sprintf("%s (%s)", l.addr, l.name))
	}
	return strings.Join(all, ", ")
}

// notPrivate says why an address is none of a network of one's own (RFC 1918, RFC
// 4193), "" where it is one. Addresses that devices give themselves (RFC 3927, RFC 4291)
// are none either: they are others after the next start, and browsers cannot be led to
// the newer kind of them. A provider's (RFC 6598) are shared with its other customers.
func notPrivate(at netip.Addr) string {
	switch {
	case at.IsPrivate() && at.Zone() == "":
		return ""
	case at.IsUnspecified():
		return "that is every address, public ones too"
	case at.IsLoopback():
		return "that is this computer alone, which phones cannot reach"
	case at.IsLinkLocalUnicast():
		return "that is an address which a device gave itself for want of a router: it will be another one soon"
	}
	return "that is no private address, and what is not encrypted does not belong on a public network"
}

// planLan is the way for phones on the network, where one is asked for.
func (w Way) planLan(host string) (*Access, error) {
	switch {
	case w.Lan == "":
		return nil, nil
	case w.Cert != "":
		return nil, errors.New("--lan is for a site without https: with --tls-cert, give --listen an address of the network, and phones come by https")
	case w.BehindProxy:
		return nil, errors.New("--lan and --behind-proxy: phones come by the proxy, by https: leave --lan out")
	case !loopback(host):
		return nil, fmt.Errorf("--lan opens the forms beside a site at this computer alone: leave --listen at 127.0.0.1, instead of %s", w.Listen)
	}
	here, err := lanHere()
	if err != nil {
		return nil, err
	}
	at, err := lanAddress(w.Lan, here)
	if err != nil {
		return nil, err
	}
	return &Access{Hosts: []string{at.String()}, Lan: true}, nil
}

// alsoNamed lets browsers ask for the network's address by the name that the owner has
// given the site, where that is a name of it.
func (x *Access) alsoNamed(siteURL string) {
	u, err := url.Parse(siteURL)
	if err == nil && u.Scheme == "http" && u.Port() == strconv.Itoa(x.Port) && !loopback(u.Hostname()) {
		x.Hosts = append(x.Hosts, strings.ToLower(u.Hostname()))
	}
}

// ListenLan takes the same port of the network's address; nil where there is none.
func (p *Plan) ListenLan(ctx context.Context) (net.Listener, error) {
	if p.Lan == nil {
		return nil, nil
	}
	p.Lan.Port = p.Access.Port
	p.Lan.alsoNamed(p.SiteURL)
	at := net.JoinHostPort(p.Lan.Hosts[0], strconv.Itoa(p.Lan.Port))
	ln, err := new(net.ListenConfig).Listen(ctx, "tcp", at)
	if err != nil {
		return nil, fmt.Errorf("--lan: %s cannot be listened at: %w; another program may have its port: choose another, such as --listen 127.0.0.1:8378", at, err)
	}
	return ln, nil
}

// LanURL is the site's address for phones on the network, "" where there is none.
func (p Plan) LanURL() string {
	if p.Lan == nil {
		return ""
	}
	return p.Lan.base()
}
