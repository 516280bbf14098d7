// Package network solves a plant as a network of generic parts: volumes that
// keep mass and energy, flows between them, moving parts that volumes push on,
// coil circuits, sensors, switches, relays and walls. It packs their states
// into one vector, sums the balances, writes the Jacobian flow by flow, handles
// contacts and switching as events, and keeps the ledger.
//
// A Network is a compiled description: its parts never change. It holds
// scratch, so it serves one goroutine at a time.
//
// Conservation is built in: every flow is computed once, taken from one volume
// and given to the next, and the areas on which pressures push a moving part
// are the derivatives of the volumes by its position, so that the work leaving
// the fluid is the work reaching the part.
//
// Names of the trade, files and faults do not live here.
package network
