// Package outline is the plane geometry that every painter of a scene needs:
// curves made straight, areas and lines clipped to a rectangle, dashes,
// hatching. Its functions append to what they are given, so that a painter
// that keeps its Lines allocates nothing.
package outline
