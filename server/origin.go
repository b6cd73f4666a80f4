package server

import (
	"net"
	"net/http"
	"net/url"
	"strings"
)

// sameOrigin tells whether a request comes from a page that this store served, or from no page at all: programs send
// no Origin, and browsers always do where it matters (POST and WebSocket).
func sameOrigin(r *http.Request) bool {
	origin := r.Header.Get("Origin")
	if origin == "" {
		return true
	}
	u, err := url.Parse(origin)
	return err == nil && strings.EqualFold(u.Host, r.Host)
}

// ownHost tells whether a Host header names this computer. While the store listens on loopback only, any other name is
// somebody else's that was pointed here.
func ownHost(host string) bool {
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = host
	}
	if name = strings.Trim(name, "[]"); strings.EqualFold(name, "localhost") {
		return true
	}
	ip := net.ParseIP(name)
	return ip != nil && ip.IsLoopback()
}
