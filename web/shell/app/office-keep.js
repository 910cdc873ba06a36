// What the Desk keeps on this device: jobs that were composed and classes that were
// handed out. Whoever else uses the device can open them. None makes way for another:
// with the secret of a class goes what its students hand in.

import { preference, keepPreference } from './store.js';

/** Jobs, newest first: {id, title, saved, text}; title is {en, es}, text the scenario file. */
export const keptJobs = () => preference('jobs', []);

/** Classes, newest first: {id, name, n, saved, text}; text is the class file, n the number of students. */
export const keptClasses = () => preference('classes', []);

/**
 * Keeps a job; one of the same id is replaced.
 * @returns {boolean} false when this device keeps nothing
 */
export const keepJob = (job) => keep('jobs', job);

/**
 * Keeps a class; one of the same id is replaced.
 * @returns {boolean} false when this device keeps nothing
 */
export const keepClass = (group) => keep('classes', group);

/**
 * The class that is kept here with the secret of a class file.
 * @param {string} text of the class file
 * @returns {?{kept:Object, isNewer:boolean, isOther:boolean}} isNewer: its list was changed
 *   later than the file's; isOther: both lists were changed, each in another way
 */
export function sameClass(text) {
  const file = JSON.parse(text);
  const age = (c) => c.revision ?? 0;
  const all = keptClasses().map((kept) => ({ kept, of: JSON.parse(kept.text) })).filter(({ of }) => of.secret === file.secret).sort((a, b) => age(b.of) - age(a.of));
  if (all.length === 0) return null;
  const equal = all.find(({ of }) => age(of) === age(file) && JSON.stringify(of.students) === JSON.stringify(file.students));
  const isNewer = age(all[0].of) > age(file);
  return { kept: (isNewer ? all[0] : equal ?? all[0]).kept, isNewer, isOther: !isNewer && age(all[0].of) === age(file) && !equal };
}

/** Forgets a job. */
export const forgetJob = (id) => keepPreference('jobs', keptJobs().filter((x) => x.id !== id));

/** Forgets a class: without its file nothing of it can be collected any more. */
export const forgetClass = (id) => keepPreference('classes', keptClasses().filter((x) => x.id !== id));

function keep(name, thing) {
  const others = preference(name, []).filter((x) => x.id !== thing.id);
  return keepPreference(name, [{ ...thing, saved: Date.now() }, ...others]);
}
