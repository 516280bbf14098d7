package water

import "math"

// Grids over many powers of ten are cut by the bits of the number: each octave
// into 2^k equal cells. Then the cell is the number's leading bits, and no
// logarithm is taken.

// node is the i-th node of a grid with 2^k cells an octave that starts at 2^e.
func node(i, k, e int) float64 {
	return math.Float64frombits(uint64((1023+e)<<k+i) << (52 - k))
}

// octave finds x in such a grid: the cell, the place in it from 0 to 1, and the
// slope of that place by x. x must be a normal positive number.
func octave(x float64, k, e int) (i int, t, slope float64) {
	b := math.Float64bits(x)
	i = int(b>>(52-k)) - (1023+e)<<k
	t = (math.Float64frombits(b&(1<<(52-k)-1)|1023<<52) - 1) * float64(int(1)<<k)
	return i, t, math.Float64frombits(uint64(2046+k)<<52 - b&(0x7ff<<52))
}

// nodes are the nodes of n cells.
func nodes(n, k, e int) []float64 {
	x := make([]float64, n+1)
	for i := range x {
		x[i] = node(i, k, e)
	}
	return x
}

// even are the nodes of n equal cells from a to b.
func even(n int, a, b float64) []float64 {
	x := make([]float64, n+1)
	for i := range x {
		x[i] = a + (b-a)*float64(i)/float64(n)
	}
	return x
}
