// Package evaluate holds what package reason makes of readings against what was really
// the matter: over engines that were simulated for nothing else, and over cases from the
// field.
package evaluate
