// Pure modules of the page, under Node's own test runner.

import test from 'node:test';
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';

const app = new URL('../../shell/app/', import.meta.url);
const { fill, useTables, t, pick } = await import(new URL('i18n.js', app));
const units = await import(new URL('units.js', app));
const { fillFacts, duration, cylinders } = await import(new URL('format.js', app));
const { dialAngle, scaleSteps } = await import(new URL('dial.js', app));
const { fileName, kindOfFile } = await import(new URL('files.js', app));
const wire = await import(new URL('wire.js', app));

const read = (path) => JSON.parse(readFileSync(new URL(path, import.meta.url), 'utf8'));
const en = read('../en.json');
useTables('en', en, en);

test('texts are filled as the vectors say', () => {
  for (const v of read('vectors.json')) assert.equal(fill(v.text, v.params), v.want, JSON.stringify(v));
});

test('a key without a text shows itself; a text in one language is used', () => {
  assert.equal(t('no.such.key'), 'no.such.key');
  assert.equal(pick({ es: 'hola' }), 'hola');
  assert.equal(pick(null), '');
});

test('numbers are read with a point or a comma', () => {
  const cases = [['180', 180], ['12.5', 12.5], ['12,5', 12.5], [' 1 250 ', 1250], ['1\u202f250', 1250], ['.5', 0.5], ['-3', -3]];
  for (const [text, want] of cases) assert.equal(units.parseNumber(text), want, text);
  for (const text of ['', 'abc', '1,2,3', '1.2.3', '12psi', 'Infinity', 'NaN', '1e3', '0x10', '-', '.']) {
    assert.ok(Number.isNaN(units.parseNumber(text)), text);
  }
});

test('a comma before three digits means thousands only where asked', () => {
  assert.equal(units.parseNumber('1,250', { thousands: true }), 1250);
  assert.equal(units.parseNumber('1,250'), 1.25);
  assert.equal(units.parseNumber('0,250', { thousands: true }), 0.25);
  assert.equal(units.parseNumber('12,5', { thousands: true }), 12.5);
});

// NIST SP 811, appendix B.8: 1 psi = 6.894757 kPa, 1 bar = 100 kPa.
test('pressures convert and come back', () => {
  assert.ok(Math.abs(units.toPa(1, 'psi') - 6894.757) < 0.001);
  assert.equal(units.toPa(1, 'bar'), 100000);
  assert.equal(units.showPa(units.toPa(150, 'psi'), 'kPa'), '1034');
  assert.equal(units.showPa(units.toPa(150, 'psi'), 'bar'), '10.34');
  for (const unit of units.pressureUnits) {
    for (const value of [0, 1, 72.5, 165, 300]) {
      assert.ok(Math.abs(units.fromPa(units.toPa(value, unit), unit) - value) < 1e-9, `${value} ${unit}`);
    }
  }
});

test('numbers lose their trailing zeros only after the point', () => {
  assert.equal(units.trim(100, 0), '100');
  assert.equal(units.trim(12.50, 2), '12.5');
  assert.equal(units.trim(-0.001, 1), '0');
});

// The command line fills the same sentences; both are held to these.
test('facts are put into sentences as the vectors say', () => {
  for (const v of read('facts.json')) assert.equal(fillFacts(v.text, v.facts, 'psi'), v.want, v.text);
});

test('words for time and cylinders', () => {
  assert.equal(duration(59.4), '59 min');
  assert.equal(duration(85), '1 h 25 min');
  assert.equal(cylinders([]), 'the whole engine');
  assert.equal(cylinders([3]), 'cylinder 3');
  assert.equal(cylinders([2, 3, 4]), 'cylinders 2, 3 and 4');
});

test('the dial sweeps 270 degrees and rests on its pins', () => {
  assert.equal(dialAngle(0), -135);
  assert.equal(dialAngle(0.5), 0);
  assert.equal(dialAngle(1), 135);
  assert.equal(dialAngle(5), dialAngle(1.02));
  assert.ok(dialAngle(-1) > -140);
  assert.deepEqual(scaleSteps(300, 5), { major: 50, minor: 5 });
  assert.deepEqual(scaleSteps(60, 1), { major: 10, minor: 1 });
});

test('a file name says engine, name and digest, never the scenario', () => {
  const file = '{"scenario":"burnt-exhaust-v6","digest":"0123456789abcdef"}';
  assert.equal(fileName('v6-3.5', 'José Peña', file), 'crankbay-v6-3-5-jose-pena-01234567.json');
  assert.equal(fileName('v6-3.5', '../..', file), 'crankbay-v6-3-5-student-01234567.json');
  assert.equal(fileName('v6-3.5', '', file, 'report'), 'crankbay-v6-3-5-student-01234567-report.json');
});

test('a file is an attempt, a scenario, or neither', () => {
  for (const data of [null, 3, 'text', [], [{ actions: [] }], {}, { name: 'package', version: '1.0' }, { format: 1 }]) assert.equal(kindOfFile(data), '', JSON.stringify(data));
  for (const data of [{ actions: [] }, { actions: 'broken' }, { scenario_digest: '' }]) assert.equal(kindOfFile(data), 'attempt');
  for (const data of [{ engine: {} }, { complaint: 'x' }, { format: 1, spec_pages: [] }]) assert.equal(kindOfFile(data), 'scenario');
});

test('units follow shop and place', () => {
  const want = { 'en-US': 'us', 'es-US': 'us', en: 'us', 'en-GB': 'metric', 'es-MX': 'metric', es: 'metric', 'de-DE': 'metric', '': 'metric' };
  for (const [locale, system] of Object.entries(want)) assert.equal(units.systemOf(locale), system, locale);
  assert.equal(units.systemOf(undefined), 'metric');
  const facts = [{ name: 'temperature', value: 82, unit: '°C' }, { name: 'torque', value: 25, unit: 'N·m' }, { name: 'oil', value: 10, unit: 'ml' }];
  const said = () => fillFacts('{temperature}, {torque}, {oil}.', facts, 'psi');
  units.useSystem('us');
  assert.equal(said(), '180 °F, 18 lb-ft, 10 ml (⅔ tbsp).');
  assert.ok(Math.abs(units.toCelsius(units.fromCelsius(82.3)) - 82.3) < 1e-9);
  assert.equal(units.fromCelsius(100), 212);
  assert.ok(Math.abs(units.fromNm(1.3558179483314004) - 1) < 1e-12);
  units.useSystem('furlongs');
  assert.equal(said(), '82 °C, 25 N·m, 10 ml (⅔ tbsp).');
});

test('oil is said in kitchen fractions of 15 ml', () => {
  for (const [ml, text] of [[5, '⅓'], [7.5, '½'], [10, '⅔'], [15, '1'], [20, '1 ⅓'], [14.9, '1'], [29.9, '2'], [1, '0.07'], [0, '0'], [NaN, 'NaN']]) assert.equal(units.spoons(ml), text, String(ml));
});

test('the snapshot layout is the one of the core', () => {
  const go = readFileSync(new URL('../../wire/wire.go', import.meta.url), 'utf8');
  const slot = (name) => Number(go.match(new RegExp(`\\bSlot${name}\\s*=\\s*(\\d+)`))[1]);
  for (const [name, index] of [...Object.entries(wire.Slot), ...Object.entries(wire.Cyl)]) assert.equal(index, slot(name), name);
  assert.equal(wire.HEAD, Number(go.match(/\bHead\s*=\s*(\d+)/)[1]));
  assert.equal(wire.STRIDE, Number(go.match(/\bStride\s*=\s*(\d+)/)[1]));
});
