// Package simtest holds problems with known answers, as sim.System values, and
// the means to measure the order of a method. It serves the tests of several
// packages and imports no testing framework.
//
// Every problem says where its answer comes from. "Test Set" is the Test Set
// for Initial Value Problem Solvers, F. Mazzia and C. Magherini, University of
// Bari, release 2.4; its digits were seen in second hand and reproduced.
// A closed form needs no source: the tests put it into the equation.
package simtest
