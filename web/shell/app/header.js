// The head of the page: where one is, sound, language.

import { h } from './dom.js';
import { t, pick, languages } from './i18n.js';
import { isWhole } from './parts.js';

/** The head of every place. */
export function header(app) {
  const { state } = app;
  const job = ['bay', 'debrief'].includes(state.place) ? state.view : null;
  return h('header', { class: 'top', key: 'top' },
    h('a', { class: 'skip', href: '#main', onclick: (e) => { e.preventDefault(); document.getElementById('main')?.focus(); } }, t('skip.main')),
    h('b', { class: 'name' }, 'Crankbay'),
    job && h('span', { class: 'job-name' }, pick(job.scenario.engine.name), ' · ', t(`mode.${job.mode}`)),
    h('nav', { 'aria-label': t('nav') },
      state.place !== 'yard' && h('button', { type: 'button', class: 'plain', 'data-act': 'to-yard', onclick: () => app.go('yard') }, t('place.yard')),
      !job && state.place !== 'opinion' && isWhole() && h('button', { type: 'button', class: 'plain wide-only', key: 'opinion', 'data-act': 'to-opinion', onclick: () => app.go('opinion') }, t('place.opinion')),
      !job && state.place !== 'desk' && isWhole() && h('button', { type: 'button', class: 'plain wide-only', key: 'desk', 'data-act': 'to-desk', onclick: () => app.go('desk') }, t('place.desk')),
      h('button', { type: 'button', class: 'plain', 'data-act': 'sound', onclick: () => app.mute(!state.muted) }, t(state.muted ? 'sound.off' : 'sound.on')),
      languageSwitch(app)));
}

function languageSwitch(app) {
  const other = languages.find((l) => l !== app.state.lang);
  return h('button', { type: 'button', class: 'plain', lang: other, 'data-act': 'language', onclick: () => app.speak(other) }, t('language.other'));
}
