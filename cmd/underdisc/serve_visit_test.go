package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
)

// chromium is a browser without a window, which draws by software.
func chromium(t *testing.T) context.Context {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("chromium is not installed, and the picture in the browser goes unchecked")
		}
		t.Skip("chromium is not installed")
	}
	if testing.Short() {
		t.Skip("a browser takes its time")
	}
	flags := []chromedp.ExecAllocatorOption{chromedp.ExecPath(path), chromedp.UserDataDir(t.TempDir()), chromedp.WindowSize(1280, 800)}
	for name, value := range map[string]any{
		"headless": true, "no-sandbox": true, "disable-gpu": true, "disable-quic": true, "no-first-run": true, "disable-background-networking": true,
		"disable-component-update": true, "disable-sync": true, "disable-dev-shm-usage": true,
		"use-gl": "angle", "use-angle": "swiftshader", "enable-unsafe-swiftshader": true,
	} {
		flags = append(flags, chromedp.Flag(name, value))
	}
	ctx, stop := context.WithTimeout(t.Context(), 3*time.Minute)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewExecAllocator(ctx, flags...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	require.NoError(t, chromedp.Do(ctx))
	return ctx
}

// served serves a scenario as the program does, and returns the address.
func served(t *testing.T, scenario string) string {
	t.Helper()
	sc, err := scenarios.Load(scenario)
	require.NoError(t, err)
	ctx, stop := context.WithCancel(t.Context())
	out, in := io.Pipe()
	ended := make(chan error, 1)
	go func() {
		ended <- serve(ctx, serveOptions{scenario: sc, listen: "127.0.0.1:0", out: in, err: io.Discard})
		in.Close()
	}()
	t.Cleanup(func() {
		stop()
		assert.NoError(t, <-ended, "an interruption is how serving ends")
	})
	said := make([]byte, 1024)
	n, err := out.Read(said)
	if err != nil {
		stop()
		t.Fatalf("it does not serve: %v", <-ended)
	}
	go io.Copy(io.Discard, out)
	address := regexp.MustCompile(`http://127\.0\.0\.1:\d+/`).FindString(string(said[:n]))
	require.NotEmpty(t, address, string(said[:n]))
	return address
}

// visit is a page that is looked at and worked.
type visit struct {
	*testing.T
	ctx context.Context
	bad *complaints
}

// complaints are what the browser complained of.
type complaints struct {
	sync.Mutex
	lines []string
}

func (c *complaints) add(line string) {
	c.Lock()
	defer c.Unlock()
	c.lines = append(c.lines, line)
}

func (c *complaints) all() []string {
	c.Lock()
	defer c.Unlock()
	return slices.Clone(c.lines)
}

// as is the same visit in a part of the test.
func (v *visit) as(t *testing.T) *visit { return &visit{T: t, ctx: v.ctx, bad: v.bad} }

// open opens a tab of a size and goes to an address, with a script that runs
// before the page's own.
func open(t *testing.T, browser context.Context, address string, width, height int64, scale float64, before string) *visit {
	t.Helper()
	ctx, stop := chromedp.NewContext(browser)
	t.Cleanup(stop)
	v := &visit{T: t, ctx: ctx, bad: &complaints{}}
	messages := chromedp.Console(ctx)
	go func() {
		for m, err := range messages {
			if err != nil {
				return
			}
			if m.Type == chromedp.ConsoleError || m.Type == chromedp.ConsoleException {
				v.bad.add(m.Text)
			}
		}
	}()
	if before != "" {
		_, err := chromedp.Call(ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: before})
		require.NoError(t, err)
	}
	require.NoError(t, chromedp.Do(ctx, chromedp.EmulateViewport(width, height, chromedp.EmulateScale(scale)), chromedp.Navigate(address)))
	return v
}

// value is what a script in the page gives.
func value[T any](v *visit, script string) T {
	v.Helper()
	got, err := chromedp.Run(v.ctx, chromedp.Evaluate[T](script))
	require.NoError(v, err, script)
	return got
}

// until waits for a script to give true.
func (v *visit) until(script, why string) {
	v.Helper()
	_, err := chromedp.Run(v.ctx, chromedp.Poll[bool](script, chromedp.WithPollingTimeout(30*time.Second)))
	if err != nil {
		state, _ := chromedp.Run(v.ctx, chromedp.Evaluate[string]("[underdisc.state(), document.getElementById('status').innerText, document.querySelector('.trouble')?.textContent].join(' | ')"))
		v.Fatalf("%s: %v\nstate: %s\ncomplaints: %q", why, err, state, v.bad.all())
	}
}

// ticks waits until the picture has gone on by so many.
func (v *visit) ticks(n int) {
	v.Helper()
	v.until(fmt.Sprintf("underdisc.ticks >= %d", value[int](v, "underdisc.ticks")+n), "it goes on")
}

// press holds a key over two ticks.
func (v *visit) press(key string) {
	v.Helper()
	events := kb.Encode([]rune(key)[0])
	for i, e := range events {
		if i == len(events)-1 {
			v.ticks(2)
		}
		_, err := chromedp.Call(v.ctx, input.DispatchKeyEvent, *e)
		require.NoError(v, err)
	}
	v.ticks(2)
}

// click holds the left button over two ticks at a place of the page.
func (v *visit) click(x, y float64) {
	v.Helper()
	for _, what := range []input.DispatchMouseEventType{input.DispatchMouseEventTypeMouseMoved, input.DispatchMouseEventTypeMousePressed, input.DispatchMouseEventTypeMouseReleased} {
		require.NoError(v, chromedp.Do(v.ctx, chromedp.MouseEvent(what, x, y, chromedp.ButtonLeft, chromedp.ClickCount(1))))
		v.ticks(2)
	}
}
