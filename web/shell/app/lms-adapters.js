// Which adapter speaks to which kind of platform.

import { scorm12, scorm2004 } from './lms-scorm.js';
import { cmi5 } from './lms-cmi5.js';

/** @param {'scorm12'|'scorm2004'|'cmi5'} format */
export function adapterFor(format) {
  return { scorm12, scorm2004, cmi5 }[format]();
}
