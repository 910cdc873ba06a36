// The page's reader of assignment links against the links that package
// scenarios/code wrote, and the damaged ones of its specification.

import test from 'node:test';
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';

const { readLink, carriesJob, LinkError } = await import(new URL('../../shell/app/link.js', import.meta.url));
const { default: dictionary } = await import(new URL('../../shell/app/dictionary.js', import.meta.url));
const read = (path) => readFileSync(new URL(path, import.meta.url), 'utf8');

test('both halves learn from the same text', () => {
  assert.equal(dictionary, read('../../../scenarios/code/dictionary-1.txt'));
});

test('links written in Go are read to the letter', () => {
  for (const { link, ...want } of JSON.parse(read('../../../testdata/codes/links.json'))) {
    assert.deepEqual(readLink(`https://school.example/bay/?lang=es#${link}`), want);
    assert.ok(carriesJob(`#${link}`));
  }
});

test('damaged links are refused as in the vectors', () => {
  const keys = {
    'cut short': 'link_cut', 'checksum': 'link_damaged', 'is none of a link': 'link_letter',
    'too many': 'link_more', version: 'link_version', 'no assignment': 'link_none',
  };
  let seen = 0;
  for (const line of read('../../../testdata/codes/vectors.txt').trimEnd().split('\n')) {
    const [name, text, want] = line.split('\t');
    if (!name.startsWith('link')) continue;
    seen++;
    if (want === 'ok') {
      assert.ok(readLink(text).scenario.startsWith('{"format":1'), name);
      continue;
    }
    const key = Object.entries(keys).find(([words]) => want.includes(words))[1];
    assert.throws(() => readLink(text), (e) => e instanceof LinkError && e.key === key, `${name}: ${want}`);
  }
  assert.ok(seen >= 10);
  assert.ok(!carriesJob('https://school.example/#bay'));
});

test('one letter changed anywhere is noticed', () => {
  const { link } = JSON.parse(read('../../../testdata/codes/links.json'))[0];
  for (let at = 6; at < link.length; at += 37) {
    const bad = link.slice(0, at) + (link[at] === 'A' ? 'B' : 'A') + link.slice(at + 1);
    assert.throws(() => readLink(bad), LinkError, `at ${at}`);
  }
});
