// Runs all browser tests over a published site: node run.mjs [--site FOLDER].
// The last line gives the counts; the exit status is 1 if any check failed or too few ran.

import { existsSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { agree } from './agree.mjs';
import { bay } from './bay.mjs';
import { findings } from './findings.mjs';
import { Checks, fileBase, launch, serve } from './harness.mjs';
import { history } from './history.mjs';
import { hostile } from './hostile.mjs';
import { lists } from './lists.mjs';
import { machine } from './machine.mjs';
import { offline } from './offline.mjs';
import { options } from './options.mjs';
import { preview } from './preview.mjs';
import { print } from './print.mjs';
import { record } from './record.mjs';
import { screen } from './screen.mjs';
import { search } from './search.mjs';
import { still } from './static.mjs';
import { work } from './work.mjs';

// Fewer checks than this means that pages were missing, and silence would look like success.
const LEAST = 900;

const here = dirname(fileURLToPath(import.meta.url));
const at = process.argv.indexOf('--site');
// `--only bay,options` runs these parts alone, while they are being worked on.
const onlyAt = process.argv.indexOf('--only');
const only = onlyAt > 0 ? process.argv[onlyAt + 1].split(',') : null;
const site = resolve(at > 0 ? process.argv[at + 1] : resolve(here, '../../site'));
if (!existsSync(resolve(site, 'index.html'))) {
  console.error(`No published site in ${site}.`);
  process.exit(1);
}

const checks = new Checks();
const browser = await launch();
const server = await serve(site);
const run = { checks, browser, site, project: resolve(here, '../..'), bases: { file: fileBase(site), http: server.base } };
for (const [name, part] of Object.entries({ screen, still, search, options, bay, record, work, print, agree, findings, lists, machine, offline, history, preview, hostile }).filter(([name]) => !only || only.includes(name))) {
  const start = Date.now();
  const before = checks.ran;
  // A part that breaks outside its checks is a failure, and the other parts still run.
  try {
    await part(run);
  } catch (error) {
    await checks.check(`${name} ran to its end`, () => [String(error.stack ?? error)]);
  }
  console.log(`${name}: ${checks.ran - before} checks in ${((Date.now() - start) / 1000).toFixed(1)} s`);
}
await browser.close();
server.close();

if (checks.skipped) console.log(`${checks.skipped} skipped`);
if (checks.ran < LEAST) console.log(`Only ${checks.ran} checks ran; at least ${LEAST} were expected.`);
console.log(`${checks.passed} passed, ${checks.failed} failed`);
process.exitCode = checks.failed || checks.ran < LEAST ? 1 : 0;
