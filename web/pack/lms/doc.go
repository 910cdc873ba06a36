// Package lms packs the site with one job in it for a school's learning platform, by
// open standards: SCORM 1.2, SCORM 2004 (4th edition) and cmi5.
//
// In a package the page keeps the attempt in the platform's memory as a short code,
// resumes from it, and reports status, score and time (web/shell/app/lms.js). A package
// has no service worker, and only that of cmi5 may speak to another origin: the record
// store that its launch address names.
//
// What the manifests say is from the specifications as they are known to us, from
// memory where no copy was at hand; tests hold those of SCORM against the published
// schemas and all packages against independent programs.
package lms
