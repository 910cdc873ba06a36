// Working without a network: a copy of the site kept on the device, and the
// word that a newer one has come. Nothing is replaced while somebody works.

import { isPacked } from './parts.js';

const SOON = 4000; // ms after the start: what is needed first comes first

let waiting = null; // a newer build that may take over

/** Whether this page keeps a copy at all: not from a disk, not inside a package. */
function possible() {
  return !isPacked() && 'serviceWorker' in navigator && document.querySelector('link[rel="manifest"]') !== null;
}

/**
 * Starts keeping the site.
 * @param {function({kept?: boolean, newer?: boolean})} tell called when something becomes known
 */
export function keepSite(tell) {
  if (!possible()) return;
  const found = (worker) => {
    waiting = worker;
    tell({ newer: true });
  };
  setTimeout(async () => {
    try {
      const kept = await navigator.serviceWorker.register('sw.js', { updateViaCache: 'none' });
      const watch = (worker) => worker?.addEventListener('statechange', () => {
        if (worker.state === 'installed' && navigator.serviceWorker.controller) found(worker);
      });
      if (kept.waiting && navigator.serviceWorker.controller) found(kept.waiting);
      watch(kept.installing);
      kept.addEventListener('updatefound', () => watch(kept.installing));
      kept.update().catch(() => {}); // without a network there is nothing newer
      await navigator.serviceWorker.ready;
      tell({ kept: true });
    } catch {
      // a browser that refuses: the site works as before, with a network
    }
  }, SOON);
}

/** Lets the newer build take over and starts it. Call when nothing is open. */
export function useNewer() {
  if (!waiting) return;
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
  waiting.postMessage('take over');
}
