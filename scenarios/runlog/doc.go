// Package runlog writes the log of a run while it goes on, and reads it.
//
// A log is a strict scenario file, in the form and with the checks of package
// scenarios, for three reasons: whatever takes a file takes a log; a person can
// read it, and cut from it; and there is one reader to trust. It includes
// nothing: it holds the whole plant as it was at the start, its numbers in the
// shortest form that reads back to the same bits, so that a scenario that changes
// later, or a base that is lost, changes no log. Faults and commands of the
// scenario stand in it as they do in any file; hidden faults stay hidden.
//
// The file ends in a list under the key "did", one item a line: what was done,
// each with its time, and now and then how far the run had come. The list only
// ever grows at its end, so a program that is killed leaves at worst a last line
// that does not end. A reader drops that line, and forgives nothing else. The
// key "log" says that the file is a log, in which form, and the tolerance of the
// solver if it is not the usual one.
//
// What stands above the list is written under another name, synced and renamed
// before anything is acknowledged; each action is synced before Did returns. How
// far the run came is handed to the system and not synced: it survives a program
// that is killed, and a machine that loses power loses at most what it had not
// written by itself.
package runlog
