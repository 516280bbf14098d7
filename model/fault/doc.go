// Package fault is the catalogue of what can go wrong: each fault changes
// named physical parameters of a plant, and nothing else. The simulation, not
// the catalogue, produces the signs.
//
// One file per fault, named after it, says which parameter it sets, the
// typical value and how that was chosen, and the source. catalogue.go lists
// them. A fault is known by its name alone in this package; whatever solves,
// draws or explains a plant sees changed parameters and no fault.
package fault
