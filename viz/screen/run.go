package screen

import "github.com/hajimehoshi/ebiten/v2"

// Run opens the window, or takes the page's canvas, and shows the picture until
// the person has enough of it.
func Run(o Options) error {
	g, err := New(o)
	if err != nil {
		return err
	}
	ebiten.SetWindowTitle("Underdisc: " + o.Scenario.Title)
	ebiten.SetWindowSize(1600, 900)
	ebiten.SetWindowSizeLimits(1024, 640, -1, -1)
	ebiten.SetWindowResizingMode(ebiten.WindowResizingModeEnabled)
	ebiten.SetScreenClearedEveryFrame(false)
	ebiten.SetRunnableOnUnfocused(true)
	return ebiten.RunGameWithOptions(g, &ebiten.RunGameOptions{SingleThread: true})
}
