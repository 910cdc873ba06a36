//go:build !js

package pack

// Dense is what the single file's parts are written with.
var Dense = dense
