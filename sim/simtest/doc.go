// Package simtest gives tests the numbers they are held against. Three kinds,
// three folders of testdata: published (printed by others), derived (worked out in
// closed form from a stated law, not by our code) and golden (merely recorded
// from our own code). Only the first two are evidence that the physics is right.
package simtest
