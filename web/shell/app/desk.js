// The door to the programs beside the core: what is worked out rather than operated.
// Each runs in a Worker, so the page stays quick however long a question takes, and
// is fetched at its first question. Where Workers are denied it runs in the page's
// own thread and pauses between its steps.

import { forget, running, startDesk, supply } from './desk-start.js';
import { isPacked, part } from './parts.js';

/** An error of somebody's data, or of the way to the program, with its key. */
export class DeskError extends Error {
  constructor({ key, params }) {
    super(key);
    this.key = key;
    this.params = params || {};
  }
}

let workers = true; // until one is refused
let lastId = 0;

/** The way to one program. */
class Door {
  constructor(program) {
    this.program = program;
    this.host = null; // what answers: {send(id, text), close()}
    this.age = 0; // how many programs have been given up
    this.open = new Map(); // id → {resolve, reject, progress}
    this.turn = Promise.resolve(); // the program answers one question at a time
  }

  ask(text, progress) {
    const answer = this.turn.then(() => this.put(text, progress));
    this.turn = answer.catch(() => {});
    return answer;
  }

  async put(text, progress) {
    this.host ??= this.begin();
    const born = this.age;
    const mine = await this.host;
    if (born !== this.age) throw new DeskError({ key: 'desk_stopped' });
    return new Promise((resolve, reject) => {
      const id = ++lastId;
      this.open.set(id, { resolve, reject, progress });
      mine.send(id, text);
    });
  }

  /** Starts the program in a Worker if there can be one, else here. */
  begin() {
    const started = (workers ? this.inWorker() : this.inPage()).catch((error) => {
      if (this.host === started) this.host = null; // the next question tries again
      throw error;
    });
    return started;
  }

  inWorker() {
    return new Promise((resolve, reject) => {
      const here = () => this.inPage().then((desk) => { workers = false; resolve(desk); }, reject);
      let worker;
      try {
        worker = openWorker(this.program);
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
        } else if (data.gone) {
          this.fail('desk_panic');
        } else this.hear(data);
      };
      worker.onmessageerror = () => this.fail('desk_panic');
      worker.onerror = (event) => {
        event.preventDefault();
        worker.terminate();
        if (ready) this.fail('desk_panic', event.message ?? '');
        else here();
      };
    });
  }

  async inPage() {
    const { program } = this;
    try {
      await supply(await startDesk(program, () => this.fail('desk_panic')));
    } catch (error) {
      throw new DeskError({ key: 'desk_unreachable', params: { text: String(error?.message ?? error) } });
    }
    return {
      send: (id, text) => {
        try {
          running(program).ask(text, (answer) => this.hear({ id, answer }), (done, of) => this.hear({ id, done, of }));
        } catch (error) {
          forget(program);
          this.fail('desk_panic', String(error?.message ?? error));
        }
      },
      close: () => {}, // it can't be stopped; its answer goes nowhere
    };
  }

  hear({ id, answer, done, of }) {
    const question = this.open.get(id);
    if (!question) return;
    if (answer === undefined) {
      question.progress?.(done, of);
      return;
    }
    this.open.delete(id);
    let value;
    try {
      value = JSON.parse(answer);
    } catch { // a torn answer ends its question too
      value = { error: { key: 'desk_panic', params: { text: '' } } };
    }
    if (value.error) question.reject(new DeskError(value.error));
    else question.resolve(value.ok);
  }

  /** Gives up what is asked and what waits to be; where there is no Worker the answer goes nowhere. */
  stop() {
    if (this.host) this.fail('desk_stopped');
  }

  /** The program is gone: all open questions end, the next one starts a new program. */
  fail(key, text = '') {
    this.host?.then((h) => h.close(), () => {});
    this.host = null;
    this.age++;
    const questions = [...this.open.values()];
    this.open.clear();
    for (const { reject } of questions) reject(new DeskError({ key, params: { text } }));
  }
}

/** A Worker with a program; a packed page hands over what it carries. */
function openWorker(program) {
  if (!isPacked()) return new Worker(new URL('./desk-worker.js', import.meta.url), { type: 'module', name: program });
  const source = URL.createObjectURL(new Blob([part('desk-worker.js')], { type: 'text/javascript' }));
  const worker = new Worker(source, { name: program });
  URL.revokeObjectURL(source);
  const carried = [`${program}.wasm.gz`, 'library.bin'];
  worker.postMessage({ parts: Object.fromEntries(carried.map((name) => [name, part(name)])) });
  return worker;
}

const doors = { desk: new Door('desk'), opinion: new Door('opinion') };

/** Commands that another program than the desk answers. */
const elsewhere = { opinion: 'opinion' };

/**
 * Asks one question.
 * @param {string} command
 * @param {Object} [body] further members of the request
 * @param {function(number, number)} [progress] told how many steps are done, of how many
 * @returns {Promise<*>} what the command answers; rejects with a DeskError
 */
export function ask(command, body = {}, progress = null) {
  return doors[elsewhere[command] ?? 'desk'].ask(JSON.stringify({ ...body, do: command }), progress);
}

/** Ends what the desk is working on: its questions fail with desk_stopped, the next one starts it anew. */
export function stopDesk() {
  doors.desk.stop();
}
