//go:build !js

// Package model makes the page about the model: what is computed, what is
// idealised, what it was held against. Every figure and every number in it is
// computed while the page is written, from the same packages that the bench runs
// on; sentences alone are written by hand, in web/strings/model.
package model
