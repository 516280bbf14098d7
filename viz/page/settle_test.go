package page

import (
	"fmt"
	"io/fs"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSettling(t *testing.T) {
	var s settling
	start := time.Unix(1000, 0)
	assert.False(t, s.due(start), "nothing to say yet")

	s.wanted = "shut"
	require.True(t, s.due(start), "the first text does not wait")
	assert.False(t, s.due(start.Add(time.Hour)), "what has not changed is not said again")

	// A text that changes on each of 60 ticks a second, for ten seconds.
	shown := 0
	last := start
	for i := 1; i <= 600; i++ {
		now := start.Add(time.Duration(i) * time.Second / 60)
		s.wanted = fmt.Sprint(i)
		if s.due(now) {
			assert.GreaterOrEqual(t, now.Sub(last), 500*time.Millisecond)
			assert.Equal(t, fmt.Sprint(i), s.shown, "the newest")
			shown++
			last = now
		}
	}
	assert.InDelta(t, 19, shown, 1, "about twice a second")

	// The last text is shown in the end, though nobody gives another.
	s.wanted = "reseated"
	assert.True(t, s.due(last.Add(500*time.Millisecond)))
	assert.Equal(t, "reseated", s.shown)
}

func TestChanges(t *testing.T) {
	for _, c := range []struct {
		name   string
		before string
		after  string
		want   []change
	}{
		{"first", "", "a\nb", []change{{0, "a"}, {1, "b"}}},
		{"one line", "a\nb\nc", "a\nB\nc", []change{{1, "B"}}},
		{"longer", "a", "a\nb", []change{{1, "b"}}},
		{"shorter", "a\nb", "a", nil},
		{"the same", "a\nb", "a\nb\n", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			var before []string
			if c.before != "" {
				_, before = changes(nil, c.before)
			}
			got, lines := changes(before, c.after)
			assert.Equal(t, c.want, got)
			assert.Equal(t, strings.TrimRight(c.after, "\n"), strings.Join(lines, "\n"))
		})
	}
}

// The page asks for nothing from elsewhere, has no style or script within
// itself, which the server forbids, and names all that it speaks of.
func TestPage(t *testing.T) {
	text := map[string]string{}
	for _, name := range []string{"index.html", "page.css", "page.js"} {
		b, err := fs.ReadFile(Files, name)
		require.NoError(t, err)
		text[name] = string(b)
		assert.NotRegexp(t, `(?i)(https?:)?//[a-z]`, strings.ReplaceAll(text[name], "// ", ""), "%s asks elsewhere", name)
	}
	html := text["index.html"]
	assert.NotRegexp(t, `(?i)<style|style=|\son[a-z]+=|<script(>|[^>]*>[^<])`, html)
	for _, want := range []string{`<html lang="en">`, "<title>", `role="region"`, `role="status"`, `aria-live="polite"`, "<noscript>", "licensed practice"} {
		assert.Contains(t, html, want)
	}
	for _, id := range regexp.MustCompile(`(?:aria-labelledby|aria-describedby|for)="([a-z-]+)"`).FindAllStringSubmatch(html, -1) {
		assert.Contains(t, html, `id="`+id[1]+`"`)
	}
	ids := regexp.MustCompile(`get\("([a-z-]+)"\)`).FindAllStringSubmatch(text["page.js"], -1)
	require.NotEmpty(t, ids)
	for _, id := range ids {
		assert.Contains(t, html, `id="`+id[1]+`"`, "the script looks for it")
	}
}
