// The needle as a tone. What a pitch should be is music's own arithmetic: an octave is
// twice the frequency, and the A below middle C is 220 Hz (ISO 16 puts the A above at 440).

import test from 'node:test';
import assert from 'node:assert/strict';

const app = new URL('../../shell/app/', import.meta.url);
const { pitch, createTone } = await import(new URL('tone.js', app));
const { Slot, MAX } = await import(new URL('wire.js', app));

/** A sound output that only writes down what it is told. */
function ear() {
  const heard = { made: 0, pitches: [], loud: [] };
  const param = (list) => ({ value: 0, setTargetAtTime: (v) => list.push(v), cancelScheduledValues() {} });
  globalThis.AudioContext = class {
    constructor() { heard.made++; }
    state = 'running';
    currentTime = 0;
    destination = {};
    createOscillator() { return { frequency: param(heard.pitches), connect() {}, start() {} }; }
    createGain() { return { gain: param(heard.loud), connect() {} }; }
  };
  return heard;
}

function snapshot(pa) {
  const snap = new Float64Array(MAX);
  snap[Slot.Needle] = pa;
  snap[Slot.FullScale] = 2e6;
  return snap;
}

test('half the scale is an octave', () => {
  assert.equal(pitch(0), 220);
  assert.equal(pitch(0.5), 440);
  assert.equal(pitch(1), 880);
  assert.equal(pitch(7), 880);
  assert.equal(pitch(-1), 220);
  assert.equal(pitch(NaN), 220);
});

test('it is silent until somebody wants it', () => {
  const heard = ear();
  const follow = createTone(() => false);
  for (const pa of [0, 5e5, 9e5]) follow(snapshot(pa));
  assert.equal(heard.made, 0);
});

test('it follows the needle and falls silent with it', () => {
  const heard = ear();
  const follow = createTone(() => true);
  for (const pa of [0, 5e5, 9e5, 1e6]) follow(snapshot(pa));
  assert.deepEqual(heard.pitches, [0.25, 0.45, 0.5].map(pitch));
  assert.equal(heard.loud.at(-1), 0); // what was planned last is silence
  const before = heard.pitches.length;
  for (let i = 0; i < 50; i++) follow(snapshot(1e6));
  assert.equal(heard.pitches.length, before, 'a needle at rest says nothing');
});
