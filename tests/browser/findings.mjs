// Tests of the reviewer's page, made from the shop with faults: it is one valid file that works from the disk and asks
// for nothing, it can be read and worked by keyboard in both schemes and all widths, and it prints every finding.

import { HtmlValidate, StaticConfigLoader } from 'html-validate';
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync, mkdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { built, context, equal, unless } from './harness.mjs';
import { bare } from './print.mjs';
import { judge, overflow, TAGS } from './screen.mjs';

const validator = new HtmlValidate(new StaticConfigLoader({
  root: true,
  extends: ['html-validate:recommended'],
  rules: {
    'doctype-style': 'off',
    'long-title': 'off',
    // The weights are one choice with several answers.
    'form-dup-name': ['error', { shared: ['radio', 'checkbox'] }],
    // What is shown changes at once; there is nothing to send off.
    'wcag/h32': 'off',
    // One file that is handed from person to person carries its style in itself.
    'no-style-tag': 'off',
    // A finding is named by its heading, which stands in it.
    'unique-landmark': 'off',
    'aria-label-misuse': ['error', { allowAnyNamable: true }],
  },
}));

function write(program, shop, file) {
  const run = spawnSync(program, ['-C', shop, 'review', '--as', 'page', '--to', file], { encoding: 'utf8' });
  if (![0, 1].includes(run.status)) throw new Error(run.stderr || String(run.error));
}

async function quiet(checks, browser, url) {
  await checks.check('findings: nothing fails and nothing is asked for', async () => {
    const ctx = await context(browser);
    const page = await ctx.newPage();
    const faults = [];
    page.on('console', (m) => ['error', 'warning'].includes(m.type()) && faults.push(`console: ${m.text()}`));
    page.on('pageerror', (e) => faults.push(`page error: ${e.message}`));
    page.on('dialog', (d) => { faults.push(`a dialog opened: ${d.message()}`); d.dismiss(); });
    page.on('request', (r) => r.url().split('#')[0] === url || faults.push(`request: ${r.url()}`));
    await page.goto(url, { waitUntil: 'load' });
    const ran = await page.evaluate(() => {
      const script = document.createElement('script');
      script.textContent = 'window.strangerRan = true';
      document.body.append(script);
      return window.strangerRan === true;
    });
    await ctx.close();
    // The browser tells that it refused the script above, as it should.
    const told = faults.filter((f) => !/Content Security Policy/.test(f));
    return [...told, ...unless(!ran, 'a script written into the page ran'), ...unless(faults.length > told.length, 'the policy refused nothing')];
  });
}

async function seen(checks, browser, url) {
  for (const width of [390, 820, 1440]) {
    for (const colorScheme of ['light', 'dark']) {
      const ctx = await context(browser, { viewport: { width, height: 900 }, colorScheme });
      const page = await ctx.newPage();
      await page.goto(url);
      // What is folded or far away is looked at too; a piece that is not drawn yet has no true place to judge.
      await page.evaluate(() => {
        document.querySelectorAll('details').forEach((d) => { d.open = true; });
        document.styleSheets[0].insertRule('.piece { content-visibility: visible !important }', document.styleSheets[0].cssRules.length);
      });
      await checks.check(`findings, width ${width} ${colorScheme}`, () => overflow(page));
      await checks.check(`findings, accessible, ${width} ${colorScheme}`, async () => (await judge(page))({ type: 'tag', values: TAGS }, 15));
      if (width === 1440) {
        await page.keyboard.press('?');
        await checks.check(`findings, accessible key list, ${colorScheme}`, async () => (await judge(page))({ type: 'tag', values: TAGS }, 10));
      }
      await ctx.close();
    }
  }
}

async function worked(checks, browser, url) {
  const ctx = await context(browser);
  const page = await ctx.newPage();
  await page.goto(url);
  const total = await page.locator('.finding').count();
  const state = () => page.evaluate(() => {
    const f = document.activeElement.closest('.finding');
    const box = f?.getBoundingClientRect();
    const bar = document.getElementById('deck').getBoundingClientRect();
    return {
      id: f?.id ?? null,
      said: document.getElementById('said').textContent,
      where: document.getElementById('where').textContent,
      seen: !!box && box.top >= Math.max(0, bar.bottom) - 1 && box.bottom <= innerHeight + 1,
    };
  });
  await checks.check('findings: n and the arrow go through all, with focus, place and count', async () => {
    const faults = [];
    for (let i = 1; i <= total; i++) {
      await page.keyboard.press(i % 2 ? 'n' : 'ArrowRight');
      await page.waitForTimeout(60);
      const now = await state();
      faults.push(...equal([now.id, now.where], [`n${i}`, `${i} of ${total}`], `press ${i}`),
        ...unless(now.said.startsWith(`${i} of ${total}. `), `press ${i} is told as “${now.said}”`),
        ...unless(now.seen, `finding ${i} is not in sight`));
    }
    await page.keyboard.press('n');
    const end = await state();
    return [...faults, ...unless(total >= 10, `only ${total} findings`), ...unless(end.said.startsWith(`Last: ${total} of ${total}`), `at the end: ${end.said}`)];
  });
  await checks.check('findings: p and the arrow go back, the buttons too', async () => {
    await page.keyboard.press('p');
    const one = (await state()).id;
    await page.keyboard.press('ArrowLeft');
    const two = (await state()).id;
    await page.click('#previous');
    const three = (await state()).id;
    await page.click('#next');
    return equal([one, two, three, (await state()).id], [total - 1, total - 2, total - 3, total - 2].map((n) => `n${n}`), 'order');
  });
  await checks.check('findings: f leads to the filter, and the filter to what it names', async () => {
    await page.keyboard.press('f');
    const focus = await page.evaluate(() => document.activeElement.name);
    await page.keyboard.press('Space');
    const shown = () => page.evaluate(() => [...document.querySelectorAll('.finding')].filter((f) => f.checkVisibility()).map((f) => f.dataset.weight));
    const light = await shown();
    const said = (await state()).said;
    await page.keyboard.press('Space');
    await page.selectOption('select[name=rule]', 'key-unknown');
    const byRule = await page.evaluate(() => [...document.querySelectorAll('.finding')].filter((f) => f.checkVisibility()).map((f) => f.dataset.rule));
    await page.locator('h1').click();
    await page.keyboard.press('n');
    const walk = (await state()).where;
    await page.selectOption('select[name=rule]', '');
    return [
      ...equal(focus, 'weight', 'focus'),
      ...unless(light.length > 0 && !light.includes('hold'), `holds are still shown: ${light}`),
      ...equal(said, `${light.length} of ${total} shown`, 'told'),
      ...unless(byRule.length > 1 && byRule.every((r) => r === 'key-unknown'), `shown by rule: ${byRule}`),
      ...unless(new RegExp(`^\\d of ${byRule.length}$`).test(walk), `the way goes by what is shown: ${walk}`),
      ...equal((await shown()).length, total, 'all again'),
    ];
  });
  await checks.check('findings: ? opens the key list, Esc closes it, and keys can be turned off', async () => {
    await page.locator('h1').click();
    await page.keyboard.press('?');
    const open = await page.locator('#keys').evaluate((d) => d.open);
    await page.locator('#keys-on').uncheck();
    await page.keyboard.press('Escape');
    const closed = await page.locator('#keys').evaluate((d) => !d.open);
    const before = await state();
    await page.keyboard.press('n');
    const still = (await state()).id === before.id;
    await page.keyboard.press('?');
    await page.locator('#keys-on').check();
    await page.keyboard.press('Escape');
    return equal([open, closed, still], [true, true, true], 'opens, closes, keys off');
  });
  await checks.check('findings: a link to another place opens what is folded', async () => {
    const faults = [];
    for (const link of await page.locator('.related a, .accepted a').all()) {
      const to = (await link.getAttribute('href')).slice(1);
      await link.click();
      const visible = await page.evaluate((id) => document.getElementById(id)?.checkVisibility() === true, to);
      faults.push(...unless(visible, `${to} is not shown`));
    }
    return faults;
  });
  await checks.check('findings: Tab reaches every control', async () => {
    await page.goto(url);
    const wanted = ['.skip', '[name=weight]', '[name=rule]', '#previous', '#next', '#keys-open', '.files a', 'summary', '.from a'];
    const reached = new Set();
    const faults = [];
    for (let i = 0; i < 200; i++) {
      await page.keyboard.press('Tab');
      const stop = await page.evaluate((all) => {
        const at = document.activeElement;
        if (at === document.body || at.hasAttribute('data-tested')) return null;
        at.setAttribute('data-tested', '');
        const shows = [at, at.nextElementSibling].filter(Boolean).some((e) => {
          const s = getComputedStyle(e);
          return s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2;
        });
        return { is: all.filter((s) => at.matches(s)), shows, name: at.outerHTML.slice(0, 90) };
      }, wanted);
      if (!stop) break;
      stop.is.forEach((s) => reached.add(s));
      if (!stop.shows) faults.push(`no visible focus: ${stop.name}`);
    }
    return [...faults, ...wanted.filter((s) => !reached.has(s)).map((s) => `Tab does not reach ${s}`)];
  });
  await ctx.close();
}

async function still(checks, browser, url) {
  await checks.check('findings: without scripts every finding is there and no dead control', async () => {
    const ctx = await context(browser, { javaScriptEnabled: false });
    const page = await ctx.newPage();
    await page.goto(url);
    const faults = [];
    for (const f of await page.locator('.finding').all()) faults.push(...unless(await f.isVisible(), `hidden: ${await f.getAttribute('id')}`));
    faults.push(...unless(!(await page.locator('#deck').isVisible()), 'the bar is shown without a script'));
    await page.locator('summary').first().click();
    faults.push(...unless(await page.locator('details .l').first().isVisible(), 'a folded piece does not open'));
    await ctx.close();
    return faults;
  });
  await checks.check('findings: marks are drawn under the very characters', async () => {
    const ctx = await context(browser);
    const page = await ctx.newPage();
    await page.goto(url);
    const marks = await page.evaluate(() => [...document.querySelectorAll('mark')].map((m) => [m.textContent, getComputedStyle(m).textDecorationLine, m.className]));
    await ctx.close();
    return [...['18 lb·in', 'revison', 'base-onn', '45 N·m'].flatMap((t) => unless(marks.some((m) => m[0] === t), `${t} is not marked`)),
      ...marks.filter((m) => m[1] !== 'underline').map((m) => `no line under ${m[0]}`)];
  });
}

async function printed(checks, browser, url, folder) {
  for (const format of ['A4', 'Letter']) {
    await checks.check(`findings: print on ${format} has every message and remedy`, async () => {
      const ctx = await context(browser);
      const page = await ctx.newPage();
      await page.goto(url);
      const wanted = await page.evaluate(() => [...document.querySelectorAll('.finding .msg, .finding .todo, .accepted .reason')].map((e) => e.textContent));
      const file = join(folder, `${format}.pdf`);
      await page.pdf({ path: file, format });
      await ctx.close();
      const text = bare(execFileSync('pdftotext', ['-raw', '-enc', 'UTF-8', file, '-'], { encoding: 'utf8' }));
      return [...unless(wanted.length > 20, `only ${wanted.length} texts`), ...wanted.filter((w) => !text.includes(bare(w))).map((w) => `not printed: ${w.trim()}`)];
    });
  }
}

async function large(checks, browser, program, folder) {
  await checks.check('findings: 5,000 lines with 500 findings open quickly', async () => {
    const shop = join(folder, 'large');
    mkdirSync(join(shop, 'guides'), { recursive: true });
    const lines = Array.from({ length: 5000 }, (_, i) => (i % 10 ? 'Turn the switch.' : 'Turn <b>it.'));
    writeFileSync(join(shop, 'guides', 'long.md'), `+++\ntitle = "Long"\n+++\n\n## Step\n\n${lines.join('\n')}\n`);
    const file = join(folder, 'large.html');
    write(program, shop, file);
    const ctx = await context(browser);
    const page = await ctx.newPage();
    const start = Date.now();
    await page.goto(pathToFileURL(file).href, { waitUntil: 'load' });
    await page.evaluate(() => new Promise((done) => { requestAnimationFrame(() => setTimeout(done, 0)); }));
    const open = Date.now() - start;
    for (let i = 0; i < 3; i++) await page.keyboard.press('p');
    const where = await page.locator('#where').textContent();
    const total = await page.locator('.finding').count();
    await ctx.close();
    return [...unless(total >= 500, `${total} findings`), ...unless(open < 3000, `opened in ${open} ms`), ...equal(where, `${total - 2} of ${total}`, 'place')];
  });
}

export async function findings({ checks, browser, project }) {
  const program = built(project);
  if (!program) {
    checks.skip('findings', 'the program is not built');
    return;
  }
  const folder = mkdtempSync(join(tmpdir(), 'bayleaf-findings-'));
  try {
    const file = join(folder, 'findings.html');
    write(program, join(project, 'tests', 'faulty'), file);
    const url = pathToFileURL(file).href;
    await checks.check('findings: valid', async () => {
      const report = await validator.validateString(readFileSync(file, 'utf8'), file);
      return report.results.flatMap((r) => r.messages).map((m) => `${m.line}:${m.column} ${m.ruleId}: ${m.message}`);
    });
    await quiet(checks, browser, url);
    await seen(checks, browser, url);
    await worked(checks, browser, url);
    await still(checks, browser, url);
    await printed(checks, browser, url, folder);
    await large(checks, browser, program, folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
