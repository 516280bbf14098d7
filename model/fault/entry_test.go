package fault

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
)

func TestParseEntry(t *testing.T) {
	for _, c := range []struct {
		text string
		p    *plant.Plant
		want Entry
	}{
		{"pilot-leaks", bench(), Entry{Name: "pilot-leaks"}},
		{" pilot-leaks ", bench(), Entry{Name: "pilot-leaks"}},
		{"pilot-leaks=6mm2", bench(), Entry{Name: "pilot-leaks", Severity: number(6e-6)}},
		{"pilot-leaks=6 mm2", bench(), Entry{Name: "pilot-leaks", Severity: number(6e-6)}},
		{"pilot-leaks=6mm2@2s", bench(), Entry{Name: "pilot-leaks", Severity: number(6e-6), At: 2}},
		{"pilot-leaks = 6 mm2 @ 2 s", bench(), Entry{Name: "pilot-leaks", Severity: number(6e-6), At: 2}},
		{"pilot-leaks@500ms", bench(), Entry{Name: "pilot-leaks", At: 0.5}},
		{"pilot-leaks@0s", bench(), Entry{Name: "pilot-leaks"}},
		{"bleed-plugged=0mm2@1min", bench(), Entry{Name: "bleed-plugged", Severity: number(0), At: 60}},
		{"back-pressure=8.7barg@30s", bench(), Entry{Name: "back-pressure", Severity: number(971325), At: 30}},
		{"deadband-narrow=11.95 bar abs", bench(), Entry{Name: "deadband-narrow", Severity: number(11.95e5)}},
		{"switch-drifted=-0.2bar", bench(), Entry{Name: "switch-drifted", Severity: number(-0.2e5)}},
		{"coil-open=2e6ohm", bench(), Entry{Name: "coil-open", Severity: number(2e6)}},
		{"pilot-slow=3000N s/m", bench(), Entry{Name: "pilot-slow", Severity: number(3000)}},
		{"pilot-leaks:valve-2=7mm2@1s", pair(), Entry{Name: "pilot-leaks", Part: "valve-2", Severity: number(7e-6), At: 1}},
		{"selector-left", boiler(), Entry{Name: "selector-left"}},
		{"selector-left=open", boiler(), Entry{Name: "selector-left", Word: "open"}},
		{"selector-left:relay = off @ 2 s", boiler(), Entry{Name: "selector-left", Part: "relay", Word: "off", At: 2}},
		{"dump-restricted=9mm2", pair(), Entry{Name: "dump-restricted", Severity: number(9e-6)}},
	} {
		t.Run(c.text, func(t *testing.T) {
			got, err := ParseEntry(c.p, c.text)
			require.NoError(t, err)
			assert.Equal(t, c.want, got)
			_, changes, err := Apply(c.p, got)
			require.NoError(t, err, "what is read can be applied")
			assert.Equal(t, c.want.Severity == nil && c.want.Word == "", changes[0].Typical)
		})
	}
}

func TestParseEntryRefuses(t *testing.T) {
	for _, c := range []struct {
		name, text  string
		p           *plant.Plant
		found, want string
	}{
		{"nothing", "", bench(), "the catalogue has no such fault", "one of back-pressure"},
		{"misspelt", "pilot-leek=6mm2", bench(), `fault "pilot-leek"`, "pilot-leaks"},
		{"unit missing", "pilot-leaks=6", bench(), `severity "6" has no unit`, "an area such as 4 mm2"},
		{"unit of another dimension", "pilot-leaks=6mm", bench(), `severity "6mm" is a length`, "an area such as 4 mm2"},
		{"severity empty", "pilot-leaks=", bench(), `severity "" is not a decimal number`, "an area"},
		{"severity out of range", "pilot-leaks=-6mm2", bench(), "severity -6 mm2 is out of range", "at least 0 mm2 and at most 1 m2"},
		{"a word out of its list", "selector-left=shut", boiler(), `severity "shut" is out of range`, "auto, open or off"},
		{"a number for a word", "selector-left=1", boiler(), `severity "1"`, "auto, open or off"},
		{"two severities", "pilot-leaks=6mm2=7mm2", bench(), `severity "6mm2=7mm2"`, "an area"},
		{"gauge missing", "back-pressure=8bar", bench(), "does not say gauge or absolute", "bar abs"},
		{"time empty", "pilot-leaks@", bench(), `time "" is not a decimal number`, "a time such as 50 ms"},
		{"time without unit", "pilot-leaks@2", bench(), `time "2" has no unit`, "a time such as 50 ms"},
		{"time before severity", "pilot-leaks@2s=6mm2", bench(), `time "2s=6mm2"`, "a time"},
		{"time before the start", "pilot-leaks@-2s", bench(), "it sets in at -2 s", "0 s or later"},
		{"part empty", "pilot-leaks:=6mm2", bench(), "no part follows the colon", "the name of a piloted-valve: valve"},
		{"part unknown", "pilot-leaks:valve-9", bench(), `no part is named "valve-9"`, "valve"},
		{"part missing", "pilot-leaks", pair(), "several parts", "valve, valve-2"},
		{"block absent", "dump-restricted=9mm2", withoutDump(), "valve has no dump-line in this plant", "a plant whose valve has one"},
	} {
		t.Run(c.name, func(t *testing.T) {
			e, err := ParseEntry(c.p, c.text)
			assert.Equal(t, Entry{}, e)
			var bad *Error
			require.ErrorAs(t, err, &bad)
			assert.Contains(t, err.Error(), c.found)
			assert.Contains(t, bad.Want, c.want)
		})
	}
}

func FuzzParseEntry(f *testing.F) {
	for _, s := range []string{"pilot-leaks", "pilot-leaks=6mm2@2s", "bleed-plugged:valve=0 mm2@1e3 s", "back-pressure=8.7barg", "=@:", "a@b=c", "selector-left=off@1s", "coil-open=1e999ohm", "\xff=\x00@\n"} {
		f.Add(s)
	}
	p, q := bench(), boiler()
	f.Fuzz(func(t *testing.T, text string) {
		e, err := ParseEntry(p, text)
		if err != nil {
			e, err = ParseEntry(q, text)
		}
		if err != nil {
			if err.Error() == "" || e != (Entry{}) {
				t.Fatalf("%q: %+v, %v", text, e, err)
			}
			return
		}
		fault, ok := Find(e.Name)
		if !ok || !(e.At >= 0) {
			t.Fatalf("%q: %+v", text, e)
		}
		field, _ := fault.field(fault.Param)
		if e.Severity != nil && !field.Range.Contains(*e.Severity) {
			t.Fatalf("%q: severity %g outside %s", text, *e.Severity, field.Range)
		}
		if e.Word != "" && !slices.Contains(field.Enum, e.Word) {
			t.Fatalf("%q: severity %q, not one of %v", text, e.Word, field.Enum)
		}
	})
}
