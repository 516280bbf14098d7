package explain_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/model/explain"
	"underdisc/scenarios"
)

// The words are those that scenario files use, in the same order.
func TestWordsOfFiles(t *testing.T) {
	for i, w := range scenarios.States() {
		assert.Equal(t, w, explain.State(i).String())
	}
	assert.Equal(t, "unknown", explain.State(len(scenarios.States())).String())
	for i, w := range scenarios.Links() {
		assert.Equal(t, w, explain.Link(i+1).String())
	}
	assert.Equal(t, "none", explain.None.String())
	assert.Equal(t, "unknown", explain.Link(7).String())
}

// Every constant has its own word: the last of each list has the last word.
func TestLastWords(t *testing.T) {
	assert.Equal(t, "chatters", explain.Chatters.String())
	assert.Equal(t, "unknown", (explain.Chatters + 1).String())
	assert.Equal(t, "deadband-short", explain.DeadbandShort.String())
	assert.Equal(t, "drop-out-delay", explain.DropOutDelay.String())
	assert.Equal(t, "current-lost", explain.CurrentLost.String())
	assert.Equal(t, "pilot-leaks", explain.PilotLeaks.String())
	assert.Equal(t, "fills-too-slowly", explain.FillsTooSlowly.String())
	assert.Equal(t, "in-closing", explain.InClosing.String())
	assert.Equal(t, "unknown", (explain.InClosing + 1).String())
	seen := map[string]bool{}
	for r := explain.NoReason; r <= explain.Chatters; r++ {
		assert.False(t, seen[r.String()], r.String())
		seen[r.String()] = true
	}
}
