package words_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/model/explain"
	"underdisc/viz/words"
)

// inBar are units of bar, gauge where air is not zero.
type inBar struct{ air float64 }

func (u inBar) PressureOf(p float64) string { return fmt.Sprintf("%.2f", (p-u.air)/1e5) }
func (u inBar) PressureName() string {
	if u.air == 0 {
		return "bar abs"
	}
	return "bar gauge"
}
func (inBar) Difference(dp float64) string { return fmt.Sprintf("%.2f", dp/1e5) }
func (inBar) DifferenceName() string       { return "bar" }
func (inBar) Flow(w float64) string        { return fmt.Sprintf("%.2f kg/s", w) }

// TestSpringWords: every state, reason, question, quantity and step has words of its
// own, in every unit.
func TestSpringWords(t *testing.T) {
	seen := map[string]string{}
	own := func(kind, text string) {
		t.Helper()
		assert.NotEmpty(t, text, kind)
		assert.NotContains(t, text, "%!")
		assert.Empty(t, seen[text], "%s says what %s does", kind, seen[text])
		seen[text] = kind
	}
	for q := range explain.SpringQuestions {
		own(explain.SpringQuestion(q).String(), words.SpringQuestion(explain.SpringQuestion(q)))
	}
	for q := range explain.SpringQuantities {
		own(explain.SpringQuantity(q).String(), words.SpringQuantity(explain.SpringQuantity(q)))
	}
	for c := range explain.SpringChecks {
		own(explain.SpringCheck(c).String(), words.SpringNext([]explain.SpringCheck{explain.SpringCheck(c)}))
	}
	for d := explain.PartsFaces; d <= explain.StopsSimmer; d++ {
		own(d.String(), words.SpringDoes(d))
	}
	for r := range explain.SpringReasons {
		f := &explain.SpringFacts{Why: explain.SpringReason(r), Inlet: 40e5, Vessel: 40e5, Parting: explain.Parting{Pressure: 41e5, Margin: 1e5},
			Lift: 0.003, FullTravel: 0.014, Travel: 0.001, HeldOff: 2e-4}
		for _, u := range []inBar{{}, {101325}} {
			said := words.SpringAnswer(f, u)
			assert.NotEmpty(t, said)
			for _, s := range said {
				assert.NotContains(t, s, "%!", explain.SpringReason(r).String())
				assert.True(t, strings.HasSuffix(s, "."), s)
				assert.NotContains(t, s, "..")
			}
			if u.air == 0 {
				own(explain.SpringReason(r).String(), said[0])
			}
		}
	}
}

// TestSpringReseatForetold: the sentence has the arithmetic of what it waits for.
func TestSpringReseatForetold(t *testing.T) {
	air := 1.01325e5
	f := explain.SpringFacts{State: explain.SpringAtFullLift, Why: explain.FlowHolds, Inlet: 39.1e5 + air, InletRate: -0.4e5, Lift: 0.014, FullTravel: 0.014}
	f = f.WithFolds(explain.SpringFolds{Reseat: explain.Opt{Value: 38.27e5 + air, Known: true}})
	u := inBar{air}
	said := strings.Join(words.SpringAnswer(&f, u), " ")
	assert.Contains(t, said, "It reseats when the inlet falls below 38.27 bar gauge; now 39.10 bar gauge, falling by 0.40 bar each second: in about 2 s.")
	f.InletRate = 0
	f = f.WithFolds(f.Folds)
	said = strings.Join(words.SpringAnswer(&f, u), " ")
	assert.Contains(t, said, "now 39.10 bar gauge, steady.")
}

// TestSpringBy: nobody is told to turn a spring, and rings only by those licensed.
func TestSpringBy(t *testing.T) {
	assert.Equal(t, words.NotDone, words.SpringBy(&explain.SpringFree{Quantity: explain.SpringSetting}))
	for _, q := range []explain.SpringQuantity{explain.UpperRingHeight, explain.LowerRingGap} {
		assert.Contains(t, words.SpringBy(&explain.SpringFree{Quantity: q, Remedy: true}), "licensed")
	}
	assert.Contains(t, words.SpringBy(&explain.SpringFree{Quantity: explain.InletPressure}), "nobody raises a pressure")
	assert.Contains(t, words.SpringBy(&explain.SpringFree{Quantity: explain.HandPull, Does: explain.PartsFaces}), "nobody")
}
