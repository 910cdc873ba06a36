// Files that leave the page.

/**
 * Name of a file: crankbay-<engine>-<who>-<digest>.json, with letters any disk
 * takes. The scenario stays out of it: its name can give the fault away.
 * @param {string} engine id of the engine
 * @param {string} who
 * @param {string} file the attempt as it is saved
 * @param {string} [what] a word before the ending
 */
export function fileName(engine, who, file, what = '') {
  const plain = (text) => text.normalize('NFD').replace(/[\u0300-\u036f]/g, '').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '');
  const digest = String(JSON.parse(file).digest ?? '').slice(0, 8);
  return `${['crankbay', plain(engine ?? ''), plain(who || 'student') || 'student', digest, what].filter(Boolean).join('-')}.json`;
}

/**
 * What a file from the disk is meant to be: 'attempt', 'scenario', or '' for
 * anything else. Whether it can be used is the core's to say.
 * @param {*} data parsed JSON
 */
export function kindOfFile(data) {
  if (data === null || typeof data !== 'object' || Array.isArray(data)) return '';
  if ('actions' in data || 'scenario_digest' in data) return 'attempt';
  return 'engine' in data || 'spec_pages' in data || 'complaint' in data ? 'scenario' : '';
}

/** Hands a text to the browser's download. */
export function saveFile(name, text, type = 'application/json') {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10000);
}
