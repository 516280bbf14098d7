// Package paper draws charts on a page and writes it as PNG or SVG.
//
// A Page is a list of shapes: lines, filled outlines, texts. It is data first
// and ink later, so a test can ask whether two texts overlap. Charts (Panel)
// turn curves into such shapes: clipped to their box, thinned to what the
// width can show, labelled beside the line and not in a legend.
//
// Positions are in pixels of a page of 1600 by 900, x to the right, y down.
// Sizes are those that a projector needs: no text is smaller than a fortieth
// of the height, no two lines differ by colour alone.
//
// Nothing of valves, runs or units lives here.
package paper
