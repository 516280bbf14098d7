package words_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"underdisc/model/explain"
	"underdisc/model/plant"
	"underdisc/scenarios"
	"underdisc/viz/words"
)

func TestEveryEventHasWords(t *testing.T) {
	for _, name := range scenarios.Events() {
		assert.NotContains(t, words.Event(name), "-")
		link := words.EventLink(name)
		ofSpring := slices.Contains([]string{"simmer", "pop", "full-lift", "full-lift-bounce", "leaves-stop", "strikes-gag", "held-by-gag", "leaves-gag", "reseat", "tight", "debris-washed-out"}, name)
		if ofSpring || strings.HasPrefix(name, "lever-") || strings.HasPrefix(name, "load-") || strings.HasPrefix(name, "block-valve-") {
			assert.Zero(t, link, "%s is of no link of the valve's", name)
			continue
		}
		assert.GreaterOrEqual(t, link, 1, name)
		assert.LessOrEqual(t, link, len(scenarios.Links()), name)
	}
	assert.Equal(t, "gate shut", words.Event("gate-shut"), "an event that it does not know")
	assert.Zero(t, words.EventLink("gate-shut"))
}

func TestEveryReasonHasWords(t *testing.T) {
	count := 0
	for r := explain.NoReason; r.String() != "unknown"; r++ {
		count++
		f := &explain.Facts{Thresholds: explain.Thresholds{LiftBelow: 5e5, ShutsAbove: 7e5, OpensBelow: 5e5}}
		said := words.Reason(f, explain.Verdict{Link: explain.Pilot, Reason: r})
		assert.NotContains(t, said, "nothing can be said", r.String())
		assert.NotContains(t, said, "%!", r.String())
		assert.False(t, strings.HasSuffix(said, "."), said)
		soon := words.Reason(f, explain.Verdict{Reason: r, In: explain.Opt{Value: 0.5, Known: true}})
		assert.Contains(t, soon, "; at this pace it changes over in 500.0 ms")
	}
	assert.Greater(t, count, 20)
}

func TestMarginAndHolder(t *testing.T) {
	for _, c := range []struct {
		name   string
		margin explain.Margin
		disc   explain.DiscFacts
		says   []string
	}{
		{"shut", explain.Margin{Toward: explain.ToLift, Threshold: 5.876e5, Pressure: 6.15e5, Force: 23670},
			explain.DiscFacts{Hold: plant.HeldShut, Contact: 2320},
			[]string{"lifts below 5.88", "a margin of 6.15 bar (23.67 kN) holds it on its seat", "rests on its seat, pressed there with 2.32 kN"}},
		{"cannot lift", explain.Margin{Toward: explain.ToLift, Threshold: -1e5},
			explain.DiscFacts{Hold: plant.HeldShut, Contact: 50}, []string{"even an empty chamber", "50 N"}},
		{"at the point", explain.Margin{Toward: explain.ToLift, Threshold: 5e5, Pressure: 10},
			explain.DiscFacts{Hold: plant.HeldShut, Friction: -20, Stick: 20}, []string{"which is now", "only by friction, 20 N of the 20 N"}},
		{"hung open", explain.Margin{Toward: explain.ToShut, Threshold: 7.75e5, Pressure: 2e5, Force: 7700},
			explain.DiscFacts{Hold: plant.HeldOpen, Lift: 0.015, Contact: -900}, []string{"shuts above 7.75", "a margin of 2.00 bar (7.70 kN) holds it off its seat", "at its stop, 15.0 mm down"}},
		{"past it", explain.Margin{Toward: explain.ToShut, Threshold: 7.75e5, Pressure: -2e5, Force: -7700},
			explain.DiscFacts{Hold: plant.Sticking, Lift: 0.007, Friction: 700, Stick: 1300}, []string{"past that by 2.00 bar", "rests part way, 7.0 mm down, held by friction"}},
		{"stuck on its way", explain.Margin{Toward: explain.ToOpen, Threshold: 3e5, Pressure: 1e5},
			explain.DiscFacts{Hold: plant.Sticking}, []string{"opens further below 3.00", "where it is"}},
		{"opening", explain.Margin{Toward: explain.InOpening, Pressure: -1e5, Force: -3800},
			explain.DiscFacts{Hold: plant.Moving, Lift: 0.003, Speed: 0.8}, []string{"drives the disc open", "moves down at 0.80 m/s"}},
		{"closing, turned", explain.Margin{Toward: explain.InClosing, Pressure: 1e5, Force: 3800},
			explain.DiscFacts{Hold: plant.Moving, Lift: -1e-9, Speed: -0.8}, []string{"turned against it", "reaches its seat at 0.80 m/s"}},
		{"floating", explain.Margin{Toward: explain.ToShut}, explain.DiscFacts{Floats: true, Hold: plant.Moving, Lift: 0.002}, []string{"floats 2.0 mm down"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			f := &explain.Facts{Margin: c.margin, Disc: c.disc, Chamber: explain.ChamberFacts{Pressure: c.margin.Threshold + c.margin.Pressure}}
			said := words.Margin(f) + " " + words.Holder(f)
			for _, s := range c.says {
				assert.Contains(t, said, s)
			}
		})
	}
}

func TestExplainSaysHowFarAHungDiscMustFall(t *testing.T) {
	f := &explain.Facts{State: explain.HungOpen, Why: explain.Verdict{Link: explain.Pilot, Reason: explain.PilotLeaks},
		Margin: explain.Margin{Toward: explain.ToShut, Threshold: 7e5, Pressure: 1e5}}
	said := strings.Join(words.Explain(f), " ")
	assert.Contains(t, said, "Hung open.")
	assert.Contains(t, said, "Link 4 (pilot) decides: the shut pilot leaks")
	assert.Contains(t, said, "no fall of pressure shuts it")
	assert.NotContains(t, said, "That is not all")
	f.Reseat.Vessel = explain.Opt{Value: 6.78e5, Known: true}
	assert.Contains(t, strings.Join(words.Explain(f), " "), "with the vessel at about 6.78 bar abs")

	f.Chamber.SteadyTight = explain.Opt{Value: 6.5e5, Known: true}
	assert.Contains(t, strings.Join(words.Explain(f), " "), "even with a tight pilot the chamber would settle at 6.50 bar abs")
	f.Chamber.Crosses, f.Chamber.ByFlow = true, explain.Opt{Value: 0.094, Known: true}
	said = strings.Join(words.Explain(f), " ")
	assert.Contains(t, said, "reaches it in about 94.0 ms")
	assert.NotContains(t, said, "with the vessel at about", "time shuts it, not the vessel's fall")
	f.Margin.Pressure = 1
	assert.NotContains(t, strings.Join(words.Explain(f), " "), "reaches it in about", "it goes now")
}

func TestNumbers(t *testing.T) {
	for want, got := range map[string]string{
		"12.03 bar abs (11.02 bar gauge)": words.Pressure(12.03e5),
		"0.20 bar":                        words.Difference(0.2e5),
		"12 mbar":                         words.Difference(1200),
		"1.73 kN":                         words.Force(1730),
		"20 N":                            words.Force(20.2),
		"12 us":                           words.Gap(12e-6),
		"14.9 ms":                         words.Gap(14.86e-3),
		"1.311 s":                         words.Gap(1.3112),
		"1000.0 s":                        words.Gap(1000),
		"2.199331 s":                      words.Clock(2.1993309),
		"10.0 ms":                         words.Gaps(0.01, 0.01),
		"10.0 ms to 12.0 ms":              words.Gaps(0.01, 0.012),
		"once":                            words.Times(1),
		"11 times":                        words.Times(11),
		"1 bounce":                        words.Count(1, "bounce", "bounces"),
		"3 bounces":                       words.Count(3, "bounce", "bounces"),
		"6.31 g/s":                        words.Flow(6.31e-3),
		"1.25 kg/s":                       words.Flow(1.25),
		"125 V":                           words.Voltage(125),
		"Hung open":                       words.Capital(words.State(explain.HungOpen)),
		"no link":                         words.Link(explain.None),
	} {
		assert.Equal(t, want, got)
	}
}
