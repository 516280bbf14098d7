// Package page is the page of a browser that the live picture runs in: its
// HTML, style and script, which the program serves, and in the browser's build
// the Host that the picture speaks to the page through.
//
// The picture is a canvas. What it shows is on the page a second time in words,
// for whoever cannot see it; F6 goes from the one to the other and back, since
// the canvas takes every other key.
package page
