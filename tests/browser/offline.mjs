// Tests of kept guides: a guide that was opened is readable without a network, says so, says when a newer one exists, and can be
// taken away again. The site is published for this test, because a new revision appears while the browser looks on.

import { execFileSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { TAGS, judge, overflow } from './screen.mjs';
import { built, context, equal, serve, unless } from './harness.mjs';

const SLUG = 'swivel-seat-base';
const GUIDE = `guides/${SLUG}/index.html`;

async function until(look, what, page, tenths = 120) {
  for (let i = 0; i < tenths; i++) {
    const found = await look().catch(() => null);
    if (found) return found;
    await new Promise((done) => { setTimeout(done, 100); });
  }
  const said = page ? await noted(page).catch(() => 'no note') : '';
  throw new Error(`never happened: ${what}${said && `; the note says: ${said}`}`);
}

const noted = (page) => page.locator('.told').innerText({ timeout: 500 });
const stores = (page) => page.evaluate(() => caches.keys());

export async function offline({ checks, browser, project, bases, site }) {
  const program = built(project);
  if (!program) {
    checks.skip('kept guides', 'the program is not built');
    return;
  }
  const home = mkdtempSync(join(tmpdir(), 'kept-'));
  cpSync(join(project, 'guides'), join(home, 'guides'), { recursive: true });
  const publish = () => execFileSync(program, ['-C', home, 'publish'], { stdio: 'ignore' });
  publish();
  // At first the index says that it is too large to be kept whole.
  const headFile = join(home, 'site', 'search', 'index.js');
  const head = readFileSync(headFile, 'utf8');
  writeFileSync(headFile, head.replace(/"bytes":\d+/, '"bytes":400001'));
  const server = await serve(join(home, 'site'));
  const ctx = await context(browser);
  const page = await ctx.newPage();
  const faults = [];
  page.on('pageerror', (e) => faults.push(`page error: ${e.message}`));
  page.on('console', (m) => m.type() === 'error' && !/ERR_INTERNET_DISCONNECTED|Failed to load resource/.test(m.text()) && faults.push(m.text()));
  try {
    let first = '';
    await checks.check('kept: nothing on a device that opened nothing', async () => {
      await page.goto(`${server.base}kept.html`);
      await until(async () => (await page.locator('#kept').innerText()).includes('Nothing is kept yet'), 'an empty list');
      return [];
    });
    await checks.check('kept: the app can be installed', async () => {
      const link = await page.locator('link[rel=manifest]').getAttribute('href');
      const manifest = await (await ctx.request.get(link)).json();
      const icons = await Promise.all(manifest.icons.map(async (icon) => {
        const size = await page.evaluate(async (src) => { const i = new Image(); i.src = src; await i.decode(); return `${i.naturalWidth}x${i.naturalHeight}`; }, new URL(icon.src, link).href);
        return size === icon.sizes;
      }));
      // What the browser itself has against the manifest.
      const protocol = await ctx.newCDPSession(page);
      const { errors } = await protocol.send('Page.getAppManifest');
      return [...errors.map((e) => e.message), ...equal(icons, [true, true, true], 'icons have their size'),
        ...equal(new URL(manifest.start_url, link).href, `${server.base}index.html`, 'start'),
        ...equal(new URL(manifest.scope, link).href, server.base, 'scope')];
    });
    await checks.check('kept: a guide that was opened is kept whole, below the folder of the site', async () => {
      await page.goto(server.base + GUIDE);
      first = await page.locator('main').getAttribute('data-print');
      const scope = await page.evaluate(async () => (await navigator.serviceWorker.ready).scope);
      const name = `bayleaf ${server.base} ${SLUG} ${first}`;
      await until(() => page.evaluate(async ([n, mark]) => !!(await (await caches.open(n)).match(mark)), [name, `${server.base}guides/${SLUG}/kept.json`]), 'the guide is kept');
      const held = await page.evaluate(async (n) => (await (await caches.open(n)).keys()).map((r) => r.url), name);
      const wanted = [GUIDE, `guides/${SLUG}/checklist.html`, `guides/${SLUG}/torque.html`, `guides/${SLUG}/seat-out-960.jpg`, `guides/${SLUG}/stack.svg`];
      return [...equal(scope, server.base, 'scope'), ...wanted.filter((p) => !held.includes(server.base + p)).map((p) => `${p} is not kept`),
        ...['checklist', 'kept', 'bay', 'search'].filter((name) => !held.some((u) => u.includes(`/assets/${name}.`))).map((name) => `${name} is not kept`),
        ...unless(!(await page.locator('.told').count()), 'a page from the server says that it is kept')];
    });
    await checks.check('kept: without a network the guide is there, with its pictures, and says which it is', async () => {
      await ctx.setOffline(true);
      await page.goto(`${server.base}${GUIDE}?with=heated-seat`);
      const said = await until(async () => (await noted(page)).includes('no network') && noted(page), 'the note');
      const blank = await page.evaluate(async () => {
        for (const img of document.images) { img.loading = 'eager'; await img.decode().catch(() => {}); }
        return [...document.images].filter((i) => !i.naturalWidth).map((i) => i.currentSrc);
      });
      const rules = await judge(page);
      return [...unless(said.includes(`Kept copy of revision E, ${first}`), `the note says: ${said}`), ...blank.map((b) => `not shown: ${b}`),
        ...await rules({ type: 'tag', values: TAGS }, 10), ...await overflow(page)];
    });
    await checks.check('kept: a photo comes in whatever width is asked for', async () => {
      const wide = await page.evaluate(async (src) => { const i = new Image(); i.src = src; await i.decode(); return i.naturalWidth; }, `${server.base}guides/${SLUG}/seat-out-1600.jpg`);
      return unless(wide > 0, 'the widest file is not answered for');
    });
    await checks.check('kept: the checklist is there too', async () => {
      await page.goto(`${server.base}guides/${SLUG}/checklist.html`);
      await until(async () => (await noted(page)).includes('Kept copy'), 'the note on the checklist');
      const styled = await page.evaluate(() => getComputedStyle(document.querySelector('.row')).display);
      return equal(styled, 'flex', 'the style took effect');
    });
    await checks.check('kept: the front page is there and says that it is kept', async () => {
      await page.goto(server.base);
      const said = await until(async () => noted(page), 'the note');
      return [...unless(said.startsWith('Kept copy of this page'), said), ...equal(await page.locator('.register li').count(), 4, 'guides listed')];
    });
    const found = async (query) => {
      await page.locator('#q').press('Escape');
      await page.locator('#q').fill(query);
      return until(async () => (await page.locator('#hits').isVisible()) && page.locator('#hits').innerText(), 'an answer of the search');
    };
    const searchSays = async () => {
      await page.goto(`${server.base}kept.html`);
      return until(async () => (await page.locator('#kept .say').last().innerText()).includes('earch') && page.locator('#kept .say').last().innerText(), 'what is said of search');
    };
    await checks.check('kept: search in a large index that was not used before says that there is no network', async () => {
      const text = await found('swivel');
      const said = await searchSays();
      return [...unless(text.includes('no network'), text), ...unless(said.includes('only what was searched for'), said), ...unless(head.includes('"bytes":'), 'the index does not say how large it is')];
    });
    await checks.check('kept: a page that is not kept leads to the list', async () => {
      await page.goto(`${server.base}guides/tow-bar-wiring/index.html`);
      const text = await until(async () => (await page.locator('#kept').innerText()).includes('not kept on this device') && page.locator('#kept').innerText(), 'the list');
      return [...unless(text.includes('Fit the swivel base') && text.includes(`revision E, ${first}`), text)];
    });
    await checks.check('kept: back on the network the copy is compared', async () => {
      await page.goto(server.base + GUIDE);
      await until(async () => (await noted(page)).includes('Kept copy'), 'the note');
      await ctx.setOffline(false);
      await until(async () => (await noted(page)).includes('It is the newest'), 'the copy is the newest', page, 450);
      return [];
    });
    await checks.check('kept: what was searched once is found without a network', async () => {
      await page.goto(server.base);
      const before = await found('swivel base');
      await ctx.setOffline(true);
      await page.goto(server.base);
      await until(async () => noted(page), 'the note');
      const after = await found('swivel base');
      return [...unless(before.includes('Fit the swivel base'), before), ...equal(after, before, 'found without a network')];
    });
    writeFileSync(headFile, head);
    const whole = (but = '') => until(() => page.evaluate(async ([name, but]) => (await (await caches.open(name)).keys()).map((r) => r.url).find((url) => url.includes('search/whole?') && url !== but),
      [`bayleaf ${server.base} search`, but]), 'the whole index is kept');
    await checks.check('kept: a newer revision is told and can be taken', async () => {
      await ctx.setOffline(true);
      await page.goto(server.base + GUIDE);
      await until(async () => (await noted(page)).includes('Kept copy'), 'the note');
      const file = join(home, 'guides', SLUG, 'guide.md');
      writeFileSync(file, readFileSync(file, 'utf8').replace('revision = "E"', 'revision = "F"').replace('"5..7 N·m; locker', '"5..8 N·m; locker'));
      publish();
      await ctx.setOffline(false);
      const said = await until(async () => (await noted(page)).includes('A newer one exists') && noted(page), 'a newer one is told', page, 450);
      // A copy that is older than the revision before the newest is told by the page of its own revision.
      await page.evaluate(() => { document.querySelector('main').dataset.revision = 'D'; document.dispatchEvent(new Event('visibilitychange')); });
      const older = await until(async () => (await noted(page)).includes('revision D') && noted(page), 'what differs from an older one', page, 450);
      await page.evaluate(() => { document.querySelector('main').dataset.revision = 'E'; document.dispatchEvent(new Event('visibilitychange')); });
      await until(async () => (await noted(page)).includes('revision E') && noted(page), 'the note as it was', page, 450);
      const still = await page.locator('main').getAttribute('data-revision');
      await page.locator('.told button').click();
      await until(async () => (await page.locator('main').getAttribute('data-revision')) === 'F', 'the newer one is shown');
      const print = await page.locator('main').getAttribute('data-print');
      const names = await until(async () => { const all = (await stores(page)).filter((k) => k.includes(SLUG)); return all.length === 1 && all; }, 'one copy is left');
      return [...equal(still, 'E', 'the page is not changed under the reader'), ...unless(said.includes(`revision F, ${print}`), said),
        ...unless(said.includes('It differs in: ') && said.includes('8 N·m'), said), ...unless(older.includes('It differs in: '), older), ...unless(names[0].endsWith(print), 'the older copy is still kept'), ...unless(!(await page.locator('.told').count()), 'the newest one is called a copy')];
    });
    await checks.check('kept: with a small index all words are found without a network, though nobody searched for them', async () => {
      await whole();
      await ctx.setOffline(true);
      await page.goto(server.base + GUIDE);
      await until(async () => (await noted(page)).includes('Kept copy'), 'the note');
      const texts = [];
      for (const query of ['release handle', 'crosbar', '16 N·m', 'M8x1.25']) texts.push(await found(query).then((text) => [query, text]));
      const said = await searchSays();
      await ctx.setOffline(false);
      await page.goto(server.base + GUIDE);
      return [...texts.filter(([, text]) => !/\d places?\./.test(text)).map(([query, text]) => `${query}: ${text}`), ...unless(texts[1][1].includes('read as “crossbar”'), texts[1][1]),
        ...unless(said.includes('works without a network'), said)];
    });
    await checks.check('kept: a page that is open for long learns of a newer one', async () => {
      const file = join(home, 'guides', SLUG, 'guide.md');
      writeFileSync(file, readFileSync(file, 'utf8').replace('revision = "F"', 'revision = "G"'));
      publish();
      await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
      const said = await until(async () => (await noted(page)).includes('A newer one exists') && noted(page), 'a newer one is told', page, 450);
      return unless(said.startsWith('This is revision F'), said);
    });
    await checks.check('kept: pieces of an older search index go', async () => {
      const marks = () => page.evaluate(async (name) => [...new Set((await (await caches.open(name)).keys()).map((r) => r.url.split('?v=')[1] ?? ''))].sort(), `bayleaf ${server.base} search`);
      const file = join(home, 'guides', SLUG, 'guide.md');
      writeFileSync(file, readFileSync(file, 'utf8').replace('"Fit the swivel base under', '"Fit the new swivel base under'));
      publish();
      const before = await marks();
      const earlier = await whole();
      await page.goto(server.base);
      const text = await found('swivel base');
      const after = await until(async () => { const all = await marks(); return all.length === 2 && all[1] !== before[1] && all; }, 'only the new pieces are kept');
      await whole(earlier);
      return [...equal(before.length, 2, 'marks before'), ...equal(after.length, 2, 'marks after'), ...unless(text.includes('Fit the new swivel base'), text)];
    });
    await checks.check('kept: what is kept can be removed', async () => {
      await page.goto(`${server.base}kept.html`);
      const button = page.getByRole('button', { name: /^Remove Fit the swivel base/ });
      await button.waitFor();
      const rules = await judge(page);
      const unfit = [...await rules({ type: 'tag', values: TAGS }, 10), ...await overflow(page)];
      await button.click();
      await until(async () => (await page.locator('#kept').innerText()).includes('Nothing is kept yet'), 'an empty list');
      const left = (await stores(page)).filter((k) => k.includes(SLUG));
      return [...unfit, ...equal(left, [], 'stores')];
    });
    await checks.check('kept: nothing went wrong meanwhile', () => faults);
    await checks.check('kept: from a folder nothing is registered and nothing is missing', async () => {
      const plain = await ctx.newPage();
      await plain.goto(bases.file + GUIDE);
      const links = await plain.locator('link[rel=manifest]').count();
      await plain.goto(`${bases.file}kept.html`);
      const text = await plain.locator('#kept').innerText();
      await plain.close();
      return [...equal(links, 0, 'manifest links'), ...unless(text.includes('everything is on this device already'), text), ...unless(existsSync(join(site, 'worker.js')), 'no worker')];
    });
  } finally {
    await ctx.close();
    server.close();
    rmSync(home, { recursive: true, force: true });
  }
}
