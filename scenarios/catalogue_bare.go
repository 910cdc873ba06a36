//go:build bare

package scenarios

// A program built bare is handed its scenarios when it has started, see Carry.
var files []struct{ id, text string }
