package web

import (
	"fmt"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"slices"
	"strings"

	"spectally/cmd/internal/pages"
)

// Limits of what a request may be.
const (
	maxQuery  = 48 << 10          // bytes of a query, which holds a packed log
	maxHeader = maxQuery + 16<<10 // bytes of the header, the query included
)

// policy keeps a page from loading anything that is not the site's own, and from
// running what stands in it.
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'; require-trusted-types-for 'script'; trusted-types 'none'"

func setHeaders(h http.Header) {
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	// Not no-referrer: a browser then sends forms with the origin "null".
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), geolocation=(self), microphone=()")
}

// guard decides which requests are answered.
type guard struct{ hosts []string }

func newGuard(hosts []string) guard {
	g := guard{}
	for _, h := range hosts {
		g.hosts = append(g.hosts, strings.ToLower(h))
	}
	return g
}

// refusal is why a request is not answered.
type refusal struct {
	status int
	text   string
}

func (r *refusal) response() *pages.Response { return pages.Plain(r.status, r.text+"\n") }

// check returns nil for a request that may be answered.
func (g *guard) check(r *http.Request) *refusal {
	switch {
	case !g.knows(r):
		return &refusal{http.StatusMisdirectedRequest, fmt.Sprintf("host %q: must be the address that the server printed, or a name given to it with --host", r.Host)}
	case !ownOrigin(r):
		return &refusal{http.StatusForbidden, "this request comes from a page of another site"}
	case len(r.URL.RawQuery) > maxQuery:
		return &refusal{http.StatusRequestURITooLong, fmt.Sprintf("query of %d bytes: must be at most %d", len(r.URL.RawQuery), maxQuery)}
	case r.ContentLength > pages.MaxBody:
		return &refusal{http.StatusRequestEntityTooLarge, fmt.Sprintf("body of %d bytes: must be at most %d", r.ContentLength, pages.MaxBody)}
	}
	return nil
}

// knows tells whether the site is called by a name of its own. A page of an attacker
// whose name was made to lead here (DNS rebinding) calls it by the attacker's name;
// an address that the connection came in at cannot be such a name.
func (g *guard) knows(r *http.Request) bool {
	host := hostName(r.Host)
	if slices.Contains(g.hosts, host) {
		return true
	}
	local, ok := localAddr(r)
	if !ok {
		return false
	}
	if addr, err := netip.ParseAddr(host); err == nil {
		addr = addr.Unmap()
		return addr == local || addr.IsLoopback() && local.IsLoopback()
	}
	return host == "localhost" && local.IsLoopback()
}

// hostName is the host of a Host header, without its port and brackets.
func hostName(host string) string {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	if strings.HasPrefix(host, "[") && strings.HasSuffix(host, "]") {
		host = host[1 : len(host)-1]
	}
	return strings.ToLower(host)
}

// localAddr is the address at which a connection came in.
func localAddr(r *http.Request) (netip.Addr, bool) {
	tcp, ok := r.Context().Value(http.LocalAddrContextKey).(*net.TCPAddr)
	if !ok {
		return netip.Addr{}, false
	}
	addr, ok := netip.AddrFromSlice(tcp.IP)
	return addr.Unmap(), ok
}

// ownOrigin tells whether a request comes from a page of this site, or from no page.
// Another site may link here, and do nothing else.
func ownOrigin(r *http.Request) bool {
	if origin := r.Header.Get("Origin"); origin != "" {
		u, err := url.Parse(origin)
		if err != nil || u.Host == "" || !strings.EqualFold(u.Host, r.Host) {
			return false
		}
	}
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "same-origin", "none":
		return true
	}
	reads := r.Method == http.MethodGet || r.Method == http.MethodHead
	return reads && r.Header.Get("Sec-Fetch-Mode") == "navigate" && r.Header.Get("Sec-Fetch-Dest") == "document"
}
