package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
)

// code stands for a program: long enough that it can be compressed.
var code = append([]byte("\x00asm\x01\x00\x00\x00"), bytes.Repeat([]byte("a valve "), 5000)...)

// aBuild is a build of the code, whole in every encoding.
func aBuild(t *testing.T) *browserBuild {
	t.Helper()
	br, err := pressBrotli(t.Context(), code, quickQuality)
	require.NoError(t, err)
	gz, err := pressGzip(code)
	require.NoError(t, err)
	return &browserBuild{
		info:   browserInfo{Go: "go1.26", Unpacked: len(code), Brotli: len(br), Gzip: len(gz), Glue: 4},
		brotli: br, gzip: gz, glue: []byte("glue"),
	}
}

func aSite(t *testing.T) *site {
	t.Helper()
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	s, err := newSite(aBuild(t), sc)
	require.NoError(t, err)
	s.loopback = true
	return s
}

// ask asks the site for something, under the name localhost unless a header
// Host says otherwise.
func ask(s *site, method, path string, headers ...string) *http.Response {
	r := httptest.NewRequest(method, "/", nil)
	r.URL.Path = path
	r.Host = "localhost:48620"
	for i := 0; i < len(headers); i += 2 {
		if headers[i] == "Host" {
			r.Host = headers[i+1]
		}
		r.Header.Add(headers[i], headers[i+1])
	}
	w := httptest.NewRecorder()
	s.ServeHTTP(w, r)
	return w.Result()
}

func body(t *testing.T, r *http.Response) []byte {
	t.Helper()
	b, err := io.ReadAll(r.Body)
	require.NoError(t, err)
	return b
}

func TestSiteEncodings(t *testing.T) {
	s := aSite(t)
	unpack := map[string]func([]byte) io.Reader{
		"":   func(b []byte) io.Reader { return bytes.NewReader(b) },
		"br": func(b []byte) io.Reader { return brotli.NewReader(bytes.NewReader(b)) },
		"gzip": func(b []byte) io.Reader {
			r, err := gzip.NewReader(bytes.NewReader(b))
			require.NoError(t, err)
			return r
		},
	}
	tags := map[string]bool{}
	for _, c := range []struct{ accept, want string }{
		{"gzip, deflate, br, zstd", "br"}, {"gzip", "gzip"}, {"", ""}, {"deflate", ""},
		{"br;q=0, gzip", "gzip"}, {"br;q=0.2, gzip;q=0.8", "gzip"}, {"BR", "br"}, {"*", "br"}, {"*;q=0.5, br;q=0", "gzip"}, {"gzip ; q=0", ""},
	} {
		r := ask(s, "GET", "/underdisc.wasm", "Accept-Encoding", c.accept)
		require.Equal(t, 200, r.StatusCode, c.accept)
		assert.Equal(t, c.want, r.Header.Get("Content-Encoding"), c.accept)
		assert.Equal(t, "application/wasm", r.Header.Get("Content-Type"))
		assert.Equal(t, "Accept-Encoding", r.Header.Get("Vary"))
		got := body(t, r)
		assert.Equal(t, fmt.Sprint(len(got)), r.Header.Get("Content-Length"), c.accept)
		plain, err := io.ReadAll(unpack[c.want](got))
		require.NoError(t, err)
		assert.True(t, bytes.Equal(code, plain), "%q: what arrives is the program", c.accept)
		assert.Equal(t, fmt.Sprint(len(code)), r.Header.Get("Underdisc-Unpacked-Size"))
		tags[c.want+" "+r.Header.Get("ETag")] = true
	}
	assert.Len(t, tags, 3, "each encoding has a tag of its own: %v", tags)
	assert.Equal(t, http.StatusNotAcceptable, ask(s, "GET", "/underdisc.wasm", "Accept-Encoding", "identity;q=0, zstd").StatusCode)
}

func TestSiteHeaders(t *testing.T) {
	s := aSite(t)
	for path, kind := range map[string]string{
		"/": "text/html; charset=utf-8", "/page.js": "text/javascript; charset=utf-8", "/page.css": "text/css; charset=utf-8",
		"/wasm_exec.js": "text/javascript; charset=utf-8", "/underdisc.wasm": "application/wasm", "/scenario.yaml": "text/yaml; charset=utf-8",
	} {
		r := ask(s, "GET", path, "Accept-Encoding", "br")
		require.Equal(t, 200, r.StatusCode, path)
		assert.Equal(t, kind, r.Header.Get("Content-Type"))
		assert.Equal(t, "br", r.Header.Get("Content-Encoding"), path)
		assert.Equal(t, "nosniff", r.Header.Get("X-Content-Type-Options"))
		allowed := r.Header.Get("Content-Security-Policy")
		assert.Contains(t, allowed, "default-src 'none'")
		assert.Contains(t, allowed, "'wasm-unsafe-eval'")
		assert.NotContains(t, allowed, "unsafe-inline")
		assert.NotContains(t, allowed, "'unsafe-eval'")
		assert.NotContains(t, allowed, "*")

		head := ask(s, "HEAD", path, "Accept-Encoding", "br")
		assert.Empty(t, body(t, head), path)
		for _, h := range []string{"Content-Type", "Content-Length", "Content-Encoding", "ETag", "Cache-Control", "Vary"} {
			assert.Equal(t, r.Header.Get(h), head.Header.Get(h), "%s of HEAD %s", h, path)
		}
		if path == "/scenario.yaml" { // the next start may serve another under the same name
			assert.Equal(t, "no-store", r.Header.Get("Cache-Control"))
			continue
		}
		assert.Equal(t, "no-cache", r.Header.Get("Cache-Control"))
		again := ask(s, "GET", path, "Accept-Encoding", "br", "If-None-Match", r.Header.Get("ETag"))
		assert.Equal(t, http.StatusNotModified, again.StatusCode, path)
		assert.Empty(t, body(t, again))
		other := ask(s, "GET", path, "Accept-Encoding", "gzip", "If-None-Match", r.Header.Get("ETag"))
		assert.Equal(t, 200, other.StatusCode, "the tag of one encoding is not good for another")
	}
}

func TestSiteRange(t *testing.T) {
	s := aSite(t)
	whole := body(t, ask(s, "GET", "/underdisc.wasm", "Accept-Encoding", "gzip"))
	r := ask(s, "GET", "/underdisc.wasm", "Accept-Encoding", "gzip", "Range", "bytes=10-19")
	assert.Equal(t, http.StatusPartialContent, r.StatusCode)
	assert.Equal(t, "gzip", r.Header.Get("Content-Encoding"))
	assert.Equal(t, "10", r.Header.Get("Content-Length"))
	assert.Equal(t, fmt.Sprintf("bytes 10-19/%d", len(whole)), r.Header.Get("Content-Range"))
	assert.Equal(t, whole[10:20], body(t, r))
	assert.Equal(t, http.StatusRequestedRangeNotSatisfiable, ask(s, "GET", "/underdisc.wasm", "Range", "bytes=99999999-").StatusCode)
}

func TestSiteRefuses(t *testing.T) {
	s := aSite(t)
	for _, method := range []string{"POST", "PUT", "DELETE", "OPTIONS", "PATCH", "TRACE", "CONNECT"} {
		r := ask(s, method, "/")
		assert.Equal(t, http.StatusMethodNotAllowed, r.StatusCode, method)
		assert.Equal(t, "GET, HEAD", r.Header.Get("Allow"))
	}
	for _, path := range []string{"/go.mod", "/../go.mod", "//", "/page", "/underdisc.wasm/", "/underdisc.wasm.br", "/INDEX.HTML", "/%2e%2e/go.mod", "", "/.git/config"} {
		assert.Equal(t, http.StatusNotFound, ask(s, "GET", path).StatusCode, path)
	}
	// A page from elsewhere whose name was made to point here.
	for host, good := range map[string]bool{
		"localhost:1": true, "127.0.0.1:48620": true, "[::1]:80": true, "LOCALHOST": true, "127.0.0.1": true, "[::1]": true,
		"example.org:48620": false, "localhost.example.org": false, "192.168.1.4:48620": false, "": false, "127.0.0.1.example.org:48620": false, "0.0.0.0:48620": false,
	} {
		r := ask(s, "GET", "/scenario.yaml", "Host", host)
		if good {
			assert.Equal(t, 200, r.StatusCode, host)
		} else {
			assert.Equal(t, http.StatusMisdirectedRequest, r.StatusCode, host)
			assert.NotContains(t, string(body(t, r)), "plant:")
		}
	}
	s.loopback = false
	assert.Equal(t, 200, ask(s, "GET", "/", "Host", "192.168.1.4:48620").StatusCode, "served to others on purpose")
}

// What is served to start with is the scenario, whole: it reads back without
// any other file.
func TestSiteScenario(t *testing.T) {
	r := ask(aSite(t), "GET", "/scenario.yaml")
	assert.Equal(t, "gas-bench-plus", r.Header.Get("Underdisc-Name"))
	got, err := scenarios.Parse("scenario.yaml", body(t, r), func(name string) (string, []byte, error) {
		return "", nil, fmt.Errorf("it asks for %s", name)
	})
	require.NoError(t, err)
	want, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	assert.Equal(t, want.Plant, got.Plant)
	assert.Equal(t, want.Commands, got.Commands)
}

func TestListen(t *testing.T) {
	for addr, want := range map[string]string{
		"8080":                 "an address and a port",
		"localhost":            "an address and a port",
		"127.0.0.1:http":       "the port",
		"127.0.0.1:70000":      "from 0 (any) to 65535",
		"no.such.invalid:8080": "no address of this machine",
	} {
		status, out, errs := call(t, t.Context(), "serve", "--listen", addr)
		assert.Equal(t, exitBadInput, status, addr)
		assert.Empty(t, out)
		isOneLine(t, errs)
		assert.Contains(t, errs, want)
	}
	status, _, errs := call(t, t.Context(), "serve", "no-such-scenario")
	assert.Equal(t, exitBadInput, status)
	isOneLine(t, errs)

	first, err := listen(t.Context(), "")
	require.NoError(t, err)
	defer first.Close()
	second, err := listen(t.Context(), "")
	require.NoError(t, err, "the usual port is taken now, if it was not before")
	defer second.Close()
	for _, l := range []net.Listener{first, second} {
		assert.True(t, isLoopback(l))
		assert.Equal(t, []string{"http://" + l.Addr().String() + "/"}, addresses(l))
	}
	assert.NotEqual(t, first.Addr().String(), second.Addr().String())

	taken := first.Addr().String()
	status, _, errs = call(t, t.Context(), "serve", "--listen", taken)
	assert.Equal(t, exitFailed, status)
	isOneLine(t, errs)
	assert.Contains(t, errs, taken)

	all, err := listen(t.Context(), ":0")
	require.NoError(t, err)
	defer all.Close()
	assert.False(t, isLoopback(all))
	assert.True(t, strings.HasPrefix(addresses(all)[0], "http://127.0.0.1:"))
}

func TestListenInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	status, out, errs := call(t, ctx, "serve")
	assert.Equal(t, exitInterrupted, status)
	assert.Empty(t, out)
	isOneLine(t, errs)
}
