package authority

import (
	"fmt"
	"net"
	"net/netip"
	"os"
	"slices"
	"strings"
)

// Reach is how a computer is reached in its own network.
type Reach struct {
	Name      string       // its .local name (RFC 6762), in small letters
	Addresses []netip.Addr // of private networks, those of version 4 first
}

func (r Reach) equal(o Reach) bool {
	return r.Name == o.Name && slices.Equal(r.Addresses, o.Addresses)
}

// First is the address to be typed or photographed: the first that is not
// the computer's own loop. It is not valid where the computer is in no
// network.
func (r Reach) First() netip.Addr {
	for _, a := range r.Addresses {
		if !a.IsLoopback() && !a.IsLinkLocalUnicast() {
			return a
		}
	}
	return netip.Addr{}
}

// Here is how this computer is reached now. Addresses that are not of a
// private network are left out: the root does not vouch for them.
func Here() (Reach, error) {
	name, err := os.Hostname()
	if err != nil {
		return Reach{}, fmt.Errorf("authority: the computer's name: %w", err)
	}
	all, err := net.InterfaceAddrs()
	if err != nil {
		return Reach{}, fmt.Errorf("authority: the computer's addresses: %w", err)
	}
	r := Reach{Name: LocalName(name)}
	for _, x := range all {
		if n, ok := x.(*net.IPNet); ok {
			if a, ok := netip.AddrFromSlice(n.IP); ok && Private(a) {
				r.Addresses = append(r.Addresses, a.Unmap())
			}
		}
	}
	slices.SortStableFunc(r.Addresses, func(a, b netip.Addr) int { return a.Compare(b) }) // version 4 comes first
	r.Addresses = slices.Compact(r.Addresses)
	return r, nil
}

// LocalName is the .local name of a computer by its own name: the part before
// the first point, with dashes for what cannot stand in such a name.
func LocalName(host string) string {
	first, _, _ := strings.Cut(strings.ToLower(host), ".")
	first = strings.Trim(strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return '-'
	}, first), "-")
	if first == "" {
		first = "seatboard"
	}
	return first[:min(len(first), 63)] + ".local"
}

// ranges are the networks that are nobody's in particular: RFC 1918, RFC 3927,
// RFC 4193, RFC 4291 and the computer's own loop.
var ranges = []netip.Prefix{
	netip.MustParsePrefix("10.0.0.0/8"), netip.MustParsePrefix("172.16.0.0/12"), netip.MustParsePrefix("192.168.0.0/16"),
	netip.MustParsePrefix("169.254.0.0/16"), netip.MustParsePrefix("127.0.0.0/8"),
	netip.MustParsePrefix("fc00::/7"), netip.MustParsePrefix("fe80::/10"), netip.MustParsePrefix("::1/128"),
}

// Private tells whether an address is of a private network or the computer's
// own loop.
func Private(a netip.Addr) bool {
	a = a.Unmap().WithZone("")
	return slices.ContainsFunc(ranges, func(p netip.Prefix) bool { return p.Contains(a) })
}

func privateRanges() []*net.IPNet {
	var out []*net.IPNet
	for _, p := range ranges {
		out = append(out, &net.IPNet{IP: p.Addr().AsSlice(), Mask: net.CIDRMask(p.Bits(), p.Addr().BitLen())})
	}
	return out
}
