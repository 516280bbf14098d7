// Package sound makes what a valve sounds like out of what flows in it: the
// hiss of pilot and bleed, the roar of the tailpipe, the click of the plunger,
// the thump of the disc.
//
// How much sound a jet makes follows laws of jets; how loud and how high it
// then comes out of a loudspeaker is a mapping for the ear, which says so where
// it is done. Nobody should measure anything by it.
package sound

// Rate is how many pairs of samples a second of sound has.
const Rate = 48000

// frame is the size of a pair of samples, bytes.
const frame = 8
