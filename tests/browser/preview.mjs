// Tests of the preview in a browser: a saved guide loads its page again, its findings stand beside it with the way to their line, and the
// panel is as accessible as the pages.

import { spawn } from 'node:child_process';
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { built, context, equal, unless } from './harness.mjs';
import { judge, TAGS } from './screen.mjs';

const SLUG = 'transmission-cooler';

export async function preview({ checks, browser, project }) {
  const program = built(project);
  if (!program) {
    checks.skip('preview', 'the program is not built');
    return;
  }
  const home = mkdtempSync(join(tmpdir(), 'preview-'));
  cpSync(join(project, 'guides'), join(home, 'guides'), { recursive: true });
  const child = spawn(program, ['-C', home, 'preview', '--port', '0'], { stdio: ['ignore', 'pipe', 'ignore'] });
  const ended = new Promise((done) => { child.on('exit', (code, signal) => done({ code, signal })); });
  const ctx = await context(browser);
  ctx.setDefaultTimeout(30000);
  try {
    const base = await new Promise((done, fail) => {
      child.stdout.once('data', (data) => done(String(data).trim()));
      child.once('exit', () => fail(new Error('the preview ended')));
    });
    const page = await ctx.newPage();
    const faults = [];
    page.on('pageerror', (e) => faults.push(`page error: ${e.message}`));
    page.on('console', (m) => m.type() === 'error' && faults.push(`console: ${m.text()}`));
    page.on('request', (r) => r.url().startsWith(base) || faults.push(`request outside the preview: ${r.url()}`));
    const file = join(home, 'guides', SLUG, 'guide.md');
    const text = readFileSync(file, 'utf8');
    await checks.check('preview: a guide with its panel', async () => {
      await page.goto(`${base}guides/${SLUG}/index.html`);
      await page.waitForSelector('#preview-panel');
      return unless(/nothing found/.test(await page.textContent('#preview-panel summary')), await page.textContent('#preview-panel summary'));
    });
    await checks.check('preview: saving loads the page again, and the finding leads to its line', async () => {
      await page.evaluate(() => { window.before = true; });
      writeFileSync(file, text.replace(/\ndo( *)= \[/, '\ndoo$1= ['));
      await page.waitForFunction(() => !window.before && /finding/.test(document.querySelector('#preview-panel summary')?.textContent ?? ''));
      const held = await page.isVisible('.held');
      await page.click('#preview-panel summary');
      const place = await page.textContent('#preview-panel li button');
      const line = text.slice(0, text.search(/\ndo *= \[/)).split('\n').length + 1;
      const rules = [];
      for (const colorScheme of ['light', 'dark']) {
        await page.emulateMedia({ colorScheme });
        rules.push(...await (await judge(page))(TAGS, 20));
      }
      await page.click('#preview-panel li a');
      await page.waitForURL(/__preview\/review\.html#/);
      const target = await page.evaluate(() => document.querySelector(':target')?.textContent ?? '');
      return [...unless(held, 'a held guide is not marked'), ...unless(place.includes(`guide.md:${line}:`), `${place}, expected line ${line}`), ...rules,
        ...unless(target.includes('doo'), `the line is not there: ${target.slice(0, 60)}`)];
    });
    await checks.check('preview: the panel covers no button of the bay view at any width', async () => {
      const faults = [];
      for (const [width, height] of [[360, 640], [390, 844], [820, 1180], [1440, 900]]) {
        await page.setViewportSize({ width, height });
        await page.goto(`${base}guides/${SLUG}/index.html?bay`);
        await page.waitForSelector('.bay-foot .next');
        await page.waitForSelector('#preview-panel');
        faults.push(...await page.evaluate((width) => {
          const a = document.querySelector('#preview-panel').getBoundingClientRect();
          return [...document.querySelectorAll('.bay-foot button, .bay-bar button, .bay-bar select')].filter((b) => { const r = b.getBoundingClientRect(); return r.width && a.left < r.right && r.left < a.right && a.top < r.bottom && r.top < a.bottom; }).map((b) => `${width}: ${b.textContent.slice(0, 20)}`);
        }, width));
      }
      await page.setViewportSize({ width: 1440, height: 900 });
      return faults;
    });
    await checks.check('preview: quiet', () => faults);
    await checks.check('preview: an interrupt ends it at once, open pages or not', async () => {
      await page.goto(`${base}index.html`);
      await page.waitForSelector('#preview-panel');
      child.kill('SIGINT');
      const how = await Promise.race([ended, new Promise((done) => { setTimeout(() => done('still running after 3 s'), 3000); })]);
      return equal(how, { code: 0, signal: null }, 'ended');
    });
  } finally {
    child.kill('SIGKILL');
    await ctx.close();
    rmSync(home, { recursive: true, force: true });
  }
}
