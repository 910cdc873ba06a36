// Runs in a Worker named after its program: desk or opinion. It is asked by
// messages. In comes {id, text}; out go {id, done, of} while it works and {id,
// answer} at the end. Before that {ready: true}, or {failed: reason} when the
// program doesn't come; {gone: true} when it has crashed.

import '../wasm_exec.js';
import { startDesk, supply } from './desk-start.js';
import { carry } from './parts.js';

const waiting = [];
let program = null;

addEventListener('message', ({ data }) => {
  if (data.parts) {
    carry(data.parts);
    begin();
  } else if (program) ask(data);
  else waiting.push(data);
});

function ask({ id, text }) {
  program.ask(text, (answer) => postMessage({ id, answer }), (done, of) => postMessage({ id, done, of }));
}

async function begin() {
  try {
    const started = await startDesk(globalThis.name, () => postMessage({ gone: true }), '../');
    await supply(started, '../');
    program = started;
    postMessage({ ready: true });
    waiting.splice(0).forEach(ask);
  } catch (error) {
    postMessage({ failed: String(error?.message ?? error) });
  }
}

if (location.protocol !== 'blob:') begin(); // a packed page sends the program
