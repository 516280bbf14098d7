package plant

// Issue is one contradiction in a plant.
type Issue struct {
	Path  string // the parameter to change, or the part, or the kind that lacks
	Found string
	Want  string
}

// Check lists what is wrong.
func (p *Plant) Check() []Issue { return nil }

// CheckRunning is Check without what concerns the start alone.
func (p *Plant) CheckRunning() []Issue { return nil }
