package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/model/plant"
)

func TestMixture(t *testing.T) {
	for _, c := range []struct {
		name              string
		quality, air      float64
		longest, shortest string
		warm              bool
	}{
		{"dry", 1, 0, "steam", "steam", true},
		{"as good as dry", 0.9999, 0, "steam", "steam", true},
		{"a little wet", 0.9977, 0, "wet steam: 99.8 % steam, 0.2 % water by mass", "99.8 % steam", true},
		{"wet", 0.63, 0, "wet steam: 63 % steam, 37 % water by mass", "63 % steam", true},
		{"hardly steam", 0.0008, 0, "wet steam: 0.1 % steam, 99.9 % water by mass", "0.1 % steam", true},
		{"water", 0, 0, "water", "water", true},
		{"an empty pipe", 1, 1, "air", "air", false},
		{"a pipe that drains", 0.54, 0.41, "41 % air, 13 % steam, 46 % water by mass", "air, steam, water", false},
		{"air that the balances took for water", 0.003, 0.81, "81 % air, 19 % water by mass", "air, water", false},
		{"thirds, which round to 99", 2. / 3, 1. / 3, "33 % air, 33 % steam, 34 % water by mass", "air, steam, water", false},
		{"a trace of air", 0.9, 0.0011, "0.1 % air, 89.9 % steam, 10.0 % water by mass", "air, steam, water", true},
		{"air and water", 0.48, 0.48, "48 % air, 52 % water by mass", "air, water", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			h := &plant.Contents{Quality: c.quality, Air: c.air}
			got := Mixture(h)
			assert.Equal(t, c.longest, got[0])
			assert.Equal(t, c.shortest, got[len(got)-1])
			assert.Equal(t, c.warm, Warm(h))
			for i := 1; i < len(got); i++ {
				assert.Less(t, len(got[i]), len(got[i-1]), "shorter and shorter")
			}
		})
	}
}

func TestWater(t *testing.T) {
	for v, want := range map[float64]string{2e-8: "0.02 mL", 1.8e-7: "0.2 mL", 3.5e-5: "35 mL", 2.5e-3: "2.5 L"} {
		assert.Equal(t, want, Water(v))
	}
	assert.Equal(t, "99.7 degC", Degrees(372.85))
}

func TestFilling(t *testing.T) {
	for _, c := range []struct {
		name string
		c    plant.Contents
		want string
	}{
		{"dry", plant.Contents{Quality: 1, Volume: 1e-3}, "steam, no water"},
		{"a film", plant.Contents{Quality: 0.999, Water: 1e-9, Volume: 1e-3}, "steam, no water"},
		{"a little of the volume, most of the mass", plant.Contents{Quality: 0.026, Water: 3.4e-6, Volume: 150e-6}, "3.4 mL of water in 150 mL, steam above it"},
		{"full", plant.Contents{Quality: 0, Water: 150e-6, Volume: 150e-6}, "full of water, 150 mL"},
		{"air", plant.Contents{Quality: 1, Air: 1, Volume: 0.05}, "air, no water"},
		{"air and steam over water", plant.Contents{Quality: 0.6, Air: 0.3, Water: 2e-5, Volume: 0.05}, "20 mL of water in 50.0 L, air and steam above it"},
	} {
		assert.Equal(t, c.want, Filling(&c.c), c.name)
	}
}
