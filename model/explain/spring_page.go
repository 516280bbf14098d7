package explain

import (
	"math"

	"underdisc/model/plant"
)

// SpringQuestion is the question that a spring-loaded valve's state raises.
type SpringQuestion int

const (
	WhyTight SpringQuestion = iota
	WhySimmers
	WhyOpen
	WhyWontReseat // the pressure at its inlet is not falling
	WhyHeldOff
	WhyCannotLift
	WhyChatters
)

var springQuestionWords = [...]string{"why-tight", "why-it-simmers", "why-open", "why-it-will-not-reseat", "why-it-will-not-seat", "why-it-cannot-lift", "why-it-chatters"}

func (q SpringQuestion) String() string { return word(springQuestionWords[:], int(q)) }

// SpringQuestions is how many there are.
const SpringQuestions = len(springQuestionWords)

// SpringQuantity is what could be changed.
type SpringQuantity int

const (
	InletPressure   SpringQuantity = iota // Pa absolute
	BehindPressure                        // at the outlet, Pa absolute
	HandPull                              // N
	NutTurned                             // m off the seat
	DebrisSize                            // m
	GagLeaves                             // m of lift
	UpperRingHeight                       // m
	LowerRingGap                          // m
	SpringSetting                         // preload, N
)

var springQuantityWords = [...]string{"inlet-pressure", "outlet-pressure", "hand-pull", "nut-holds", "debris-size", "gag-leaves-lift",
	"upper-ring-exit-height", "lower-ring-gap", "spring-preload"}

func (q SpringQuantity) String() string { return word(springQuantityWords[:], int(q)) }

// SpringQuantities is how many there are.
const SpringQuantities = len(springQuantityWords)

// SpringFree is a change that would by itself take the valve to where it should be:
// the value of one quantity at which the balance of forces turns, all others as now.
type SpringFree struct {
	Quantity    SpringQuantity
	Path        string // of the parameter, where it is one
	Now, Needed float64
	Below       bool // it must be below Needed, else above
	Does        SpringDoes
	By          Reach
	In          Opt  // s, as things go now
	Remedy      bool // false: what the arithmetic would need, not a remedy
}

// SpringDoes is what the change brings about.
type SpringDoes int

const (
	PartsFaces SpringDoes = iota
	PopsIt
	ReseatsIt
	SeatsIt
	LetsItLift
	StopsSimmer
)

var springDoesWords = [...]string{"parts-the-faces", "pops-it", "reseats-it", "lets-it-seat", "lets-it-lift", "stops-the-simmer"}

func (d SpringDoes) String() string { return word(springDoesWords[:], int(d)) }

// SpringPage answers the question. Everything in it is computed from one snapshot,
// the run so far and the folds given.
type SpringPage struct {
	Facts    SpringFacts
	Question SpringQuestion
	Frees    []SpringFree
	Next     []SpringCheck // in this order; empty where nothing is to be done
}

// SpringPageOf makes the page of the spring-loaded valve of that index.
func SpringPageOf(m *plant.Model, s *plant.Snapshot, valve int, past SpringPast, folds SpringFolds) SpringPage {
	pg := SpringPage{Facts: Spring(m, s, valve, past).WithFolds(folds)}
	f := &pg.Facts
	pg.Question = springQuestion(f)
	k := springFreer{m: m, s: s, st: &s.Springs[valve], v: &m.Springs[valve], f: f, pg: &pg}
	k.all()
	pg.Next = springNext(&pg)
	return pg
}

// steadyRate is the rate, Pa/s, below which the pressure at the inlet counts as not
// falling: a bar in a minute and a half. Common practice, no source.
const steadyRate = 1000.0

func springQuestion(f *SpringFacts) SpringQuestion {
	switch f.State {
	case SpringTight:
		return WhyTight
	case SpringSimmering:
		return WhySimmers
	case SpringHeldOff:
		return WhyHeldOff
	case SpringGagged:
		return WhyCannotLift
	case SpringChattering:
		return WhyChatters
	case SpringAtFullLift, SpringPartly:
		if f.InletRate > -steadyRate {
			return WhyWontReseat
		}
	}
	return WhyOpen
}

// springFreer gathers what would free a valve.
type springFreer struct {
	m  *plant.Model
	s  *plant.Snapshot
	st *plant.SpringState
	v  *plant.SpringMap
	f  *SpringFacts
	pg *SpringPage
}

func (k *springFreer) add(q SpringFree) { k.pg.Frees = append(k.pg.Frees, q) }

// path is that of a parameter of the valve.
func (k *springFreer) path(key string) string { return k.f.Valve + "." + key }

func (k *springFreer) all() {
	f := k.f
	switch f.State {
	case SpringTight:
		k.inlet(PartsFaces, f.Parting.Pressure, false)
		k.back()
		k.hand()
	case SpringSimmering:
		k.inlet(StopsSimmer, f.Parting.Shuts, true)
		if p := f.Folds.Pop; p.Known {
			k.inlet(PopsIt, p.Value, false)
		}
	case SpringHeldOff:
		k.holder()
	case SpringGagged:
		k.add(SpringFree{Quantity: GagLeaves, Path: k.path("gag.leaves-lift"), Now: k.st.Spec.Gag.Leaves, Needed: f.FullTravel,
			Does: LetsItLift, By: IsolatedWork, Remedy: true})
	case SpringByLever:
		// Only what a hand gives beyond the balance keeps it up.
		lever := k.st.Spec.Lever
		needed := (k.st.LeverForce - f.Forces.Net) / lever.Ratio
		k.add(SpringFree{Quantity: HandPull, Now: f.Hand.Now, Needed: math.Max(0, needed), Below: true, Does: ReseatsIt, By: Operators, Remedy: true})
	case SpringAtFullLift, SpringPartly, SpringFalling, SpringChattering:
		if p := f.Folds.Reseat; p.Known {
			k.inlet(ReseatsIt, p.Value, true)
		}
		if k.pg.Question == WhyWontReseat {
			k.rings()
			k.spring()
		}
	}
}

// inlet adds a pressure that the inlet would have to get to.
func (k *springFreer) inlet(does SpringDoes, needed float64, below bool) {
	f := k.f
	if below != (needed < f.Inlet) || needed <= 0 {
		return // it is there already
	}
	q := SpringFree{Quantity: InletPressure, Now: f.Inlet, Needed: needed, Below: below, Does: does, By: NoWait, Remedy: true}
	if q.In = arrives(f.Inlet, f.InletRate, needed); q.In.Known {
		q.By = Itself
	} else if below {
		q.By = Operators
	}
	q.Remedy = below // nobody raises a pressure to lift a valve
	k.add(q)
}

// backShare is the share of the parting pressure above the outlet from which on
// what the back pressure adds is worth a word.
const backShare = 0.005

// back adds the back pressure at which the faces would part at the present inlet.
func (k *springFreer) back() {
	f := k.f
	share := f.Back.Raises / (k.st.Outlet - surroundings(k.m, k.st.Spec))
	if !(f.Back.Raises > backShare*f.Parting.Pressure) || !(share > 0) {
		return
	}
	needed := k.st.Outlet - f.Parting.Margin/share
	if air := surroundings(k.m, k.st.Spec); needed > air && needed < k.st.Outlet {
		k.add(SpringFree{Quantity: BehindPressure, Now: k.st.Outlet, Needed: needed, Below: true, Does: PartsFaces, By: Operators, Remedy: true})
	}
}

// hand adds the pull at the lever that would part the faces.
func (k *springFreer) hand() {
	if h := &k.f.Hand; h.Fitted {
		k.add(SpringFree{Quantity: HandPull, Now: h.Now, Needed: h.ToLift, Does: PartsFaces, By: Operators, Remedy: h.Can()})
	}
}

// holder adds what holds it off its seat.
func (k *springFreer) holder() {
	if k.f.Nut {
		k.add(SpringFree{Quantity: NutTurned, Path: k.path("lever.nut-holds"), Now: k.f.HeldOff, Below: true, Does: SeatsIt, By: IsolatedWork, Remedy: true})
		return
	}
	k.add(SpringFree{Quantity: DebrisSize, Path: k.path("seat.debris.size"), Now: k.f.HeldOff, Below: true, Does: SeatsIt, By: IsolatedWork, Remedy: true})
}

// spring adds the preload at which it would begin to shut at the present lift: no
// remedy, since it would move the set pressure.
func (k *springFreer) spring() {
	lacks := k.f.Forces.Net
	if lacks > 0 {
		now := k.st.Spec.Spring.Preload
		k.add(SpringFree{Quantity: SpringSetting, Path: k.path("spring.preload"), Now: now, Needed: now + lacks, Does: ReseatsIt, By: IsolatedWork})
	}
}
