// Package plan draws the bay: engine, gauge, hose, battery, switch and tools, as
// a list of plain shapes with hit boxes beside it. It knows neither a screen nor
// a browser: benchview turns the list into triangles on a canvas, SVG writes the
// same list as a file, and the tests read it directly.
//
// Lengths are CSS pixels of the surface, x to the right, y down. Angles are
// radians. Line weights are given as on a plate 960 units across and scale with
// the surface. Words are not drawn here: the canvas carries numerals and unit
// signs only.
package plan
