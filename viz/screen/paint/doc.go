// Package paint puts a scene on a picture of the game library. Areas, lines,
// letters and hatching become triangles that take their colour from one atlas,
// so that a frame is a few calls. Edges are smoothed by fringes one pixel wide
// over which a colour fades. What has not changed for a while and lies over
// nothing that has is painted once, into a base that every frame starts from.
package paint
