// The page inside a learning platform. Loaded only in packages, where it stands in the
// place of main.js: it starts the page, gives it its one job, keeps the attempt in the
// platform as a short code, and reports the grade when there is one.
//
// What a platform can be told goes through an adapter (lms-scorm.js, lms-cmi5.js):
// begin(), save(code), report(grade), end(). An adapter that fails leaves the page as
// it is outside of a platform: nothing is lost, and the page says so.

import { app, hooks } from './main.js';
import { ask, DeskError } from './desk.js';
import * as core from './core.js';
import { t } from './i18n.js';
import { adapterFor } from './lms-adapters.js';

/** Longest code that the smallest memory of a platform takes [characters]. */
export const MOST = 3500;

const REPORTED = 'reported'; // stands behind the code of an attempt whose grade the platform has
const PATIENCE = 30000; // ms that a platform may take to answer
const NO_CODE = '-'; // stands for an attempt that became too long for a code

let platform = null; // what begin() answered, null when nobody answers
let adapter = null;
let mark = 1; // share of the points that passes, of the package
let code = ''; // the attempt as it was kept last
let busy = false;
let keeping = null; // the code under way
let again = false; // something happened while the last code was made
let done = false; // handed in and reported
const since = Date.now();

const line = document.createElement('p'); // what the platform has, in words
line.id = 'lms';
line.setAttribute('role', 'status');

function say(key, params) {
  line.textContent = t(key, params);
  line.dataset.state = key.replace('lms.', '');
}

hooks.started = async () => {
  document.body.append(line);
  const box = await (await fetch('package.json')).json();
  adapter = adapterFor(box.format);
  mark = box.pass;
  say('lms.wait');
  try {
    platform = await within(PATIENCE, adapter.begin(box));
  } catch (error) {
    console.warn(error);
  }
  await app.takeJob(platform?.link || box.link);
  const { job } = app.state;
  if (job) app.set({ job: { ...job, only: true, who: job.who || platform?.who || '' } });
  await likings(platform);
  if (!platform) say('lms.none');
  else if (!platform.records) say('lms.look');
  else say('lms.kept');
  if (platform?.back) addReturn(platform.back);
  if (platform?.suspended && job) await goOn(platform.suspended, job);
};

/** What a promise gives, if it does within so many milliseconds. */
function within(ms, promise) {
  let timer;
  const late = new Promise((_, reject) => { timer = setTimeout(() => reject(new Error('no answer')), ms); });
  return Promise.race([promise, late]).finally(() => clearTimeout(timer));
}

/** The way back to where the page was launched from. */
function addReturn(url) {
  const link = document.createElement('a');
  link.id = 'lms-return';
  link.href = url;
  link.textContent = t('lms.back');
  link.addEventListener('click', async (event) => {
    event.preventDefault();
    await leave();
    location.assign(url); // whatever the platform made of it
  });
  line.after(link);
}

async function leave() {
  try {
    await within(PATIENCE, adapter?.end({ seconds: Math.round((Date.now() - since) / 1000), finished: done }));
  } catch (error) {
    console.warn(error);
  }
}

/** Language and sound as the platform knows them. */
async function likings(p) {
  const lang = (p?.language ?? '').slice(0, 2).toLowerCase();
  if (lang === 'en' || lang === 'es') await app.speak(lang);
  if (p?.audio === 'off') app.mute(true);
  if (p?.audio === 'on') app.mute(false);
}

/** Takes up what the platform kept. */
async function goOn(suspended, job) {
  const [first, word] = suspended.split(' ');
  if (first === NO_CODE) { // its grade is there; the attempt itself was handed in as a file
    done = true;
    say('lms.reported');
    return;
  }
  try {
    const { attempt } = await ask('unpack', { code: first, scenario: job.scenario });
    code = first;
    done = word === REPORTED;
    app.enterWith(attempt, job.scenario);
  } catch (error) {
    // Another version of the page, or a damaged memory: the attempt that this device
    // kept may still be there, in the Yard.
    say('lms.lost', { text: error instanceof DeskError ? error.params.text ?? error.key : String(error.message ?? error) });
  }
}

hooks.kept = () => {
  if (!platform?.records || done) return;
  if (busy) again = true;
  else keeping = keepInPlatform(core.save());
};

/** Makes a code of the newest state and hands it over; one at a time. */
async function keepInPlatform(file) {
  busy = true;
  again = false;
  try {
    const made = await ask('code', { attempt: file });
    if (made.code.length > MOST) throw new DeskError({ key: 'code_too_long' });
    code = made.code;
    await adapter.save(code);
    if (!done) say('lms.kept');
  } catch (error) {
    if (error.key === 'code_too_long') code = ''; // the older one is not this attempt
    say(error.key === 'code_too_long' ? 'lms.long' : 'lms.failed');
  }
  busy = false;
  if (again) hooks.kept();
}

hooks.handedIn = () => hooks.kept();

hooks.graded = async ({ grade }) => {
  if (!platform?.records || done) return;
  while (busy) await keeping; // else an older code would come after the word that it is reported
  done = true;
  const barred = grade.gates.some((g) => !g.passed) || grade.low.length > 0; // what fails it whatever the points are
  try {
    await adapter.report({
      barred, scaled: Math.round((1e4 * grade.points) / grade.out_of) / 1e4, mark,
      seconds: Math.round((Date.now() - since) / 1000),
    });
  } catch (error) {
    console.error(error);
    done = false;
    say('lms.unreported');
    return;
  }
  app.left('platform');
  try {
    await adapter.save(`${code || NO_CODE} ${REPORTED}`); // so that a later visit doesn't report it again
  } catch (error) {
    console.warn(error); // the grade is there all the same
  }
  say('lms.reported');
};

addEventListener('pagehide', leave);
