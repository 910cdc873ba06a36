// Package e2e tests the built site in a real Chromium: a whole assessed test
// from the Yard to the Debrief, with the drawn Bay and without it, with the
// mouse and with the keyboard alone. All of it is in test files; the site under
// test is the folder web/dist.
package e2e
