// Package scene turns a view into shapes: the picture of one valve at one
// moment, laid out and coloured, as plain data. It knows no screen and no
// paper; painters turn the shapes into pixels, and draw nothing of their own.
//
// A view is filled by whoever shows it: a snapshot, facts, the recent past,
// marks of events, settings. The same view gives the same shapes.
//
// Coordinates are in picture units, 1600 wide and 900 high at the reference
// size, x to the right and y down.
package scene
