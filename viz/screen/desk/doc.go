// Package desk is what a person can do at the picture, and how: the commands
// with their keys, the panels with what stands in them, the order in which the
// keyboard goes through things, and the words for time. It knows no screen, so
// all of it is tested without one; whoever shows it draws the panels and turns
// keys and clicks into calls.
package desk
