// Package scenarios holds the scenario files and reads them: a plant, the
// faults and commands of a run, and what the run must show. The reader is
// strict: every value of the plant comes from the file or from a base that the
// file includes, and whatever is wrong is reported with file, line, column,
// what was found and what would be right.
//
// A file may hide faults: see Hidden. The log of a run is such a file, too, whose
// last key is a list that grows while the run goes on: see Log, and package
// runlog, which writes it.
//
// A scenario is a file of this folder, named for its name; adding one needs no
// line of Go. Runs and pictures do not live here.
package scenarios
