// Package words says facts in plain English: what an event is called, what
// the valve is doing, what holds it and by how much.
//
// It is given facts and numbers in SI and returns text. It computes nothing
// of its own, and whoever prints, draws or reads aloud takes the same words.
package words
