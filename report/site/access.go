package site

import (
	"errors"
	"fmt"
	"net"
	"slices"
	"strings"
)

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
