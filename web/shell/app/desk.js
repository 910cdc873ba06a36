// The door to the second program: what is worked out rather than operated. It
// runs in a Worker, so the page stays quick however long a question takes, and is
// fetched at the first question. Where Workers are denied it runs in the page's
// own thread and pauses between its steps.

import { startDesk } from './desk-start.js';
import { isPacked, part } from './parts.js';

/** An error of somebody's data, or of the way to the program, with its key. */
export class DeskError extends Error {
  constructor({ key, params }) {
    super(key);
    this.key = key;
    this.params = params || {};
  }
}

let host = null; // what answers: {send(id, text), close()}
let workers = true; // until one is refused
let lastId = 0;
let age = 0; // how many programs have been given up
const open = new Map(); // id → {resolve, reject, progress}
let turn = Promise.resolve(); // the program answers one question at a time

/**
 * Asks one question.
 * @param {string} command
 * @param {Object} [body] further members of the request
 * @param {function(number, number)} [progress] told how many steps are done, of how many
 * @returns {Promise<*>} what the command answers; rejects with a DeskError
 */
export function ask(command, body = {}, progress = null) {
  const text = JSON.stringify({ ...body, do: command });
  const answer = turn.then(() => put(text, progress));
  turn = answer.catch(() => {});
  return answer;
}

/**
 * Stops whatever is being worked out; the questions that wait are answered with
 * the error desk_stopped. The program starts anew at the next question.
 */
export function stopDesk() {
  fail('desk_stopped');
}

async function put(text, progress) {
  host ??= begin();
  const born = age;
  const mine = await host;
  if (born !== age) throw new DeskError({ key: 'desk_stopped' });
  return new Promise((resolve, reject) => {
    const id = ++lastId;
    open.set(id, { resolve, reject, progress });
    mine.send(id, text);
  });
}

/** Starts the program in a Worker if there can be one, else here. */
function begin() {
  const started = (workers ? inWorker() : inPage()).catch((error) => {
    if (host === started) host = null; // the next question tries again
    throw error;
  });
  return started;
}

function inWorker() {
  return new Promise((resolve, reject) => {
    const here = () => inPage().then((desk) => { workers = false; resolve(desk); }, reject);
    let worker;
    try {
      worker = openWorker();
    } catch {
      here();
      return;
    }
    let ready = false;
    worker.onmessage = ({ data }) => {
      if (data.ready) {
        ready = true;
        resolve({ send: (id, text) => worker.postMessage({ id, text }), close: () => worker.terminate() });
      } else if (data.failed) {
        worker.terminate();
        reject(new DeskError({ key: 'desk_unreachable', params: { text: data.failed } }));
      } else hear(data);
    };
    worker.onerror = (event) => {
      event.preventDefault();
      worker.terminate();
      if (ready) fail('desk_panic', event.message ?? '');
      else here();
    };
  });
}

/** A Worker with the second program; a packed page hands over what it carries. */
function openWorker() {
  if (!isPacked()) return new Worker(new URL('./desk-worker.js', import.meta.url), { type: 'module', name: 'desk' });
  const source = URL.createObjectURL(new Blob([part('desk-worker.js')], { type: 'text/javascript' }));
  const worker = new Worker(source, { name: 'desk' });
  URL.revokeObjectURL(source);
  worker.postMessage({ parts: { 'desk.wasm.gz': part('desk.wasm.gz') } });
  return worker;
}

async function inPage() {
  try {
    await startDesk();
  } catch (error) {
    throw new DeskError({ key: 'desk_unreachable', params: { text: String(error?.message ?? error) } });
  }
  return {
    send: (id, text) => {
      try {
        globalThis.crankbayDesk.ask(text, (answer) => hear({ id, answer }), (done, of) => hear({ id, done, of }));
      } catch (error) {
        globalThis.crankbayDesk = undefined; // it has crashed; the next question starts another
        fail('desk_panic', String(error?.message ?? error));
      }
    },
    close: () => {}, // it can't be stopped; its answer goes nowhere
  };
}

function hear({ id, answer, done, of }) {
  const question = open.get(id);
  if (!question) return;
  if (answer === undefined) {
    question.progress?.(done, of);
    return;
  }
  open.delete(id);
  const value = JSON.parse(answer);
  if (value.error) question.reject(new DeskError(value.error));
  else question.resolve(value.ok);
}

/** The program is gone: all open questions end, the next one starts a new program. */
function fail(key, text = '') {
  host?.then((h) => h.close(), () => {});
  host = null;
  age++;
  const questions = [...open.values()];
  open.clear();
  for (const { reject } of questions) reject(new DeskError({ key, params: { text } }));
}
