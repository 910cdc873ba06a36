// Files that leave the page.

/**
 * Name of a file: crankbay-<scenario>-<who>.json, with letters any disk takes.
 * @param {Object} view
 * @param {string} who
 * @param {string} [what] a word before the ending
 */
export function fileName(view, who, what = '') {
  const plain = (text) => text.normalize('NFD').replace(/[\u0300-\u036f]/g, '').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '');
  return `${['crankbay', view.scenario.id, plain(who || 'student') || 'student', what].filter(Boolean).join('-')}.json`;
}

/** Hands a text to the browser's download. */
export function saveFile(name, text) {
  const url = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10000);
}
