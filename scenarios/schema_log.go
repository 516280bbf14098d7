//go:build !js

package scenarios

import (
	"github.com/invopop/jsonschema"

	"underdisc/model/unit"
)

// The parts of the schema that the log of a run and hidden faults have.

// concealedText is a text that hides faults.
func concealedText(doc string) *jsonschema.Schema {
	return &jsonschema.Schema{Type: "string", Description: doc, Pattern: `^[A-Za-z0-9_-]{40,}$`}
}

func hiddenSchema() *jsonschema.Schema {
	const doc = "Faults that stay unsaid until they are revealed: what underdisc hide has made."
	return &jsonschema.Schema{Description: doc, AnyOf: []*jsonschema.Schema{concealedText(doc), listOf(doc, concealedText(doc))}}
}

func logSchema() *jsonschema.Schema {
	tolerance := quantity("Relative tolerance of a step; left out, the usual one.", unit.Ratio, toleranceRange)
	out := object("Makes the file the log of a run.",
		"format", &jsonschema.Schema{Description: "The form of the log.", Const: LogFormat},
		"tolerance", tolerance)
	out.Required = []string{"format"}
	return out
}

// didSchema is the list of what was done. To a reader of YAML a list without
// items is null.
func didSchema() *jsonschema.Schema {
	reached := object("How far the run had come.", "reached", quantity("The time.", unit.Time, timesOfLog))
	reached.Required = []string{"reached"}
	hidden := object("A fault that was hidden.", "hidden", concealedText("The fault."))
	hidden.Required = []string{"hidden"}
	item := &jsonschema.Schema{OneOf: []*jsonschema.Schema{settingSchema(), faultSchema(), hidden, reached}}
	const doc = "What was done, in order, one item a line; the last key of the file."
	return &jsonschema.Schema{Description: doc, AnyOf: []*jsonschema.Schema{{Type: "null"}, listOf(doc, item)}}
}
