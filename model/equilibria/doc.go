// Package equilibria finds where a valve's disc can stand: all equilibria of its
// lift against the pressure of the vessel, stable and not, with the folds at
// which it pops and reseats.
//
// Everything but the disc is settled: the vessel is at rest with the plant's own
// fluid, each pipe loses what its steady flow makes it lose, what enters a pipe
// leaves it, no heat is exchanged. What is left is one force on the disc,
//
//	net(lift, pressure) = 0
//
// and it is stable where net falls with the lift. Which of several equilibria a
// valve is in, its past decides: hence blowdown.
//
// Left out, beside heat: what other valves discharge into a common pipe (but for
// sources that run steadily), the damping of small flows in a pipe, the weight of
// water in drains, and that a disc moves: what overshoots, and waves in pipes.
package equilibria
