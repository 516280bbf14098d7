package fluid

// Viscous is a fluid that knows its dynamic viscosity.
type Viscous interface {
	// Mu is the viscosity of a state, Pa s, and its slopes by specific volume
	// and by internal energy.
	Mu(s *State) (mu, byV, byU float64)
}

// Voider is a fluid, or a law made for one, that knows the void fraction of a
// state: the share of its volume that is vapour.
type Voider interface {
	// Void is that share, 0 to 1, and its slopes by specific volume and by
	// internal energy.
	Void(s *State) (alpha, byV, byU float64)
}

// Void asks a fluid or a law for the void fraction of a state. Of one that is
// no Voider the share of the mass stands in, which is the same in a gas, a
// vapour and a liquid; in between its slopes are taken as zero.
func Void(of any, s *State) (alpha, byV, byU float64) {
	if v, ok := of.(Voider); ok {
		return v.Void(s)
	}
	return s.X, 0, 0
}

// Mu implements Viscous: a constant.
func (g *Gas) Mu(*State) (mu, byV, byU float64) { return g.Viscosity, 0, 0 }
