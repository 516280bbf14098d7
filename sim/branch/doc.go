// Package branch follows the solutions of n equations in n+1 unknowns, the last
// of which is a parameter, by pseudo-arclength continuation: also round the
// folds, where the parameter turns back and a solution can no longer be had by
// giving it. Folds are found and refined.
//
//	predict   u + h t, t the unit tangent
//	correct   F(u) = 0, t (u - predicted) = 0, by Newton's method
//
// (H. B. Keller, Numerical solution of bifurcation and nonlinear eigenvalue
// problems, 1977; from memory.) Slopes are taken by differences, so a problem
// states its residuals alone; all unknowns and residuals are to be of the order
// of one. Only what is connected with the start is found: a separate, closed
// curve of solutions needs a start of its own.
//
// Nothing of what the equations mean lives here.
package branch
