package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"net"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"

	"underdisc/scenarios"
	"underdisc/scenarios/runlog"
	"underdisc/viz/page"
)

// site answers a browser: the page, the program, and what to start with.
// It reads no file while it serves.
type site struct {
	assets   map[string]*asset // by path
	loopback bool              // only this machine is meant: see ServeHTTP
}

// asset is one thing that is served, in the encodings there are.
type asset struct {
	kind     string // Content-Type
	sum      string // of what it is without encoding, or of what stands for it
	encoded  map[string][]byte
	plain    func() ([]byte, error)
	headers  map[string]string
	lastOnly bool // not to be kept by the browser
}

// newSite is the site of a build and a scenario.
func newSite(b *browserBuild, sc *scenarios.Scenario) (*site, error) {
	s := &site{assets: map[string]*asset{}}
	for path, kind := range map[string]string{
		"index.html": "text/html; charset=utf-8",
		"page.css":   "text/css; charset=utf-8",
		"page.js":    "text/javascript; charset=utf-8",
	} {
		data, err := fs.ReadFile(page.Files, path)
		if err != nil {
			return nil, err
		}
		if s.assets["/"+path], err = packed(kind, data); err != nil {
			return nil, err
		}
	}
	s.assets["/"] = s.assets["/index.html"]
	glue, err := packed("text/javascript; charset=utf-8", b.glue)
	if err != nil {
		return nil, err
	}
	s.assets["/wasm_exec.js"] = glue
	s.assets["/underdisc.wasm"] = &asset{
		kind: "application/wasm", sum: sum(b.gzip),
		encoded: map[string][]byte{"br": b.brotli, "gzip": b.gzip},
		plain:   sync.OnceValues(b.plain),
		headers: map[string]string{page.SizeHeader: strconv.Itoa(b.info.Unpacked)},
	}
	text, err := runlog.Text(sc)
	if err != nil {
		return nil, err
	}
	start, err := packed("text/yaml; charset=utf-8", text)
	if err != nil {
		return nil, err
	}
	start.lastOnly = true
	start.headers = map[string]string{"Underdisc-Name": sc.Name}
	s.assets["/scenario.yaml"] = start
	return s, nil
}

// packed makes an asset of a text.
func packed(kind string, data []byte) (*asset, error) {
	br, err := pressBrotli(context.Background(), data, quickQuality)
	if err != nil {
		return nil, err
	}
	gz, err := pressGzip(data)
	return &asset{
		kind: kind, sum: sum(data), encoded: map[string][]byte{"br": br, "gzip": gz},
		plain: func() ([]byte, error) { return data, nil },
	}, err
}

func sum(data []byte) string {
	h := sha256.Sum256(data)
	return hex.EncodeToString(h[:12])
}

// policy lets the page load from its own address alone. The program is
// WebAssembly; sound runs in a small script that the sound library makes as a
// blob; the empty icon is a data address.
const policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval' blob:; style-src 'self'; connect-src 'self'; img-src data:; " +
	"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// ServeHTTP answers GET and HEAD.
//
// On loopback the name asked for must be one of this machine's own: else a page
// from elsewhere whose name was made to point here could read what is served.
func (s *site) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Content-Security-Policy", policy)
	if s.loopback && !isThisMachine(r.Host) {
		http.Error(w, "This address is for this machine alone, under its own name: 127.0.0.1 or localhost.", http.StatusMisdirectedRequest)
		return
	}
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		h.Set("Allow", "GET, HEAD")
		http.Error(w, "Only GET and HEAD are answered here.", http.StatusMethodNotAllowed)
		return
	}
	a, ok := s.assets[r.URL.Path]
	if !ok {
		http.Error(w, "There is nothing here. The live picture is at /", http.StatusNotFound)
		return
	}
	a.serve(w, r)
}

func (a *asset) serve(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Vary", "Accept-Encoding")
	encoding, ok := accepted(r.Header.Values("Accept-Encoding"))
	if !ok {
		http.Error(w, "This is there as br, gzip and identity.", http.StatusNotAcceptable)
		return
	}
	data := a.encoded[encoding]
	if encoding == "" {
		var err error
		if data, err = a.plain(); err != nil {
			http.Error(w, fmt.Sprintf("The program is damaged: %v.", err), http.StatusInternalServerError)
			return
		}
	}
	h.Set("Content-Type", a.kind)
	for name, value := range a.headers {
		h.Set(name, value)
	}
	h.Set("Cache-Control", "no-cache") // kept, but asked about each time: the next start may serve another
	tag := a.sum
	if encoding != "" {
		h.Set("Content-Encoding", encoding)
		h.Set("Content-Length", strconv.Itoa(len(data)))
		tag += "-" + encoding
	}
	h.Set("ETag", `"`+tag+`"`)
	if a.lastOnly {
		h.Set("Cache-Control", "no-store")
		h.Del("ETag")
	}
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(data))
}

// accepted chooses the best encoding that a client takes: "br", "gzip", or ""
// for none; false if it takes none of them.
func accepted(headers []string) (encoding string, ok bool) {
	q := map[string]float64{}
	for _, item := range strings.Split(strings.Join(headers, ","), ",") {
		name, params, _ := strings.Cut(item, ";")
		name = strings.ToLower(strings.TrimSpace(name))
		if name == "" {
			continue
		}
		q[name] = 1
		if k, v, found := strings.Cut(params, "="); found && strings.EqualFold(strings.TrimSpace(k), "q") {
			if x, err := strconv.ParseFloat(strings.TrimSpace(v), 64); err == nil {
				q[name] = x
			}
		}
	}
	of := func(name string, unsaid float64) float64 {
		if x, said := q[name]; said {
			return x
		}
		if x, said := q["*"]; said {
			return x
		}
		return unsaid
	}
	best := 0.0
	for _, name := range []string{"br", "gzip"} { // of two equals the smaller
		if x := of(name, 0); x > best {
			best, encoding = x, name
		}
	}
	if best > 0 {
		return encoding, true
	}
	return "", of("identity", 1) > 0
}

// isThisMachine tells whether the name in a request, with or without a port, is
// one by which a machine calls itself.
func isThisMachine(host string) bool {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	host = strings.TrimSuffix(strings.TrimPrefix(host, "["), "]")
	ip := net.ParseIP(host)
	return strings.EqualFold(host, "localhost") || ip != nil && ip.IsLoopback()
}
