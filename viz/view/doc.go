// Package view fills the view that a scene is drawn from: a snapshot of a run,
// the facts about it, the recent past, the events that mark it, the sentence
// that says why.
//
// It chooses and words; it computes nothing of the valve itself, and knows
// neither shapes nor inks.
package view
