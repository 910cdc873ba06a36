//go:build !js

// Package plots draws curves in the look of the project: ink lines on white, one
// oxide-red line where one stands out, names beside their lines instead of a
// legend, the unit above the axis. It is left out of the command built for a
// JavaScript engine, which would double in size for pictures that a page draws
// itself.
//
// Equal figures give equal bytes.
package plots
