// Package harness runs games and windows in tests, with nobody there. A package
// whose tests need the game library has
//
//	func TestMain(m *testing.M) { harness.Main(m) }
//
// and each such test begins with harness.Need(t). Its tests then run within a
// running game: they may make pictures, paint on them and read their pixels
// with Pixels. Start runs another program in a window of its own, one tick at a
// time, and gives it keys and pointer.
//
// Where there is no display, a virtual one (Xvfb) is started. Where there is
// none of these, such tests are skipped, or fail if CI is true.
package harness
