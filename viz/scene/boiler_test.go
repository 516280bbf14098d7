package scene_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/network"
	"underdisc/viz/scene"
	"underdisc/viz/view"
)

const worked = "testdata/boiler-worked.yaml"

// saysOf is what the picture says of one of its places to the keyboard.
func saysOf(s *scene.Scene, name string) string {
	for _, f := range s.Focus {
		if f.Name == name {
			return f.Says
		}
	}
	return ""
}

// The boiler's panel stands where there is a boiler and nowhere else, and says
// what the snapshot has.
func TestBoilerIsShown(t *testing.T) {
	for _, z := range sizes {
		v := viewOf(t, runOf(t, "boiler-plant", "", 73.5), 65, scene.Units{})
		v.Size, v.Projector = z.size, z.projector
		s := scene.Draw(v)
		d := &v.Snapshot.Drums[0]
		said := partsOf(s)["boiler"]
		for _, want := range []string{"|Drum|", "|Water|", "|Fire|", "|Load|", "|Operators|", "|told|", "|dark|",
			"|" + fixed(100*d.WaterShare, 0) + " %|", "|" + fixed(d.Fire/1e6, 1) + " MW|", fixed(d.Pressure/1e5, 2), "10 % open"} {
			assert.Contains(t, said, want, "%v", z)
		}
		assert.Contains(t, saysOf(s, "boiler, Drum"), "rising, fire holds 38.00, switch sets 41.00")
		assert.Contains(t, saysOf(s, "boiler, Fire"), "asked for "+fixed(d.Asked/1e6, 2)+" MW")
		assert.Contains(t, saysOf(s, "boiler, Lamps"), "demand lamp dark")
		assert.Contains(t, saysOf(s, "charts"), "load changes at 60.000 s")
	}
	for _, none := range []string{"gas-bench-plus", "steam-bench"} {
		v := viewOf(t, runOf(t, none, "", 3), 2, scene.Units{})
		assert.False(t, v.Boils(), none)
		assert.NotContains(t, partsOf(scene.Draw(v)), "boiler")
	}
}

// A lamp that says what is not so stands on a plate in the ink of now, with the
// truth where it has room; one that is right has neither.
func TestLampThatIsWrong(t *testing.T) {
	for _, z := range sizes {
		v := viewOf(t, runOf(t, worked, "", 60), 30, scene.Units{})
		v.Size, v.Projector = z.size, z.projector
		require.True(t, v.Snapshot.Lamps[0].Lit)
		require.Zero(t, v.Snapshot.Valves[0].Disc.Lift)
		plates := func(s *scene.Scene) (n int) {
			for i := range s.Shapes {
				if sh := &s.Shapes[i]; sh.Part == "boiler" && sh.Fill != nil && sh.Fill.Ink == scene.Now {
					if r := pathBox(sh.Path); r.Width() < 3*r.Height() { // a lamp
						continue
					}
					n++
				}
			}
			return n
		}
		s := scene.Draw(v)
		assert.Equal(t, 1, plates(s), "%v", z)
		wide := !z.projector && z.size.X >= 1600
		assert.True(t, !wide || strings.Contains(partsOf(s)["boiler"], "lit, disc shut|"), "%v", z)
		assert.Contains(t, saysOf(s, "boiler, Lamps"), "demand lamp lit, disc shut, position lamp dark")
		right := scene.Draw(changed(v, func(w *scene.View) {
			w.Snapshot.Lamps = append(w.Snapshot.Lamps[:0:0], w.Snapshot.Lamps...)
			w.Snapshot.Lamps[0].Lit = false
		}))
		assert.Zero(t, plates(right))
	}
}

// The coil's circuit is drawn as it is: a contact that does not follow its relay,
// a fuse out or blown, faults to earth, a root valve that is throttled.
func TestCircuit(t *testing.T) {
	v := viewOf(t, runOf(t, worked, "", 60), 30, scene.Units{})
	v.Size = scene.Point{X: 1600, Y: 900}
	of := func(do func(c *network.FuseState, earths *int)) (map[string]string, *scene.Scene) {
		s := scene.Draw(changed(v, func(w *scene.View) {
			c := &w.Snapshot.Valves[0].Control
			do(&c.Fuse, &c.Earths)
		}))
		return partsOf(s), s
	}
	said, s := of(func(*network.FuseState, *int) {})
	assert.Contains(t, said["relay"], "|off|")
	assert.Contains(t, said["relay"], "|contact welded|")
	assert.Contains(t, said["sensor"], "|Root valve throttled|")
	assert.Contains(t, said["coil circuit"], "|one earth fault|")
	assert.Contains(t, said, "earth")
	assert.Contains(t, saysOf(s, "link 3, coil"), "winding ")
	said, _ = of(func(f *network.FuseState, n *int) { *f, *n = network.FuseBlown, 0 })
	assert.Contains(t, said["coil circuit"], "|fuse blown|")
	assert.NotContains(t, said, "earth")
	said, s = of(func(f *network.FuseState, n *int) { *f, *n = network.FuseOut, 2 })
	assert.Contains(t, said["coil circuit"], "|fed by two earths|")
	assert.Contains(t, saysOf(s, "link 3, coil"), "two earths")
	said, s = of(func(f *network.FuseState, n *int) { *f, *n = network.FuseIn, 0 })
	assert.Contains(t, said["coil circuit"], "pilot drops at")
	assert.Contains(t, saysOf(s, "link 3, coil"), "fuse in")
	none := partsOf(scene.Draw(viewOf(t, runOf(t, "gas-bench-plus", "", 3), 2, scene.Units{})))
	assert.NotContains(t, none, "fuse")
}

// The gate stands where the block valve stands on its way, not where it is going.
func TestGateTravels(t *testing.T) {
	r := runOf(t, worked, "", 60)
	shift := func(at float64) (float64, string, float64) {
		v := viewOf(t, r, at, scene.Units{})
		v.Size = scene.Point{X: 1600, Y: 900}
		s := scene.Draw(v)
		return -s.Shift[scene.WithGate].Y, partsOf(s)["block valve"], v.Snapshot.Valves[0].Block.Opening
	}
	open, says, _ := shift(1)
	assert.Contains(t, says, "|open|")
	half, says, share := shift(14)
	assert.InDelta(t, 0.7, share, 1e-3)
	assert.Contains(t, says, "|shutting, 70 %|")
	assert.InDelta(t, share*open, half, 0.02*open)
	there, says, share := shift(39)
	assert.InDelta(t, 0.4, share, 1e-6)
	assert.Contains(t, says, "|40 % open|")
	assert.InDelta(t, 0.4*open, there, 0.02*open)
}

// What leads out of the valve beside its seat is drawn with what it passes, and
// what the tailpipe ends in is named with its pressure.
func TestOpeningsAreShown(t *testing.T) {
	for _, z := range sizes {
		v := viewOf(t, runOf(t, worked, "", 60), 38, scene.Units{})
		v.Size, v.Projector = z.size, z.projector
		st := &v.Snapshot.Valves[0]
		require.Positive(t, st.Cover)
		require.Positive(t, st.Drain)
		said := partsOf(scene.Draw(v))
		assert.Contains(t, said, "cover")
		if !z.projector { // whose large letters may find no room
			assert.Contains(t, said["cover"], "cover leaks", "%v", z)
		}
		assert.Contains(t, said, "drain")
		assert.Contains(t, said["bleed"], "rain", "%v", z)
		assert.Contains(t, said["tailpipe"], "into ")
		assert.Contains(t, said["tailpipe"], " "+fixed(st.Behind/1e5, 2))
	}
	plain := viewOf(t, runOf(t, "boiler-plant", "", 73.5), 65, scene.Units{})
	said := partsOf(scene.Draw(plain))
	assert.NotContains(t, said, "cover", "none where nothing leaks")
	assert.NotContains(t, said["bleed"], "rain")
	assert.NotContains(t, said["tailpipe"], "neighbour")
}

// Operators who were not told say what they act upon and what they add.
func TestOperatorsUntold(t *testing.T) {
	v := viewOf(t, runOf(t, worked, "", 60), 38, scene.Units{})
	o := &v.Snapshot.Operators[0]
	require.Positive(t, o.Adds)
	says := saysOf(scene.Draw(v), "boiler, Operators")
	assert.Contains(t, says, "not told, read "+fixed(o.Gauge/1e5, 2)+", act on "+fixed(o.Acts/1e5, 2)+": add ")
}

// In no size does a dial lose its value.
func TestDialsKeepTheirValues(t *testing.T) {
	for unit, u := range unitSystems {
		v := viewOf(t, runOf(t, worked, "", 60), 38, u)
		for _, size := range windows {
			v.Size, v.Projector = size, true
			said := partsOf(scene.Draw(v))["boiler"]
			assert.True(t, strings.Contains(said, "|not told|") || strings.Contains(said, "|untold|"), "%s, %v: %s", unit, size, said)
			for _, want := range []string{" MW|", " %|", "|" + fixed(v.Snapshot.Drums[0].Pressure/1e5, 2)} {
				if unit == "bar abs" {
					assert.Contains(t, said, want)
				}
			}
		}
	}
}

// Of a sealed plant the boiler and the lamps stay, since they are seen from
// outside; nothing tells how disc, contact and fuse stand.
func TestSealedBoiler(t *testing.T) {
	v, err := view.At(hiddenRun(t, worked, 45), 43, view.Options{})
	require.NoError(t, err)
	require.True(t, v.Sealed)
	s := scene.Draw(v)
	said := partsOf(s)
	for _, want := range []string{"|Drum|", "|Fire|", "|Load|", "|Operators|", "|Demand"} {
		assert.Contains(t, said["boiler"], want)
	}
	assert.Contains(t, saysOf(s, "reading, Block valve"), "40 % open")
	// That steam blows at the cover is seen; through what is not.
	all := strings.ToLower(strings.Join(saidBy(s), "\n"))
	for _, inside := range []string{"welded", "fuse", "earth fault", "disc shut", "disc open", "drain", "header"} {
		assert.NotContains(t, all, inside)
	}
}
