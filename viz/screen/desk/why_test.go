package desk

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/fault"
	"underdisc/scenarios"
	"underdisc/viz/session"
)

// read is all that the open panel says, but for its caution.
func read(d *Desk) string {
	var out []string
	for _, it := range d.Items() {
		if it.Kind != Caution {
			out = append(out, it.Text)
		}
	}
	return strings.Join(out, "\n")
}

// whyDesk is a desk that shows 5 s of a plant with a leaking pilot, whose panel
// is open.
func whyDesk(t *testing.T, hide bool) *Desk {
	t.Helper()
	sc, err := scenarios.Load("gas-bench-plus")
	require.NoError(t, err)
	e, err := fault.ParseEntry(sc.Plant, "pilot-leaks=6mm2")
	require.NoError(t, err)
	if hide {
		require.NoError(t, sc.Hide("rain", e))
	} else {
		sc.Faults = append(sc.Faults, e)
	}
	d, err := New(sc, &room{saved: map[string][]byte{}}, Files{Start: func(sc *scenarios.Scenario, known float64) (*session.Session, error) {
		return session.New(sc, session.Options{Known: known})
	}})
	require.NoError(t, err)
	press(d, "Space")
	for d.Session.T() < 5 {
		pass(t, d, 0.5)
	}
	press(d, "Space", "y")
	require.Equal(t, "Why?", d.Panel().Title())
	return d
}

// The panel gives the answer page by page, by keys alone, and follows the
// moment.
func TestWhyPanel(t *testing.T) {
	d := whyDesk(t, false)
	assert.Contains(t, read(d), "because of link 4 (pilot)")
	for page, says := range []string{"Why won't it reseat?", "4 pilot: not as asked", "chamber, where it settles", "leak area of the shut pilot: at most"} {
		item(t, d, "show").Pick(page)
		assert.Contains(t, read(d), says)
	}
	item(t, d, "show").Pick(whyNumbers)
	before, changes := read(d), d.Changes()
	d.Session.Step(-1)
	d.Changes()
	assert.Greater(t, d.Changes(), changes, "another moment, another answer")
	assert.NotEqual(t, before, read(d))
	press(d, "y")
	assert.Nil(t, d.Panel())
}

// Of a run with a hidden fault it says what shows outside, on every page.
func TestWhyPanelSealed(t *testing.T) {
	d := whyDesk(t, true)
	inside := regexp.MustCompile(`(?i)chamber|pilot|disc\b|bleed|plunger|spring|guide|seat|leak|link|threshold`)
	for page := range whyPages {
		item(t, d, "show").Pick(page)
		assert.NotRegexp(t, inside, read(d))
	}
	item(t, d, "show").Pick(whyLinks)
	assert.Contains(t, read(d), "hidden")
}
