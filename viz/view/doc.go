// Package view fills the view that a scene is drawn from: a snapshot of a run,
// the facts about it, the recent past, the events that mark it, the sentence
// that says why.
//
// At does so for one moment, a Lens for one moment after the other of a run that
// goes on. The order of reading: view.go, lens.go; what a lens keeps: log.go and
// marks.go of the events, grid.go, cell.go and probe.go of the curves; window.go; sentence.go and
// holds.go say why; seal.go and seal_sentence.go have what may be shown and said
// while a fault is hidden.
//
// It chooses and words; it computes nothing of the valve itself, and knows
// neither shapes nor inks.
package view
