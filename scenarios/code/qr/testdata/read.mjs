// Reads QR codes with jsqr: rows of modules come in as JSON, texts go out.
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';

const jsQR = createRequire(new URL('../../../../testdata/npm/package.json', import.meta.url))('jsqr');
const scale = 4;
const quiet = 4;

const texts = JSON.parse(readFileSync(0, 'utf8')).map((rows) => {
  const side = (rows.length + 2 * quiet) * scale;
  const pixels = new Uint8ClampedArray(side * side * 4).fill(255);
  rows.forEach((row, y) => [...row].forEach((bit, x) => {
    if (bit !== '1') return;
    for (let j = 0; j < scale; j++) {
      for (let i = 0; i < scale; i++) {
        pixels.fill(0, 4 * (((y + quiet) * scale + j) * side + (x + quiet) * scale + i), 4 * (((y + quiet) * scale + j) * side + (x + quiet) * scale + i) + 3);
      }
    }
  }));
  const found = jsQR(pixels, side, side, { inversionAttempts: 'dontInvert' });
  return found ? { text: found.data, version: found.version } : null;
});
process.stdout.write(JSON.stringify(texts));
