// Package plant describes a plant in the words of the trade: named parts with
// parameters in SI units. A description is immutable once built: changing a
// parameter yields a new one (Plant.With). The package also turns a
// description into the network of volumes, flows, moving parts and circuits
// that is solved (build.go), and reads snapshots off it (snapshot.go).
//
// No picture, no file format and no fault lives here.
package plant
