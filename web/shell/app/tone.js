// The needle as a tone, for who would rather hear it: the higher it stands, the higher
// the pitch. It sounds only while the needle moves, says no number and marks no stroke:
// as with the eye, counting stays with the student. Off until somebody wants it.

import { Slot } from './wire.js';

const LOW = 220; // Hz at zero
const OCTAVES = 2; // from zero to full scale
const LOUD = 0.07;
const STILL = 5e-4; // share of the scale; less than this isn't movement

/**
 * The pitch of a place on the scale.
 * @param {number} share 0 at zero, 1 at full scale; held to that
 * @returns {number} Hz
 */
export function pitch(share) {
  const held = Number.isFinite(share) ? Math.min(1, Math.max(0, share)) : 0;
  return LOW * 2 ** (OCTAVES * held);
}

/**
 * Makes the tone of one page.
 * @param {function(): boolean} wanted whether it may sound just now
 * @returns {function(Float64Array)} follows the snapshots
 */
export function createTone(wanted) {
  let voice = null;
  let last = NaN;

  function begin() {
    if (!globalThis.AudioContext) return null;
    const context = new AudioContext();
    const source = context.createOscillator();
    const gain = context.createGain();
    gain.gain.value = 0;
    source.connect(gain);
    gain.connect(context.destination);
    source.start();
    return { context, source, gain };
  }

  return (snap) => {
    const share = snap[Slot.Needle] / (snap[Slot.FullScale] || 2e6);
    const moved = Math.abs(share - last) > STILL;
    if (moved || Number.isNaN(last)) {
      const first = Number.isNaN(last);
      last = share;
      if (first) return;
    }
    if (!moved || !wanted()) return;
    voice ??= begin();
    if (!voice) return;
    const { context, source, gain } = voice;
    if (context.state === 'suspended') context.resume().catch(() => {});
    const now = context.currentTime;
    source.frequency.setTargetAtTime(pitch(share), now, 0.02);
    gain.gain.cancelScheduledValues(now);
    gain.gain.setTargetAtTime(LOUD, now, 0.02);
    gain.gain.setTargetAtTime(0, now + 0.25, 0.08);
  };
}
