// Command underdisc computes what a pilot-operated relief valve does.
//
// Called without arguments it runs the gas bench, prints what happened and
// writes tables and pictures into ./underdisc-out/gas-bench.
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
