// Package code packs what travels without a server: an assignment into the
// fragment of a link, and an attempt into a short code that is copied, put into a
// QR code, or kept by a school's learning platform.
//
// Both are packed by one coder of our own that foresees what comes (coder.go,
// model.go) and knows what such texts look like (dictionary-1.txt,
// typical-1.txt). Everything is done in whole numbers, so any machine reads what any
// other wrote. What a version number stands for never changes; recorded codes in
// testdata hold that.
//
// A link is masked, not secret; a code is checked for damage, not signed. Neither
// needs more: an attempt counts for what its replay shows. FORMAT.md of package
// attempt is the specification.
package code
