package fault

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"underdisc/model/plant"
)

func TestTwoFaultsTogether(t *testing.T) {
	q, _, err := Apply(bench(), Entry{Name: "pilot-leaks"})
	require.NoError(t, err)
	q, changes, err := Apply(q, Entry{Name: "spring-broken", Severity: number(50)})
	require.NoError(t, err)
	assert.Equal(t, []string{"valve.spring.rate", "valve.spring.preload", "valve.pilot.leak-area"}, differing(t, bench(), q))
	assert.Equal(t, 50.0, changes[0].To.Number)
	assert.Equal(t, 20e3, changes[1].From.Number)
}

func TestConflicts(t *testing.T) {
	for _, c := range []struct {
		name string
		p    *plant.Plant
		es   []Entry
		want *ConflictError
		text string
	}{
		{"none", bench(), nil, nil, ""},
		{"different parameters", bench(), []Entry{{Name: "pilot-leaks"}, {Name: "bleed-plugged"}, {Name: "switch-drifted"}, {Name: "deadband-narrow"}}, nil, ""},
		{"one parameter", bench(), []Entry{{Name: "pilot-leaks"}, {Name: "bleed-plugged"}, {Name: "bleed-enlarged"}},
			&ConflictError{"bleed-plugged", "bleed-enlarged", "valve.bleed.area"}, "faults bleed-plugged and bleed-enlarged both set valve.bleed.area"},
		{"at different times", bench(), []Entry{{Name: "bleed-plugged"}, {Name: "bleed-enlarged", At: 10}},
			&ConflictError{"bleed-plugged", "bleed-enlarged", "valve.bleed.area"}, ""},
		{"through a further parameter", bench(), []Entry{{Name: "spring-broken"}, {Name: "spring-weak"}},
			&ConflictError{"spring-broken", "spring-weak", "valve.spring.preload"}, ""},
		{"twice the same", bench(), []Entry{{Name: "pilot-leaks"}, {Name: "pilot-leaks", At: 1}},
			&ConflictError{"pilot-leaks", "pilot-leaks", "valve.pilot.leak-area"}, "fault pilot-leaks is given twice for valve.pilot.leak-area"},
		{"once named, once not", bench(), []Entry{{Name: "pilot-leaks", Part: "valve"}, {Name: "pilot-leaks"}},
			&ConflictError{"pilot-leaks", "pilot-leaks", "valve.pilot.leak-area"}, ""},
		{"on two valves", pair(), []Entry{{Name: "pilot-leaks", Part: "valve"}, {Name: "pilot-leaks", Part: "valve-2"}}, nil, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			err := Conflicts(c.p, c.es)
			if c.want == nil {
				require.NoError(t, err)
				return
			}
			var e *ConflictError
			require.ErrorAs(t, err, &e)
			assert.Equal(t, c.want, e)
			assert.Contains(t, err.Error(), c.text)
		})
	}
	var e *Error
	require.ErrorAs(t, Conflicts(bench(), []Entry{{Name: "gremlins"}}), &e)
	require.ErrorAs(t, Conflicts(pair(), []Entry{{Name: "pilot-leaks"}}), &e)
}
