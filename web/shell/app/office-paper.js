// Slips and answer sheet of a class set, as they come out of a printer: on the screen
// to be looked at first, on paper without anything around them.

import { h } from './dom.js';
import { t, pick } from './i18n.js';
import { addressOf, fill, group, madeOf } from './office-group.js';
import { answerText, dialText, insideOf } from './office-set.js';
import { shownName } from './office-head.js';
import { square } from './square.js';

/** The sheets that were asked for, with the way back. */
export function paper(app) {
  const { view, set } = group;
  const name = set.name || t('office.class.unnamed');
  return h('div', { class: 'office-paper', key: `paper-${view}` },
    h('div', { class: 'row office-acts' },
      h('button', { type: 'button', 'data-act': 'paper-back', onclick: () => { fill(app, { view: 'list' }); queueMicrotask(() => document.getElementById('office-set')?.focus()); } }, t('office.back')),
      h('button', { type: 'button', class: 'go', 'data-act': 'paper-print', onclick: () => print() }, t('office.print'))),
    h('h2', { id: 'office-paper', tabindex: '-1' }, t(view === 'slips' ? 'paper.slips' : 'paper.answers', { class: name })),
    h('p', { class: view === 'slips' ? 'mute office-paper-hint' : 'notice caution office-paper-hint' }, t(view === 'slips' ? 'office.slips.hint' : 'office.answers.only')),
    view === 'slips' ? slips(app, set, name) : answers(app, set));
}

/** A name as the screen may show it, and whole on paper. */
function nameOf(a, i) {
  return [h('span', { key: 'screen', class: 'screen-only' }, shownName(a.who, i + 1)), h('span', { key: 'print', class: 'print-only-inline' }, a.who)];
}

function slips(app, set, name) {
  const { scenario } = madeOf();
  return h('ol', { class: 'slips', 'data-out': 'slips' }, set.answers.map((a, i) => h('li', { key: a.variant, class: 'slip' },
    h('h3', null, nameOf(a, i)), h('p', null, [name, pick(scenario.title)].join(' · ')),
    a.minutes > 0 && h('p', { key: 'time' }, t('paper.minutes', { n: a.minutes })),
    a.square && h('div', { class: 'slip-square', key: 'square', own: true, ref: (el) => el.append(square(a.square, t('paper.square', { who: shownName(a.who, i + 1) }))) }),
    h('p', null, t(a.square ? 'paper.how' : 'office.slips.link')),
    h('p', { class: 'slip-link' }, h('a', { href: addressOf(a) }, addressOf(a))),
    h('p', { class: 'slip-small' }, t('paper.handin')), h('p', { class: 'slip-small' }, t('paper.simulated')))));
}

function answers(app, set) {
  const { scenario, tags } = madeOf();
  const few = scenario.engine.cylinders > 5 ? 'n' : 'n few'; // in one line, where they fit
  return h('div', { key: 'answers', 'data-out': 'answers' },
    h('p', null, [pick(scenario.title), pick(scenario.engine.name)].join(' · '), '. ', t('paper.private')),
    tags.length > 0 && h('p', { key: 'tags' }, t('paper.tags', { list: tags.join('; ') })),
    h('div', { class: 'office-scroll', tabindex: '0', role: 'region', 'aria-label': t('office.answers.print') }, h('table', { class: 'paper-table' }, h('thead', null, h('tr', null, ['student', 'inside', 'answer', 'dry', 'wet'].map((c) => h('th', { scope: 'col', key: c }, t(`paper.${c}`))))),
      h('tbody', null, set.answers.map((a, i) => h('tr', { key: a.variant },
        h('th', { scope: 'row' }, nameOf(a, i), a.extra_time ? h('small', { class: 'block' }, t('paper.extra', { n: a.extra_time })) : null),
        h('td', null, insideOf(a)), h('td', null, answerText(a)), h('td', { class: few }, dialText(app, a.dry)), h('td', { class: few }, dialText(app, a.wet))))))),
    h('p', { class: 'slip-small' }, t('paper.unit', { unit: app.state.unit })));
}
