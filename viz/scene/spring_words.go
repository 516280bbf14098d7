package scene

import "math"

// Going says where a pressure goes and how fast.
func Going(rate float64, u Units) string {
	size, n := u.factor()
	if math.Abs(rate/size) < 0.5*math.Pow(10, -float64(n)) {
		return "steady"
	}
	way := "rising "
	if rate < 0 {
		way = "falling "
	}
	return way + places(math.Abs(rate)/size, n) + " " + u.DifferenceName() + "/s"
}

// Lift writes a lift, m: in micrometres while the faces just part.
func Lift(x float64) string {
	if a := math.Abs(x); a < 0.9995e-3 {
		n := 0
		if a < 99.5e-6 {
			n = 1
		}
		return places(1e6*x, n) + " µm"
	}
	return Millimetres(x)
}
