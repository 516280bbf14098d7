// Package sim advances hybrid systems in time: continuous variables that obey
// differential equations, modes that select which ones, pending timers, and
// events that change all three. It knows no physics.
//
// # The step
//
// A System is the immutable description plus scratch; a State is everything
// that evolves. A Run makes steps in this order:
//
//  1. propose a step from the control's memory; cut it at the next due timer,
//     never at a command or at the end that was asked for;
//  2. try it; refuse it and try a smaller one while the error is too large or
//     a derivative is not finite;
//  3. look at the guards at the middle and the end; if one has crossed zero,
//     find the moment on the dense output, then step to it again, and polish
//     by stepping, so that the state at the event is a solution of the method,
//     not an interpolant;
//  4. write the step into the history; let the System handle the event; go on
//     handling until no guard is below zero.
//
// A command acts at its own time: the step that passed it is taken back and
// made again up to that time. Since the control never looks ahead to commands,
// a live run and its replay from the list of commands make the same steps bit
// for bit.
package sim
