// The sound of cranking: samples come from the core, and are put one after the
// other into the page's audio output. Nothing here reads back.

const RATE = 24000;
const LEAD = 0.06; // seconds ahead of now; shorter stutters on slow machines

/**
 * Makes the sound of one page.
 * @returns {{unlock: function, push: function(Float32Array|null), mute: function(boolean), hush: function}}
 */
export function createSound() {
  let context = null;
  let gain = null;
  let next = 0;
  let muted = false;

  function unlock() {
    if (muted) return;
    const Audio = globalThis.AudioContext;
    if (!Audio) return;
    if (!context) {
      context = new Audio();
      gain = context.createGain();
      gain.gain.value = 0.8;
      gain.connect(context.destination);
    }
    if (context.state === 'suspended') context.resume().catch(() => {});
  }

  function push(samples) {
    if (!context || muted || !samples?.length || context.state !== 'running') return;
    const now = context.currentTime;
    if (next < now + 0.01) next = now + LEAD;
    if (next > now + 0.5) return; // fell behind: drop rather than pile up
    const buffer = context.createBuffer(1, samples.length, RATE);
    buffer.copyToChannel(samples, 0);
    const source = context.createBufferSource();
    source.buffer = buffer;
    source.connect(gain);
    source.start(next);
    next += samples.length / RATE;
  }

  function mute(on) {
    muted = on;
    if (gain) gain.gain.value = on ? 0 : 0.8;
  }

  function hush() {
    next = 0;
    context?.suspend().catch(() => {});
  }

  return { unlock, push, mute, hush };
}

/** Samples that belong to so many ticks. */
export function samplesFor(ticks) {
  return Math.min(ticks * 20, RATE * 2);
}
