package unit

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestEveryDimension(t *testing.T) {
	require.Len(t, Dimensions(), 28)
	for _, dim := range Dimensions() {
		t.Run(string(dim), func(t *testing.T) {
			assert.True(t, Known(dim))
			assert.Regexp(t, "^an? [a-z ]+$", Noun(dim))
			v, err := Parse(Example(dim), dim)
			require.NoError(t, err)
			assert.Positive(t, v)

			one, err := Parse("1 "+SI(dim), dim)
			require.NoError(t, err)
			assert.Equal(t, 1.0, one, "the SI unit is the one inside")

			e := find(dim)
			spelt := map[string]bool{}
			for _, s := range e.units {
				for _, name := range append([]string{s.name}, s.also...) {
					assert.False(t, spelt[name], "%q stands twice", name)
					spelt[name] = true
					assert.Equal(t, name, tidy(name), "a name that cannot be reached")
					a, err := Parse("2 "+name, dim)
					require.NoError(t, err, name)
					b, err := Parse("2 "+s.name, dim)
					require.NoError(t, err, name)
					assert.Equal(t, b, a, "%q is another spelling of %q", name, s.name)
				}
			}
			assert.NotNil(t, e.named(e.zero))
			for i, s := range e.show {
				assert.NotNil(t, e.named(s.name), s.name)
				if i > 0 {
					assert.Greater(t, s.from, e.show[i-1].from)
				}
			}
		})
	}
}

func TestUnknownDimension(t *testing.T) {
	const dim = Dimension("torque")
	assert.False(t, Known(dim))
	assert.Nil(t, Units(dim))
	assert.Empty(t, Example(dim)+Noun(dim)+SI(dim))
}

func TestUnitsBeginWithTheUsualOne(t *testing.T) {
	assert.Equal(t, []string{"mm2", "cm2", "m2", "in2", "ft2"}, Units(Area))
	assert.Equal(t, []string{"", "%"}, Units(Ratio))
	assert.Equal(t, []string{"bar abs", "bar g"}, Units(Pressure)[:2])
}
