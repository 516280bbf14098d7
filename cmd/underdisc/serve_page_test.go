package main

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/scenarios"
)

const (
	statusText = "document.getElementById('status').innerText"
	twinText   = "document.getElementById('twin').innerText"
	keptLog    = "localStorage.getItem('underdisc.log.text')"
	focusOn    = "(document.activeElement.id || document.activeElement.tagName)"
)

// simulated is the time that the picture shows, s.
const simulated = "Number(/t=([0-9.]+)/.exec(underdisc.state())[1])"

// TestPageInBrowser works the picture in a real browser as a person does.
func TestPageInBrowser(t *testing.T) {
	browser := chromium(t)
	address := served(t, "gas-bench-plus")
	const most = 5.5e6 // bytes

	v := open(t, browser, address, 1280, 800, 1, "")
	v.until("underdisc.ready", "the first picture is drawn")
	took := value[float64](v, "underdisc.times.ready - underdisc.times.arrived")
	size := value[float64](v, "performance.getEntriesByName(location.origin + '/underdisc.wasm')[0].encodedBodySize")
	t.Logf("first picture %.0f ms after the code has arrived; %.2f MB compressed", took, size/1e6)
	if os.Getenv("UNDERDISC_TIMES") != "" { // where nothing else runs
		assert.Less(t, took, 3000.0, "ms from the code to the first picture")
	}
	assert.LessOrEqual(t, size, most, "bytes of the compressed program")
	assert.Greater(t, size, 1e6, "it is the program")
	assert.Equal(t, "CANVAS", value[string](v, focusOn), "keys reach the picture at once")
	assert.False(t, value[bool](v, "document.getElementById('loading').checkVisibility()"))

	t.Run("words", func(t *testing.T) {
		v := v.as(t)
		twin := value[string](v, twinText)
		for link := 1; link <= 6; link++ {
			assert.Contains(t, twin, fmt.Sprintf("link %d, ", link))
		}
		assert.Contains(t, twin, "bar abs")
		assert.Equal(t, "What the picture shows, in words", value[string](v, "document.getElementById(document.querySelector('[role=region]').getAttribute('aria-labelledby')).innerText"))
		assert.NotEmpty(t, value[string](v, "document.querySelector('canvas').getAttribute('aria-label')"))
		assert.Contains(t, value[string](v, "document.getElementById('caution').innerText"), "licensed practice")
	})
	t.Run("run and hold", func(t *testing.T) {
		v := v.as(t)
		before := value[string](v, twinText)
		v.press(" ")
		v.until(simulated+" > 0.5", "it runs")
		v.press(" ")
		at := value[float64](v, simulated)
		v.ticks(60) // a second
		assert.Equal(t, at, value[float64](v, simulated), "it is held")
		assert.NotEqual(t, before, value[string](v, twinText), "the words have followed")
	})
	t.Run("out of the picture by keyboard and back", func(t *testing.T) {
		v := v.as(t)
		v.press(kb.Tab)
		assert.Equal(t, "CANVAS", value[string](v, focusOn), "Tab belongs to the picture")
		require.NoError(t, chromedp.Do(v.ctx, chromedp.KeyEvent(kb.F6)))
		assert.Equal(t, "words", value[string](v, focusOn))
		assert.True(t, value[bool](v, "document.getElementById('words').getBoundingClientRect().width > 300"), "the words are seen")
		before := value[float64](v, simulated)
		require.NoError(t, chromedp.Do(v.ctx, chromedp.KeyEvent(".")))
		v.ticks(10)
		assert.Equal(t, before, value[float64](v, simulated), "keys do not reach the picture from the words")
		seen := map[string]bool{}
		for range 6 {
			require.NoError(t, chromedp.Do(v.ctx, chromedp.KeyEvent(kb.Tab)))
			seen[value[string](v, focusOn)] = true
		}
		assert.NotContains(t, seen, "tempInput", "the library's own input is nothing to come upon")
		assert.Equal(t, -1, value[int](v, "document.getElementById('tempInput').tabIndex"))
		assert.Equal(t, "true", value[string](v, "document.getElementById('tempInput').getAttribute('aria-hidden')"))
		if value[string](v, focusOn) == "CANVAS" {
			require.NoError(t, chromedp.Do(v.ctx, chromedp.KeyEvent(kb.F6)))
		}
		require.NoError(t, chromedp.Do(v.ctx, chromedp.KeyEvent(kb.F6)))
		assert.Equal(t, "CANVAS", value[string](v, focusOn))
		v.press(".")
		assert.Greater(t, value[float64](v, simulated), before, "and they do again from the picture")
	})
	t.Run("a fault by keyboard", func(t *testing.T) {
		v := v.as(t)
		v.press("f")
		v.until("underdisc.state().includes('panel Faults')", "the panel opens")
		v.press(kb.ArrowDown)
		v.press(kb.ArrowDown)
		v.until(statusText+".startsWith('bleed enlarged')", "the second of the list is read out")
		for range 12 { // to the button that sets it, however many fields there are
			if strings.HasPrefix(value[string](v, statusText), "Set it") {
				break
			}
			v.press(kb.Tab)
			v.ticks(35) // a line stays for half a second
		}
		v.press(kb.Enter)
		v.until(statusText+".startsWith('Bleed enlarged, now')", "the fault is set")
		assert.Contains(t, value[string](v, keptLog), "bleed-enlarged", "and kept at once")
	})
	pointed := "" // the fault that the pointer has set
	t.Run("a fault by pointer", func(t *testing.T) {
		v := v.as(t)
		v.click(1101, 30) // Faults
		v.until("underdisc.state().includes('panel Faults')", "the panel opens")
		// Down one column of the list to the first fault, then up the left edge to
		// the lowest thing there, which sets it: wherever they lie exactly.
		picked := ""
		for y := 160.0; y < 320 && picked == ""; y += 12 {
			v.click(970, y)
			v.ticks(35) // a line stays for half a second
			if name, about, found := strings.Cut(value[string](v, statusText), ". "); found && about != "" {
				picked = name
			}
		}
		require.NotEmpty(t, picked, "none of the list is reached")
		for y := 640.0; y > 340 && strings.Contains(value[string](v, "underdisc.state()"), "panel Faults"); y -= 12 {
			v.click(731, y)
			v.ticks(8) // the state is told every six
		}
		v.until(statusText+" === "+strconv.Quote(strings.ToUpper(picked[:1])+picked[1:]+", now."), picked+" is set")
		pointed = strings.ReplaceAll(picked, " ", "-")
		assert.Contains(t, value[string](v, keptLog), "fault: "+pointed)
	})
	t.Run("saved and reloaded", func(t *testing.T) {
		v := v.as(t)
		v.press(" ")
		at := value[float64](v, simulated)
		v.until(fmt.Sprintf("%s > %g", simulated, at+0.3), "it runs on")
		v.press(" ")
		value[any](v, "window.saved = null; const was = URL.createObjectURL; URL.createObjectURL = (b) => { b.text().then((t) => { window.saved = t; }); return was.call(URL, b); }; 0")
		v.press(kb.F2)
		v.until("window.saved !== null", "a file is given out")
		saved := value[string](v, "window.saved")
		for _, fault := range []string{"bleed-enlarged", pointed} {
			assert.Contains(t, saved, "fault: "+fault)
		}
		sc, err := scenarios.Parse("saved.yaml", []byte(saved), nil)
		require.NoError(t, err, "the file that the browser gives out is one that the program takes")
		assert.Len(t, sc.Faults, 2)

		kept := value[string](v, keptLog)
		head := value[float64](v, "Number(/head=([0-9.]+)/.exec(underdisc.state())[1])")
		require.NoError(t, chromedp.Do(v.ctx, chromedp.Reload()))
		v.until("underdisc.ready", "it is there again")
		assert.Equal(t, kept, value[string](v, keptLog), "the log has outlived the page")
		v.press("o")
		v.until(fmt.Sprintf("Number(/head=([0-9.]+)/.exec(underdisc.state())[1]) > %g", head-1.01), "the last run is opened again, to within its last second")
	})
	assert.Empty(t, v.bad.all(), "the browser has nothing to complain of, the policy included")
}

// TestPageFits: the smallest window has no scroll bars; at twice the size
// nothing is out of reach.
func TestPageFits(t *testing.T) {
	browser := chromium(t)
	address := served(t, "gas-bench-plus")
	t.Run("1024 x 640", func(t *testing.T) {
		v := open(t, browser, address, 1024, 640, 1, "")
		v.until("underdisc.ready", "the first picture is drawn")
		assert.LessOrEqual(t, value[int](v, "document.documentElement.scrollWidth"), 1024)
		assert.LessOrEqual(t, value[int](v, "document.documentElement.scrollHeight"), 640)
		assert.Equal(t, "1024x600", value[string](v, "(c => c.width + 'x' + c.height)(document.querySelector('canvas'))"))
		for _, id := range []string{"swap", "caution", "status"} {
			assert.True(t, value[bool](v, "(e => e.scrollHeight <= 40 && e.getBoundingClientRect().bottom <= 640.5)(document.getElementById('"+id+"'))"), id)
		}
	})
	t.Run("200 %", func(t *testing.T) {
		v := open(t, browser, address, 800, 450, 2, "")
		v.until("underdisc.ready", "the first picture is drawn")
		assert.Equal(t, "2000x1120", value[string](v, "(c => c.width + 'x' + c.height)(document.querySelector('canvas'))"), "as many pixels as the screen has")
		assert.True(t, value[bool](v, "getComputedStyle(document.documentElement).overflow !== 'hidden' && document.documentElement.scrollWidth >= 1000"), "the rest can be scrolled to")
		require.NoError(t, chromedp.Do(v.ctx, chromedp.KeyEvent(kb.F6)))
		assert.True(t, value[bool](v, "(r => r.left >= 0 && r.right <= innerWidth + 1)(document.getElementById('words').getBoundingClientRect())"), "the words fit the width")
		assert.True(t, value[bool](v, "(e => e.scrollWidth <= e.clientWidth)(document.getElementById('words'))"))
	})
}

// TestPageLacks: a browser that cannot show the picture says why in words.
func TestPageLacks(t *testing.T) {
	browser := chromium(t)
	address := served(t, "gas-bench")
	for _, c := range []struct{ name, before, want string }{
		{"no WebAssembly", "delete window.WebAssembly", "no WebAssembly"},
		{"no WebGL", "HTMLCanvasElement.prototype.getContext = () => null", "no WebGL 2"},
		{"no program", "const f = window.fetch; window.fetch = (n) => f(n === 'underdisc.wasm' ? 'nowhere.wasm' : n)", "answers 404"},
		{"no storage is no trouble until something is kept", "Object.defineProperty(window, 'localStorage', { get() { throw new Error('switched off'); } })", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := open(t, browser, address, 1280, 800, 1, c.before)
			if c.want == "" {
				v.until("underdisc.ready", "the first picture is drawn")
				return
			}
			v.until("document.querySelector('.trouble') !== null", "it says what is wrong")
			said := value[string](v, "document.querySelector('[role=alert]').innerText")
			assert.Contains(t, said, c.want)
			assert.True(t, value[bool](v, "document.querySelector('.trouble').checkVisibility()"))
			assert.False(t, value[bool](v, "underdisc.ready"))
		})
	}
}
