package sound

import "math"

const sqrt3 = 1.7320508075688772

// dice throws the same numbers every time: xorshift64*.
type dice uint64

// next is evenly spread over -sqrt(3) to sqrt(3): its rms is one.
func (d *dice) next() float64 {
	x := uint64(*d)
	x ^= x >> 12
	x ^= x << 25
	x ^= x >> 27
	*d = dice(x)
	return (float64(x*0x2545F4914F6CDD1D>>11)/(1<<52) - 1) * sqrt3
}

// How quickly a noise follows what it is told, s; how wide its peak is.
const (
	follows = 0.012
	quality = 0.7
	block   = 64 // samples from one setting of the filter to the next
)

// noise is noise around a peak, on two sides. It glides to what it is told.
type noise struct {
	gain, toGain float64 // rms
	tone, toTone float64 // Hz
	a1, a2, b    float64
	state        [2][2]float64
}

// tell says what to glide to. From silence there is nothing to glide from.
func (n *noise) tell(gain, tone float64) {
	n.toGain = gain
	if tone > 0 {
		n.toTone = tone
	}
	if n.gain == 0 {
		n.tone = n.toTone
	}
}

// tune sets the filter for the next block: a band-pass of two poles. With one
// for the gain at its peak, it passes alpha/(1+alpha) of the power of white
// noise, exactly; b makes up for that.
func (n *noise) tune() {
	if n.tone <= 0 {
		return
	}
	n.tone *= math.Pow(n.toTone/n.tone, block/(follows*Rate))
	sin, cos := math.Sincos(2 * math.Pi * n.tone / Rate)
	alpha := sin / (2 * quality)
	n.b = math.Sqrt(alpha / (1 + alpha))
	n.a1 = -2 * cos / (1 + alpha)
	n.a2 = (1 - alpha) / (1 + alpha)
}

// silent tells whether there is nothing to hear from it, now and soon.
func (n *noise) silent() bool { return n.gain == 0 && n.toGain == 0 }

// next is one sample a side out of white noise of rms one.
func (n *noise) next(white [2]float64) [2]float64 {
	const nothing = 1e-6
	n.gain += (n.toGain - n.gain) / (follows * Rate)
	if n.toGain == 0 && n.gain < nothing {
		n.gain, n.state = 0, [2][2]float64{}
		return [2]float64{}
	}
	var out [2]float64
	for i, x := range white {
		s := &n.state[i]
		y := n.b*x + s[0]
		s[0] = s[1] - n.a1*y
		s[1] = -n.b*x - n.a2*y
		out[i] = n.gain * y
	}
	return out
}
