// Command underdisc computes what a pilot-operated relief valve does.
//
// Called without arguments it opens the live picture: in a window, or, where
// there is no display, in a browser; underdisc --help lists what else it does.
// The log of a live run goes to ./underdisc-out/live.
//
// A folder of results holds trace.csv (a row for each step and each even
// distance), events.csv, summary.json (what --json prints), report.txt, and
// for each valve the pictures plot (the whole run), first-lift (its opening and
// closing enlarged) and, where there are many lifts, last-lifts, each as PNG
// and SVG. written-by-underdisc.txt lists them: the program replaces what it
// wrote, and nothing else.
//
// Exit status: 0, 1 the run failed, 2 bad input, 130 interrupted. After 2 and
// 130 nothing has been written.
package main

import (
	"context"
	"os"
	"os/signal"

	"golang.org/x/term"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop) // a second interruption ends the program at once
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr, environment{
		version:  version(),
		terminal: term.IsTerminal(int(os.Stderr.Fd())),
	}))
}
