// Measures the search of a generated shop in Chromium: node search-bench.mjs [GUIDES STEPS], 1,000 x 30 unless said otherwise; a
// release build of the program (cargo build --release) saves minutes. Prints the bytes and requests of a query, how long it takes
// cold and warm, and the same beside a general search library (minisearch 7.2.0, from npm) that is given the same words. Nothing
// here is a test.

import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import MiniSearch from 'minisearch';
import { built, fileBase, guidesOf, launch } from './harness.mjs';

const [guides = '1000', steps = '30'] = process.argv.slice(2);
const project = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const home = mkdtempSync(join(tmpdir(), 'bayleaf-search-'));
// The words of the generated shop, with the slips and units of people who type.
const PARTS = 'bracket base rail bearer plate cover duct tray mount frame clamp lever'.split(' ');
const PLACES = 'left right front rear upper lower inner outer'.split(' ');
const queries = [];
for (let i = 0; i < 15; i++) {
  const part = PARTS[i % 12];
  const place = PLACES[i % 8];
  queries.push(`${place} ${part}`, `${part} ${[8, 20, 40, 70][i % 4]} nm`, `take off ${place} ${part}`, part.slice(0, 3),
    `${part.slice(0, 2)}${part[3]}${part[2]}${part.slice(4)} ${place}`, `TH-00${100 + i * 47}`, `flange bolt M${[6, 8, 10, 12][i % 4]}`, `${[6, 15, 30, 52][i % 4]} lb ft`);
}
const at = (sorted, share) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))];
const row = (name, numbers, digits, unit) => {
  const sorted = [...numbers].sort((a, b) => a - b);
  console.log(`${name.padEnd(26)} median ${at(sorted, 0.5).toFixed(digits)}, p95 ${at(sorted, 0.95).toFixed(digits)}, most ${sorted.at(-1).toFixed(digits)} ${unit}`);
};

try {
  const cargo = (...args) => execFileSync('cargo', args, { cwd: project, stdio: ['ignore', 'ignore', 'inherit'] });
  if (!built(project)) cargo('build', '--quiet');
  cargo('bench', '--quiet', '--profile', 'dev', '--bench', 'shop', '--', '--write', home, guides, steps);
  execFileSync(built(project), ['-C', home, 'publish', '--no-sheets'], { stdio: 'ignore' });
  const site = join(home, 'site');
  console.log('published');
  const files = new Map(readdirSync(join(site, 'search')).map((name) => [name, gzipSync(readFileSync(join(site, 'search', name)), { level: 9 }).length]));
  const raw = [...files.keys()].reduce((sum, name) => sum + statSync(join(site, 'search', name)).size, 0);
  const whole = [...files.values()].reduce((sum, n) => sum + n, 0);
  console.log(`${guides} guides x ${steps} steps: index of ${files.size} files, ${(raw / 1e6).toFixed(2)} MB, ${(whole / 1e6).toFixed(2)} MB gzip`);

  const browser = await launch();
  const cold = [];
  const warm = [];
  const bytes = [];
  const requests = [];
  for (const query of queries) {
    const context = await browser.newContext();
    const page = await context.newPage();
    const asked = [];
    page.on('request', (r) => { const m = /\/search\/([^/?]+)/.exec(r.url()); if (m) asked.push(m[1]); });
    await page.goto(`${fileBase(site)}index.html`);
    await page.locator('#q').focus();
    await page.waitForFunction(() => window.bayleaf?.ask);
    await page.waitForTimeout(30);
    const first = await page.evaluate(async (query) => {
      const field = document.getElementById('q');
      const once = () => new Promise((done) => {
        new PerformanceObserver((list, observer) => { observer.disconnect(); done(list.getEntries()[0].duration); }).observe({ type: 'measure' });
        field.value = query;
        field.dispatchEvent(new Event('input', { bubbles: true }));
      });
      return once();
    }, query);
    // What the first answer needed; asked again, the pieces of further rows are fetched, and then nothing more.
    const needed = [...asked];
    const again = await page.evaluate(async (query) => {
      const field = document.getElementById('q');
      const once = () => new Promise((done) => {
        new PerformanceObserver((list, observer) => { observer.disconnect(); done(list.getEntries()[0]); }).observe({ type: 'measure' });
        field.value = query;
        field.dispatchEvent(new Event('input', { bubbles: true }));
      });
      const times = [];
      for (let i = 0; i < 12 && times.length < 5; i++) {
        const run = await once();
        if (i > 1 && run.detail.loaded === 0) times.push(run.duration);
      }
      return times;
    }, query);
    cold.push(first);
    warm.push(...again);
    requests.push(needed.length);
    bytes.push(needed.reduce((sum, name) => sum + files.get(name), 0));
    await context.close();
  }
  console.log(`${queries.length} queries: two and three words, values, part numbers, beginnings, slips`);
  row('bytes, everything loaded', bytes.map((n) => n / 1024), 1, 'KB gzip');
  row('requests', requests, 0, '');
  row('cold, from file://', cold, 1, 'ms');
  row('warm', warm, 2, 'ms');

  // The library gets the words that are searched here: headings, prose, operations with hardware, tools and values, and checks.
  // Its values and units are plain words, and it finds none by size.
  const docs = [];
  const words = (given) => (typeof given === 'string' ? [given] : given && typeof given === 'object' ? Object.values(given).flatMap(words) : []);
  for (const slug of guidesOf(site)) {
    const guide = JSON.parse(readFileSync(join(site, 'guides', slug, 'guide.json'), 'utf8'));
    for (const step of guide.phases.flatMap((phase) => phase.steps)) {
      const told = step.operations.flatMap((o) => words([o.verb, o.things, o.hardware, o.how, o.tools, o.torque?.value.first, o.torque?.value.second, o.torque?.wrench, o.values]));
      docs.push({ id: `${slug}/${step.id}`, title: step.title, text: [guide.title, step.text, ...told, ...words(step.checks.map((check) => check.text))].join(' ') });
    }
  }
  const other = new MiniSearch({ fields: ['title', 'text'] });
  other.addAll(docs);
  const json = gzipSync(JSON.stringify(other), { level: 9 }).length;
  const times = queries.map((query) => {
    other.search(query, { prefix: true, fuzzy: 0.2, combineWith: 'AND' });
    const start = performance.now();
    other.search(query, { prefix: true, fuzzy: 0.2, combineWith: 'AND' });
    return performance.now() - start;
  });
  row('the library, warm', times, 2, 'ms');
  const middle = (list) => at([...list].sort((a, b) => a - b), 0.95);
  const loading = (() => {
    const text = JSON.stringify(other);
    const start = performance.now();
    MiniSearch.loadJSON(text, { fields: ['title', 'text'] });
    return performance.now() - start;
  })();
  console.log(`the library's index takes ${loading.toFixed(0)} ms to be read; cold p95 = ${(middle(cold) / loading).toFixed(3)} x of it`);
  console.log(`index = ${(whole / json).toFixed(2)} x the library's ${(json / 1e6).toFixed(2)} MB gzip; a query loads ${(middle(bytes) / json).toFixed(4)} x of it; warm p95 = ${(middle(warm) / middle(times)).toFixed(2)} x`);
  await browser.close();
} finally {
  rmSync(home, { recursive: true, force: true });
}
