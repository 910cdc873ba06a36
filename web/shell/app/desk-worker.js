// Runs in a Worker: the second program, asked by messages. In comes
// {id, text}; out go {id, done, of} while it works and {id, answer} at the end.
// Before that {ready: true}, or {failed: reason} when the program doesn't come.

import '../wasm_exec.js';
import { startDesk } from './desk-start.js';
import { carry } from './parts.js';

const waiting = [];
let desk = null;

addEventListener('message', ({ data }) => {
  if (data.parts) {
    carry(data.parts);
    begin();
  } else if (desk) ask(data);
  else waiting.push(data);
});

function ask({ id, text }) {
  desk.ask(text, (answer) => postMessage({ id, answer }), (done, of) => postMessage({ id, done, of }));
}

function begin() {
  startDesk('../').then((started) => {
    desk = started;
    postMessage({ ready: true });
    waiting.splice(0).forEach(ask);
  }, (error) => postMessage({ failed: String(error?.message ?? error) }));
}

if (location.protocol !== 'blob:') begin(); // a packed page sends the program
