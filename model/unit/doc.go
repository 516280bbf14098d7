// Package unit turns quantities with units into SI numbers and back, at the
// border of the program: files, command line, reports. Inside, every number
// is SI and carries no unit.
//
// A quantity is a decimal number and a unit, with or without a space between:
// "4 mm2", "250 degC", "20 N s/m", "6mm2". Only a ratio may stand without a
// unit. Unit symbols are case sensitive, as in ISO 80000 (mPa is not MPa);
// "^", superscripts, the degree, micro and ohm signs, and "*" or a dot for a
// product are understood.
//
// An absolute pressure says gauge or absolute. Gauge pressure is counted from
// one standard atmosphere, 101325 Pa, whatever the surroundings of the plant
// are. A pressure difference says neither.
//
// Conversion factors are kept as exact rationals, from their definitions, and
// the result is the float64 nearest to the exact value: "4 mm2" is the same
// number as the literal 4e-6.
//
// No physics and no parameter of a plant lives here.
package unit
