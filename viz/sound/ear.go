package sound

import "math"

// From here on it is a mapping for the ear, not physics. From a leak to an open
// valve the power of sound grows a thousand million times; a classroom has 50 dB.
const (
	faintest = 3e-6 // W: from here down nothing is heard
	loudest  = 3e3  // W: a seat of 50 mm wide open at 12 bar
	span     = 50.0 // dB between them
	top      = 0.22 // rms of the loudest; the sum of all is limited softly
)

// Narrow jets peak far above what an ear hears. Everything is heard three
// octaves lower, so that a wide jet still sounds lower than a narrow one.
const (
	octaves = 3
	lowest  = 70.0
	highest = 9000.0
)

// loudness is the rms, up to top, that an acoustic power [W] is played at.
func loudness(power float64) float64 {
	if !(power > faintest) {
		return 0
	}
	x := math.Min(math.Log(power/faintest)/math.Log(loudest/faintest), 1)
	// Nearly so many dB for each step, but with no step at the faint end.
	return top * math.Expm1(x*span/20*math.Ln10) / math.Expm1(span/20*math.Ln10)
}

// pitch is where a peak [Hz] is heard, Hz.
func pitch(peak float64) float64 {
	return math.Max(lowest, math.Min(highest, peak/(1<<octaves)))
}
