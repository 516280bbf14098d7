//go:build js

// Command underdisc-web is the live picture as a browser runs it. It is built
// and served by underdisc serve.
package main

import (
	"errors"

	"underdisc/scenarios"
	"underdisc/viz/page"
	"underdisc/viz/screen"
)

func main() {
	host := page.New()
	if err := show(host); err != nil {
		host.Fail(err)
		select {} // the page stays, with what went wrong
	}
}

// show runs the picture from what the page was opened with.
func show(host *page.Host) error {
	name, data, err := host.Given()
	if err != nil {
		return err
	}
	sc, err := scenarios.Parse(name, data, alone)
	if err != nil {
		return err
	}
	return screen.Run(screen.Options{Scenario: sc, Host: host, Hear: screen.Aloud})
}

// alone refuses what a scenario includes: the server sends it whole.
func alone(string) (string, []byte, error) {
	return "", nil, errors.New("the page opens no other files")
}
