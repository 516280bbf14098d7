package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"strconv"
	"strings"
	"time"

	"underdisc/scenarios"
)

type serveCmd struct {
	Scenario string `arg:"" optional:"" default:"${live}" help:"Name of a scenario, or path of a scenario file or a run log (${default})."`
	Listen   string `placeholder:"ADDR" help:"Address and port to listen at; by default a port of this machine that nobody else can reach."`
}

// usualPort is tried first, so that the address stays the same from one day to
// the next: a browser keeps the log of a run under the address.
const usualPort = 48620

// Run serves until it is interrupted, which is how it is meant to end.
func (c *serveCmd) Run(p *program) error {
	sc, err := scenarios.Load(c.Scenario)
	if err != nil {
		return badInput{err}
	}
	return serve(p.ctx, serveOptions{scenario: sc, listen: c.Listen, out: p.out, err: p.err, terminal: p.env.terminal})
}

// serveOptions say what is served, and where.
type serveOptions struct {
	scenario *scenarios.Scenario
	listen   string // empty: a port of this machine only
	out, err io.Writer
	terminal bool // whether err is a terminal
}

// serve serves the live picture to browsers until the context ends, and says
// where. An interruption before it serves is errInterrupted.
func serve(ctx context.Context, o serveOptions) error {
	l, err := listen(ctx, o.listen)
	if err != nil {
		return err
	}
	defer l.Close()
	build, err := theBuild(ctx, o.err, o.terminal)
	if err != nil {
		return interrupted(ctx, err)
	}
	s, err := newSite(build, o.scenario)
	if err != nil {
		return err
	}
	s.loopback = isLoopback(l)
	server := &http.Server{Handler: s, ReadHeaderTimeout: 10 * time.Second, MaxHeaderBytes: 1 << 16}
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(l) }()
	fmt.Fprintf(o.out, "The live picture is at %s (ctrl-C ends).\n", strings.Join(addresses(l), " or "))
	if !s.loopback {
		fmt.Fprintln(o.out, "Whoever reaches this machine there can open it; they see the program and the scenario, and nothing else of this machine.")
	}
	select {
	case err := <-ended:
		return fmt.Errorf("serving has ended: %w", err)
	case <-ctx.Done():
	}
	soon, cancel := context.WithTimeout(context.Background(), 2*time.Second)
	defer cancel()
	if server.Shutdown(soon) != nil { // somebody is still fetching
		server.Close()
	}
	return nil
}

// listen opens the address asked for.
func listen(ctx context.Context, addr string) (net.Listener, error) {
	var config net.ListenConfig
	if addr == "" {
		l, err := config.Listen(ctx, "tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(usualPort)))
		if err != nil { // taken, most likely by another one of us
			l, err = config.Listen(ctx, "tcp", "127.0.0.1:0")
		}
		return l, interrupted(ctx, err)
	}
	const want = "an address and a port, such as 127.0.0.1:8080, or :8080 for every way into this machine"
	_, port, err := net.SplitHostPort(addr)
	if err != nil {
		return nil, bad("--listen: found %q; right would be %s", addr, want)
	}
	if n, err := strconv.Atoi(port); err != nil || n < 0 || n > 65535 {
		return nil, bad("--listen: found the port %q; right would be a number from 0 (any) to 65535", port)
	}
	l, err := config.Listen(ctx, "tcp", addr)
	var dns *net.DNSError
	var op *net.OpError
	switch {
	case err == nil:
		return l, nil
	case errors.As(err, &dns):
		return nil, bad("--listen: found %q, which is no address of this machine; right would be %s", addr, want)
	case errors.As(err, &op):
		err = op.Err
	}
	return nil, interrupted(ctx, fmt.Errorf("--listen: %s cannot be listened at: %w; right would be a free port of an address of this machine", addr, err))
}

// interrupted is the error of what failed because the user has broken it off.
func interrupted(ctx context.Context, err error) error {
	if err != nil && ctx.Err() != nil {
		return errInterrupted
	}
	return err
}

// isLoopback tells whether only this machine can reach a listener.
func isLoopback(l net.Listener) bool {
	a, is := l.Addr().(*net.TCPAddr)
	return is && a.IP.IsLoopback()
}

// addresses are what to type into a browser for a listener.
func addresses(l net.Listener) []string {
	a, is := l.Addr().(*net.TCPAddr)
	if !is {
		return []string{l.Addr().String()}
	}
	at := func(host string) string {
		return "http://" + net.JoinHostPort(host, strconv.Itoa(a.Port)) + "/"
	}
	if !a.IP.IsUnspecified() {
		return []string{at(a.IP.String())}
	}
	out := []string{at("127.0.0.1")}
	all, _ := net.InterfaceAddrs() // without them there is still the one
	for _, one := range all {
		if n, is := one.(*net.IPNet); is && n.IP.To4() != nil && n.IP.IsGlobalUnicast() && len(out) < 4 {
			out = append(out, at(n.IP.String()))
		}
	}
	return out
}
