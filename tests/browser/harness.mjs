// The ground under all browser tests: counts checks, starts the browser and a small server, and lists
// one page of every kind that the site has.

import { createServer } from 'node:http';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { extname, join, normalize, sep } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const SHOWN = 12;

// A check returns a list of faults, or throws; either way the run goes on, so that one run shows all.
export class Checks {
  passed = 0;
  failed = 0;
  skipped = 0;

  // What cannot be tried here is told and counted, so that nobody takes it for passed.
  skip(name, why) {
    this.skipped++;
    console.log(`SKIPPED ${name}: ${why}`);
  }

  async check(name, run) {
    let faults;
    try {
      faults = (await run()) ?? [];
    } catch (error) {
      faults = [String(error?.message ?? error).split('\n').slice(0, 4).join(' / ')];
    }
    if (!faults.length) {
      this.passed++;
      return;
    }
    this.failed++;
    console.log(`FAILED ${name}`);
    for (const fault of faults.slice(0, SHOWN)) console.log(`    ${fault}`);
    if (faults.length > SHOWN) console.log(`    and ${faults.length - SHOWN} more`);
  }

  get ran() {
    return this.passed + this.failed;
  }
}

// A fault is worded only where the condition does not hold.
export const unless = (holds, words) => (holds ? [] : [words]);

export function equal(found, wanted, what) {
  const a = JSON.stringify(found);
  const b = JSON.stringify(wanted);
  return unless(a === b, `${what}: found ${a}, expected ${b}`);
}

// Several jobs run side by side, because a page spends much of its time waiting.
export async function pool(jobs, width = 2) {
  const queue = [...jobs];
  await Promise.all(Array.from({ length: width }, async () => {
    while (queue.length) await queue.shift()();
  }));
}

export function launch() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM || '/usr/bin/chromium',
    // The run shall touch nothing outside this machine, so whatever the browser does by itself is off.
    args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run',
      '--disable-background-networking', '--disable-component-update', '--disable-sync'],
  });
}

export async function context(browser, options = {}) {
  const made = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...options });
  made.setDefaultTimeout(8000);
  return made;
}

const TYPES = {
  '.html': 'text/html; charset=utf-8', '.css': 'text/css', '.js': 'text/javascript',
  '.webmanifest': 'application/manifest+json', '.json': 'application/json', '.xml': 'application/xml', '.svg': 'image/svg+xml', '.jpg': 'image/jpeg', '.png': 'image/png',
};

// The site is served below a folder, because a path that starts at the root of the host would be wrong there.
export async function serve(site) {
  const prefix = '/shop/guides-site/';
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url, 'http://localhost').pathname);
    // The browser asks every host for this by itself; it is no request of the site.
    if (path === '/favicon.ico') {
      response.writeHead(204).end();
      return;
    }
    const inside = path.startsWith(prefix) ? normalize(path.slice(prefix.length) || 'index.html') : '';
    const file = join(site, inside);
    if (!inside || !file.startsWith(site + sep) || !existsSync(file) || !statSync(file).isFile()) {
      response.writeHead(404).end('not there');
      return;
    }
    response.writeHead(200, { 'content-type': TYPES[extname(file)] ?? 'application/octet-stream' });
    response.end(readFileSync(file));
  });
  await new Promise((done) => server.listen(0, '127.0.0.1', done));
  return {
    base: `http://127.0.0.1:${server.address().port}${prefix}`,
    close: () => { server.closeAllConnections(); server.close(); },
  };
}

// The program as built last: an older one of the other kind may still lie there. None if there is neither.
export function built(project) {
  const files = ['release', 'debug'].map((kind) => join(project, 'target', kind, 'bayleaf')).filter((file) => existsSync(file));
  return files.sort((a, b) => statSync(b).mtimeMs - statSync(a).mtimeMs)[0];
}

export const fileBase = (site) => pathToFileURL(site + sep).href;

export const read = (site, path) => readFileSync(join(site, path), 'utf8');

export const guidesOf = (site) => readdirSync(join(site, 'guides')).sort()
  .filter((slug) => existsSync(join(site, 'guides', slug, 'index.html')));

export function everyPage(site) {
  return readdirSync(site, { recursive: true }).map((path) => path.split(sep).join('/'))
    .filter((path) => path.endsWith('.html')).sort();
}

// One page of every kind, and every guide, because guides differ most from each other.
export function kindsOf(site) {
  const guides = guidesOf(site);
  const htmlIn = (folder) => readdirSync(join(site, folder)).filter((f) => f.endsWith('.html')).sort();
  const vehicle = htmlIn('values')[0];
  const rule = htmlIn('handbook').find((f) => !/^(index|keys|values|first-guide|reports|guide-json)\.html$/.test(f));
  return [
    { kind: 'front', path: 'index.html' },
    ...guides.map((slug) => ({ kind: 'guide', path: `guides/${slug}/index.html` })),
    { kind: 'checklist', path: `guides/${guides[0]}/checklist.html` },
    { kind: 'torque', path: `guides/${guides[0]}/torque.html` },
    { kind: 'values', path: 'values.html' },
    { kind: 'vehicle', path: `values/${vehicle}` },
    { kind: 'tools', path: 'tools.html' },
    { kind: 'parts', path: 'parts.html' },
    { kind: 'news', path: 'new.html' },
    { kind: 'groups', path: 'vehicles.html' },
    { kind: 'groups', path: 'systems.html' },
    { kind: 'group', path: `vehicles/${htmlIn('vehicles')[0]}` },
    { kind: 'group', path: `systems/${htmlIn('systems')[0]}` },
    { kind: 'kept', path: 'kept.html' },
    { kind: 'fields', path: 'handbook/guide-json.html' },
    { kind: 'handbook', path: 'handbook/index.html' },
    { kind: 'keys', path: 'handbook/keys.html' },
    { kind: 'fields', path: 'handbook/reports.html' },
    { kind: 'rule', path: `handbook/${rule}` },
  ];
}
