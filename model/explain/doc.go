// Package explain says what a valve is doing and why, as typed facts:
// numbers and words of a closed list, no sentences. It sees a snapshot of the
// plant with its rates and the record of events so far, nothing else, so the
// same behaviour gets the same explanation whatever brought it about.
//
// The order of reading: facts.go lists what comes out; threshold.go has the
// chamber pressures at which the disc goes; chamber.go finds where the
// chamber's pressure is heading and when; links.go reads the six links from
// switch to disc; chain.go walks them; state.go names what the valve does;
// past.go and cycle.go keep what is needed of the run so far.
//
// Spring-loaded valves have facts of their own: spring.go lists them and has the
// pressure at which the faces part; spring_state.go names what the valve does and
// why; spring_page.go and spring_rings.go turn the question round; spring_folds.go
// gets from the map of equilibria where it pops and reseats.
//
// Symbols, here and in the package's comments: pA body pressure above the disc,
// pB chamber pressure below it, pT outlet pressure, all Pa absolute; As seat
// area, Ag guide area, m2; x lift, m; phi share of the body pressure on the
// face; F0, k preload and rate of the main spring; m g weight; Fc the friction
// that must be overcome from rest.
//
// No name of a cause outside the valve's own six links may live here, and no
// picture.
package explain
