// Package screen shows a session in a window or a page: it draws what
// underdisc/viz/scene makes of it, lays buttons and panels over that, and turns
// keys and clicks into what package desk says they mean. Nothing is computed or
// worded here.
//
// The order of reading: host.go is what the program runs in; game.go is the
// loop; picture.go makes and paints the picture; board.go and the files beside
// it make widgets of what the desk has; look.go is how they look.
package screen
