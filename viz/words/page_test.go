package words_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/model/explain"
	"underdisc/viz/words"
)

// Every quantity and every check of the closed lists has its words, and no
// remedy is one that alters what is sound.
func TestPageHasAllWords(t *testing.T) {
	for q := explain.NoQuantity; int(q) < explain.Quantities; q++ {
		assert.NotEmpty(t, words.Quantity(q), q.String())
	}
	for c := explain.TellStandsOpen; int(c) < explain.Checks; c++ {
		assert.NotEmpty(t, words.Next([]explain.Check{c}), c.String())
	}
	seen := map[string]bool{}
	for r := explain.Itself; int(r) < explain.Reaches; r++ {
		assert.False(t, seen[words.Reach(r)], r.String())
		seen[words.Reach(r)] = true
	}
	for _, q := range []explain.Quantity{explain.SetPressure, explain.BodyPressure, explain.ChamberPressure} {
		assert.Empty(t, words.Remedy(q))
	}
	said := words.Next([]explain.Check{explain.TellStandsOpen, explain.DumpLine, explain.ThenBlock})
	assert.Regexp(t, "^Tell the operators.*other relief in service; never as the first step.$", said)
}
