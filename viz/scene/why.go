package scene

// Why answers the question that a valve's state raises, in words and numbers of
// the units in use: what a page or a panel of the picture shows.
type Why struct {
	Question string
	Answer   []string // sentences
	Rows     []WhyRow // the six links, in order
	Numbers  []WhyNumber
	Ends     string    // what Frees are: "What would free it"
	Frees    []WhyFree // repairs and acts that take the cause away
	Sums     []WhyFree // what the arithmetic would need beside, none of it a remedy
	Next     string    // the safe next step; empty where nothing is to be done
	Sealed   bool      // the inside is hidden: Numbers are what can be read outside
}

// WhyRow is one link.
type WhyRow struct {
	Link      string // "4 pilot"
	Asked     string // "shut"
	Stands    string // "as asked", "not as asked"
	What      string // "lift of the pilot"
	Now       string
	Threshold string // empty where no number decides
	Holds     bool
}

// WhyNumber is a number with its name.
type WhyNumber struct{ Name, Value string }

// WhyFree is a change that would free the valve. Does is the repair or act,
// empty of what is none.
type WhyFree struct{ Does, What, Now, Needed, By string }
