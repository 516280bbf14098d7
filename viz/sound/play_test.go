package sound_test

import (
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"underdisc/viz/sound"
)

// Where there is a loudspeaker it plays, again and again; where there is none,
// an error says so each time, soon, and nothing else happens.
func TestPlay(t *testing.T) {
	var first error
	for i := range 3 {
		begun := time.Now()
		stop, err := sound.Play(sound.NewVoice())
		assert.Less(t, time.Since(begun), 3*time.Second)
		if i == 0 {
			first = err
		}
		if first != nil {
			assert.ErrorContains(t, err, "there is no sound: ")
			assert.Error(t, errors.Unwrap(err), "with what the system says")
			assert.Nil(t, stop)
			continue
		}
		if assert.NoError(t, err) {
			assert.NoError(t, stop())
			assert.NoError(t, stop(), "once is enough")
		}
	}
	t.Logf("the first time: %v", first)
}
