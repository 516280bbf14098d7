package scene

import (
	"image/color"
	"math"
)

// inks are the fixed colours by their meaning.
var inks = [...]color.RGBA{
	NoInk:  {},
	Dark:   {0x14, 0x20, 0x2B, 0xFF},
	Soft:   {0x44, 0x51, 0x5D, 0xFF},
	Ground: {0xF4, 0xF2, 0xEC, 0xFF},
	Panel:  {0xFF, 0xFF, 0xFF, 0xFF},
	Ahead:  {0xE9, 0xE7, 0xDF, 0xFF},
	Metal:  {0xDD, 0xE0, 0xE1, 0xFF},
	Hatch:  {0x8E, 0x98, 0x9F, 0xFF},
	Now:    {0xB3, 0x26, 0x1E, 0xFF},
	White:  {0xFF, 0xFF, 0xFF, 0xFF},
	Black:  {0x00, 0x00, 0x00, 0xFF},
}

// Color is the ink's value; that of NoInk is transparent.
func (i Ink) Color() color.RGBA { return inks[i] }

// HatchPitch is the distance between the lines of Hatched paint, and HatchWidth
// their width, at the reference size. The lines rise to the right at 45 degrees
// and run through where x + y is a whole number of pitches times the square
// root of two, so that pieces that touch share them.
const (
	HatchPitch = 8.0
	HatchWidth = 1.3
)

// Color is the colour that stands for a pressure, Pa absolute.
func (r Range) Color(pressure float64) color.RGBA {
	c := cividis[int(math.Round(r.Share(pressure)*float64(len(cividis)-1)))]
	return color.RGBA{uint8(c >> 16), uint8(c >> 8), uint8(c), 0xFF}
}

// InkOn is the ink, white or black, that contrasts more with a colour: by at
// least 4.58 to 1, whatever the colour.
func InkOn(c color.RGBA) Ink {
	if Contrast(c, White.Color()) >= Contrast(c, Black.Color()) {
		return White
	}
	return Black
}

// Contrast of two colours, 1 to 21: (L1 + 0.05)/(L2 + 0.05) with L the relative
// luminance of the lighter and of the darker, W3C, WCAG 2.1, section 1.4.3.
func Contrast(a, b color.RGBA) float64 {
	x, y := luminance(a), luminance(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

// luminance is the relative luminance of an sRGB colour, 0 to 1 (WCAG 2.1).
func luminance(c color.RGBA) float64 {
	linear := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.03928 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}
