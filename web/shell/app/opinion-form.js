// The form of the Second opinion: a box to paste into, a table to type into, and
// what is known of the engine and of how it was measured.

import { h } from './dom.js';
import { t } from './i18n.js';

/** Columns of the table that can be typed. */
export const columns = ['dry', 'first', 'wet', 'leakage_percent', 'heard'];

const units = ['psi', 'kPa', 'bar', 'kgf/cm²', 'MPa'];
const layouts = ['inline', 'v', 'flat'];
const conditions = ['throttle', 'plugs', 'equal', 'warm'];
const places = ['throttle', 'tailpipe', 'oil_filler', 'coolant_neck', 'neighbour', 'gasket_edge', 'nowhere'];

/** Words of complaint and history, as the second program knows them. */
export const histories = [
  'misfire', 'misfire_under_load', 'no_complaint', 'no_start', 'sudden', 'stood_long', 'fuel_washed', 'overheated', 'coolant_lost', 'burns_oil',
  'crankcase_blows', 'valve_noise', 'valve_work', 'timing_work', 'cranks_slow', 'boosted', 'lash_checked', 'oil_helped', 'oil_no_change', 'water_in', 'new_rings',
];

/**
 * The parts of the form.
 * @param {Object} paper what is written
 * @param {Object} hands what can be done
 */
export function form(paper, hands) {
  return [
    pasted(paper, hands),
    h('div', { class: 'row opinion-acts', key: 'acts' },
      h('button', { type: 'submit', class: 'go', 'data-act': 'opinion-ask' }, t('opinion.ask')),
      h('label', { class: 'button file' }, t('opinion.file'),
        h('input', { type: 'file', accept: '.csv,.txt,.tsv,text/*', name: 'csv', onchange: (e) => { hands.open(e.target.files[0]); e.target.value = ''; } })),
      h('button', { type: 'button', class: 'plain', 'data-act': 'opinion-clear', onclick: hands.clear }, t('opinion.clear'))),
    hands.said, typed(paper, hands), measured(paper, hands), engine(paper, hands), past(paper, hands),
  ];
}

function pasted(paper, hands) {
  return h('div', { class: 'field', key: 'pasted' },
    h('label', { for: 'opinion-text' }, t('opinion.paste')),
    h('textarea', { id: 'opinion-text', rows: 5, maxlength: 1000000, spellcheck: 'false', autocapitalize: 'off', 'data-opinion': 'text', 'aria-describedby': 'opinion-text-hint',
      'aria-invalid': hands.trouble ? 'true' : null, value: paper.text, oninput: (e) => hands.write(e.target.value) }),
    h('small', { class: 'mute', id: 'opinion-text-hint' }, t('opinion.paste.hint')));
}

function typed(paper, hands) {
  return h('details', { key: 'typed', class: 'fold', open: paper.typing, ontoggle: (e) => { if (e.target.open !== paper.typing) hands.unfold(e.target.open); } },
    h('summary', null, t('opinion.typed')),
    h('p', { class: 'mute small' }, t('opinion.typed.hint')),
    h('label', { class: 'inline' }, t('opinion.cylinders'),
      h('select', { 'data-opinion': 'count', value: String(paper.count), onchange: (e) => hands.count(Number(e.target.value)) },
        Array.from({ length: 16 }, (_, i) => h('option', { value: String(i + 1), selected: i + 1 === paper.count }, String(i + 1))))),
    h('table', { class: 'readings opinion-typed' },
      h('caption', { class: 'hidden' }, t('opinion.typed')),
      h('thead', null, h('tr', null, ['cylinder', ...columns].map((c) => h('th', { scope: 'col', key: c, class: `of-${c}` }, t(`opinion.column.${c}`))))),
      h('tbody', null, Array.from({ length: paper.count }, (_, i) => row(paper, hands, i + 1)))));
}

function row(paper, hands, cylinder) {
  const props = (column) => ({
    'data-opinion': column, 'data-cylinder': cylinder, 'aria-label': t('opinion.cell', { what: t(`opinion.column.${column}`), cylinder }),
    value: paper.cells[`${column}/${cylinder}`] ?? '', onchange: (e) => hands.type(column, cylinder, e.target.value),
  });
  return h('tr', { key: cylinder }, h('th', { scope: 'row' }, String(cylinder)),
    columns.map((column) => h('td', { key: column }, column === 'heard'
      ? h('select', props(column), h('option', { value: '' }, '–'), places.map((p) => h('option', { value: p, selected: paper.cells[`heard/${cylinder}`] === p }, t(`air.${p}`))))
      : h('input', { type: 'text', inputmode: 'decimal', maxlength: 40, autocomplete: 'off', ...props(column) }))));
}

/** A line of text about the engine. */
function line(paper, hands, name, hint = '') {
  const id = `opinion-${name}`;
  return h('div', { class: 'field', key: name },
    h('label', { for: id }, t(`opinion.${name}`)),
    h('input', { id, type: 'text', maxlength: 60, autocomplete: 'off', 'data-opinion': name, value: paper.said[name] ?? '', 'aria-describedby': hint ? `${id}-hint` : null,
      onchange: (e) => hands.say(name, e.target.value) }),
    hint && h('small', { class: 'mute', id: `${id}-hint`, key: 'hint' }, hint));
}

function choice(paper, hands, name, label, options) {
  const id = `opinion-${name}`;
  return h('div', { class: 'field', key: name },
    h('label', { for: id }, label),
    h('select', { id, 'data-opinion': name, value: paper.said[name] ?? '', onchange: (e) => hands.say(name, e.target.value) },
      options.map(([value, text]) => h('option', { value, selected: (paper.said[name] ?? '') === value }, text))));
}

function engine(paper, hands) {
  return h('details', { class: 'fold', key: 'engine' },
    h('summary', null, t('opinion.engine')),
    h('div', { class: 'halves' },
      choice(paper, hands, 'unit', t('opinion.unit'), [['', t('opinion.unit.guess')], ...units.map((u) => [u, u])]),
      choice(paper, hands, 'layout', t('opinion.layout'), [['', t('opinion.layout.unknown')], ...layouts.map((l) => [l, t(`opinion.layout.${l}`)])]),
      line(paper, hands, 'banks', t('opinion.banks.hint')),
      choice(paper, hands, 'two-stroke', t('opinion.asked.two-stroke'), [['', t('opinion.unknown')], ['no', t('opinion.no')], ['yes', t('opinion.yes')]]),
      line(paper, hands, 'minimum', t('opinion.figure.hint')), line(paper, hands, 'standard', t('opinion.figure.hint')), line(paper, hands, 'difference'),
      line(paper, hands, 'ratio'), line(paper, hands, 'altitude', t('opinion.altitude.hint')),
      line(paper, hands, 'rpm'), line(paper, hands, 'volts')));
}

function measured(paper, hands) {
  return h('section', { class: 'fold-open', key: 'measured' }, h('h2', null, t('opinion.conditions')),
    conditions.map((name) => h('fieldset', { class: 'asked', key: name }, h('legend', null, t(`opinion.asked.${name}`)),
      h('div', { class: 'row' }, [['yes', 'yes'], ['no', 'no'], ['', 'unknown']].map(([value, word]) => h('label', { class: 'inline', key: word },
        h('input', { type: 'radio', name: `opinion-${name}`, value, 'data-opinion': name, checked: (paper.said[name] ?? '') === value, onchange: () => hands.say(name, value) }),
        t(`opinion.${word}`)))))));
}

function past(paper, hands) {
  return h('details', { class: 'fold', key: 'past' },
    h('summary', null, t('opinion.history'), paper.history.length > 0 && h('span', { class: 'mute', key: 'n' }, ` (${paper.history.length})`)),
    h('ul', { class: 'ticks' }, histories.map((word) => h('li', { key: word }, h('label', { class: 'inline' },
      h('input', { type: 'checkbox', 'data-opinion': 'history', 'data-choice': word, checked: paper.history.includes(word), onchange: (e) => hands.tell(word, e.target.checked) }),
      t(`opinion.history.${word}`))))));
}
