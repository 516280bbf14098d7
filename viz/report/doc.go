// Package report turns a finished run into what people and programs take away:
// the report in plain text, the summary as JSON, the tables as CSV, and the
// pictures on paper.
//
// All of them start from one Record, so they cannot tell different stories.
// Nothing here changes a run or knows which physics it obeyed.
//
// Blowdown is 100 (p_lift - p_reseat)/(p_lift - p_atm): in percent of the
// actual opening pressure, gauge. Both pressures are the vessel's, at the
// moment at which the disc leaves its seat and at the moment at which it is
// held there again; p_atm is the pressure of the surroundings that the valve
// discharges into.
package report
