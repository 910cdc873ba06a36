// SCORM 1.2 and SCORM 2004: the platform's own object in a window around this one.
// Its calls answer at once and take texts only.

const WINDOWS = 20; // parents that are asked, at most
const BEGUN = '103'; // SCORM 2004: already initialized, by a page that was there before
const COMMIT = 10000; // ms between two times that the platform is asked to write down

/** Looks through the windows around this one, then around the one that opened it. */
export function findAPI(name, from = globalThis) {
  const up = (start) => {
    let w = start;
    for (let i = 0; w && i < WINDOWS; i++) {
      try {
        if (w[name]) return w[name];
      } catch {
        return null; // another origin's window
      }
      if (w.parent === w) return null;
      w = w.parent;
    }
    return null;
  };
  return up(from) ?? (from.opener ? up(from.opener) : null) ?? (from.top?.opener ? up(from.top.opener) : null);
}

/** HH:MM:SS, as SCORM 1.2 counts time. */
export function clock(seconds) {
  const two = (n) => String(Math.floor(n)).padStart(2, '0');
  return `${two(Math.min(seconds / 3600, 9999))}:${two((seconds / 60) % 60)}:${two(seconds % 60)}`;
}

/** PT1H2M3S, as ISO 8601 and SCORM 2004 count it. */
export function duration(seconds) {
  const h = Math.floor(seconds / 3600);
  const m = Math.floor((seconds / 60) % 60);
  return `PT${h ? `${h}H` : ''}${m ? `${m}M` : ''}${Math.floor(seconds % 60)}S`;
}

/** "Núñez, Ana" as people say it. */
function sayName(name) {
  const [family, given, ...more] = String(name ?? '').split(',').map((s) => s.trim());
  return given && more.length === 0 ? `${given} ${family}` : String(name ?? '').trim();
}

/** A platform by its object and the names of its calls. */
class Platform {
  constructor(name, calls) {
    this.api = findAPI(name);
    this.calls = calls;
    this.open = false;
    this.threw = false;
    this.last = 0;
    this.later = null; // a commit that is due
  }

  /** What a call answers, as text; nothing where it throws. */
  call(what, ...args) {
    try {
      return String(this.api[this.calls[what]](...args) ?? '');
    } catch (error) {
      console.warn(error);
      this.threw = true;
      return '';
    }
  }

  /** Whether no call went wrong, as far as the platform says anything about it. */
  isFine() {
    return ['0', ''].includes(this.call('error'));
  }

  initialize() {
    if (!this.api) return false;
    const said = this.call('initialize', '');
    this.open = !this.threw && (said === 'true' || (said === '' ? this.isFine() : this.call('error') === BEGUN));
    return this.open;
  }

  get(name) {
    const value = this.call('get', name);
    return this.isFine() ? value : '';
  }

  /** Sets a value; what a platform need not know may fail. */
  set(name, value, needed = true) {
    const said = this.call('set', name, String(value));
    const ok = said === 'true' || (said === '' && this.get(name) === String(value)); // who says nothing is asked
    if (!ok && needed) throw new Error(`${name}: error ${this.call('error')}`);
    return ok;
  }

  /** Tells something that a platform may refuse to hear. */
  tell(name, value) {
    this.set(name, value, false);
    this.tryCommit();
  }

  tryCommit() {
    try {
      this.commit(true);
    } catch (error) {
      console.warn(error); // it has what it took before
    }
  }

  /** Has the platform write down what it was told: now, or before long. */
  commit(now) {
    const wait = this.last + COMMIT - Date.now();
    if (!now && wait > 0) {
      this.later ??= setTimeout(() => {
        try {
          if (this.open) this.commit(true);
        } catch {
          // what the platform refuses now it is asked again with the next
        }
      }, wait);
      this.later.unref?.(); // nobody waits for it outside of a browser
      return;
    }
    clearTimeout(this.later);
    this.later = null;
    this.last = Date.now();
    const said = this.call('commit', '');
    if (said !== 'true' && !(said === '' && this.isFine())) throw new Error(`commit: error ${this.call('error')}`);
  }

  terminate() {
    if (!this.open) return;
    this.open = false;
    clearTimeout(this.later);
    this.call('terminate', '');
  }
}

const calls12 = {
  initialize: 'LMSInitialize', get: 'LMSGetValue', set: 'LMSSetValue', commit: 'LMSCommit', terminate: 'LMSFinish', error: 'LMSGetLastError',
};
const calls2004 = {
  initialize: 'Initialize', get: 'GetValue', set: 'SetValue', commit: 'Commit', terminate: 'Terminate', error: 'GetLastError',
};

/** What SCORM 1.2 and 2004 keep at most [characters]. */
export const LIMIT12 = 4096;
export const LIMIT2004 = 64000;

/**
 * Whether a grade passes, and whether its score is told. What bars a pass (a safety gate,
 * a row that is too low) does so whatever the points are; a score above the mark beside
 * it would let a platform decide otherwise, so that one is not told.
 */
export function verdict(barred, scaled, mark) {
  return { won: !barred && scaled >= mark, tell: !barred || scaled < mark };
}

/** The mark of a platform as a share, or that of the package where it says none that makes sense. */
function markOf(text, full, mark) {
  const n = Number(text);
  return text.trim() !== '' && n >= 0 && n <= full ? n / full : mark;
}

/** Says good-bye whatever the platform answers. */
function finish(p, names, time, exit) {
  if (names) {
    p.set(names.time, time, false);
    p.set(names.exit, exit, false);
  }
  p.tryCommit();
  p.terminate();
}

function keepWithin(p, limit) {
  return (code) => {
    if (code.length > limit) throw new Error(`suspend_data: ${code.length} characters, at most ${limit}`);
    p.set('cmi.suspend_data', code);
    p.commit(false);
  };
}

/** SCORM 1.2. */
export function scorm12() {
  const p = new Platform('API', calls12);
  let records = false;
  return {
    begin: () => {
      if (!p.initialize()) return null;
      const mode = p.get('cmi.core.lesson_mode');
      records = mode !== 'browse' && mode !== 'review';
      if (records && ['not attempted', 'browsed', ''].includes(p.get('cmi.core.lesson_status'))) {
        p.tell('cmi.core.lesson_status', 'incomplete');
      }
      const audio = Number(p.get('cmi.student_preference.audio'));
      return {
        records, who: sayName(p.get('cmi.core.student_name')), language: p.get('cmi.student_preference.language'),
        audio: audio < 0 ? 'off' : '', suspended: records ? p.get('cmi.suspend_data') : '',
      };
    },
    save: keepWithin(p, LIMIT12),
    report: ({ barred, scaled, mark }) => {
      const theirs = p.get('cmi.student_data.mastery_score');
      const { won, tell } = verdict(barred, scaled, markOf(theirs, 100, mark));
      if (tell) {
        p.set('cmi.core.score.min', '0', false);
        p.set('cmi.core.score.max', '100', false);
        p.set('cmi.core.score.raw', Math.round(scaled * 1000) / 10);
      }
      p.set('cmi.core.lesson_status', won ? 'passed' : 'failed');
      p.commit(true);
    },
    end: ({ seconds, finished }) => {
      if (p.open) finish(p, records && { time: 'cmi.core.session_time', exit: 'cmi.core.exit' }, clock(seconds), finished ? '' : 'suspend');
    },
  };
}

/** SCORM 2004, third and fourth edition. */
export function scorm2004() {
  const p = new Platform('API_1484_11', calls2004);
  let records = false;
  return {
    begin: () => {
      if (!p.initialize()) return null;
      records = (p.get('cmi.mode') || 'normal') === 'normal';
      if (records && p.get('cmi.completion_status') !== 'completed') {
        p.tell('cmi.completion_status', 'incomplete');
      }
      return {
        records, who: sayName(p.get('cmi.learner_name')), language: p.get('cmi.learner_preference.language'),
        audio: p.get('cmi.learner_preference.audio_level') === '0' ? 'off' : '', suspended: records ? p.get('cmi.suspend_data') : '',
      };
    },
    save: keepWithin(p, LIMIT2004),
    report: ({ barred, scaled, mark }) => {
      const theirs = p.get('cmi.scaled_passing_score');
      const { won, tell } = verdict(barred, scaled, markOf(theirs, 1, mark));
      if (tell) {
        p.set('cmi.score.min', '0', false);
        p.set('cmi.score.max', '100', false);
        p.set('cmi.score.raw', Math.round(scaled * 1000) / 10);
        p.set('cmi.score.scaled', scaled);
      }
      p.set('cmi.completion_status', 'completed');
      p.set('cmi.success_status', won ? 'passed' : 'failed');
      p.commit(true);
    },
    end: ({ seconds, finished }) => {
      if (p.open) finish(p, records && { time: 'cmi.session_time', exit: 'cmi.exit' }, duration(seconds), finished ? 'normal' : 'suspend');
    },
  };
}
