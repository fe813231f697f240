// Tests of what the script adds: search, the order of units, and the register of one vehicle. Expected
// results are chosen from the source of the guides, not from the index.

import { context, equal, guidesOf, unless } from './harness.mjs';

const ORIGIN = 'guides/second-battery-charger/index.html';

// Each place must be among the results, the first one on top where `top` says so.
const QUERIES = [
  { what: 'part number', query: 'TB-35-01', places: ['tow-bar-wiring'], top: true },
  { what: 'thread', query: 'M10', places: ['tow-bar-wiring#beam-off', 'swivel-seat-base#rail-bolts-out', 'swivel-seat-base#rail-bolts-tight'] },
  { what: 'prefix', query: 'gromm', places: ['tow-bar-wiring#grommet', 'tow-bar-wiring'] },
  { what: 'capitals and accent', query: 'CRÓSSBAR', places: ['tow-bar-wiring#crossbar', 'tow-bar-wiring#cross-tight'] },
  { what: 'two words', query: 'ball neck', places: ['tow-bar-wiring#neck'], top: true },
  { what: 'two words in another order', query: 'seat clean', places: ['swivel-seat-base#clean-faces'] },
  { what: 'document number', query: 'TH-0171', places: ['tow-bar-wiring'], top: true },
  { what: 'words of a heading', query: 'hang the cooler', places: ['transmission-cooler#cooler-on'], top: true },
  { what: 'words of a guide', query: 'swivel base', places: ['swivel-seat-base'], top: true },
];

async function answers(page) {
  await page.waitForFunction(() => !document.getElementById('hits').hidden && document.getElementById('said').textContent);
  return page.evaluate(() => ({
    said: document.getElementById('said').textContent,
    places: [...document.querySelectorAll('#hits a')].map((a) =>
      a.href.replace(/^.*\/guides\//, '').replace('/index.html', '')),
  }));
}

async function ask(page, query) {
  await page.keyboard.press('Escape');
  await page.locator('#q').fill(query);
  return answers(page);
}

async function finds({ checks, browser, bases }) {
  for (const [way, base] of Object.entries(bases)) {
    const ctx = await context(browser);
    const page = await ctx.newPage();
    const errors = [];
    page.on('pageerror', (e) => errors.push(`page error: ${e.message}`));
    page.on('console', (m) => m.type() === 'error' && errors.push(`console: ${m.text()}`));

    await checks.check(`search, ${way}: the slash key leads to it`, async () => {
      await page.goto(base + ORIGIN);
      await page.keyboard.press('/');
      const at = await page.evaluate(() => [document.activeElement.id, document.activeElement.value]);
      return equal(at, ['q', ''], 'focus and value');
    });
    for (const { what, query, places, top } of QUERIES) {
      await checks.check(`search, ${way}: ${what} “${query}”`, async () => {
        const found = await ask(page, query);
        const missing = places.filter((p) => !found.places.includes(p)).map((p) => `not found: ${p} in ${found.places.join(' ') || found.said}`);
        return [...missing, ...(top ? equal(found.places[0], places[0], 'first result') : [])];
      });
    }
    await checks.check(`search, ${way}: a word that is nowhere`, async () => {
      const found = await ask(page, 'zzqxv');
      return [...equal(found.places, [], 'results'), ...unless(/nothing found/i.test(found.said) && found.said.includes('zzqxv'), `said: ${found.said}`),
        ...unless(await page.locator('#hits .count').isVisible(), 'the message is not visible')];
    });
    await checks.check(`search, ${way}: arrows and Enter open the step`, async () => {
      const found = await ask(page, 'ball neck');
      await page.keyboard.press('ArrowDown');
      await page.keyboard.press('ArrowDown');
      await page.keyboard.press('ArrowUp');
      const chosen = await page.evaluate(() => document.activeElement.href ?? document.activeElement.outerHTML.slice(0, 80));
      await page.keyboard.press('Enter');
      await page.waitForURL(/tow-bar-wiring\/index\.html#neck$/);
      // The browser goes to the place only after the first layout.
      const there = await page.waitForFunction(() => Math.abs(document.getElementById('neck').getBoundingClientRect().top - 50) < 100, null, { timeout: 3000 })
        .then(() => true, () => false);
      return [...equal(chosen, `${base}guides/tow-bar-wiring/index.html#neck`, 'chosen'), ...equal(found.places[0], 'tow-bar-wiring#neck', 'first'),
        ...unless(there, 'the step is not at the top of the window')];
    });
    await checks.check(`search, ${way}: Enter in the field opens the first result`, async () => {
      await page.goto(base + 'index.html');
      await ask(page, 'ball neck');
      await page.locator('#q').press('Enter');
      await page.waitForURL(/tow-bar-wiring\/index\.html#neck$/);
      return [];
    });
    await checks.check(`search, ${way}: Escape clears it`, async () => {
      await page.goto(base + ORIGIN);
      await ask(page, 'crossbar');
      await page.keyboard.press('ArrowDown');
      await page.keyboard.press('Escape');
      const left = await page.evaluate(() => [document.getElementById('q').value, document.getElementById('hits').hidden, document.activeElement.id]);
      return equal(left, ['', true, 'q'], 'value, hidden, focus');
    });
    await checks.check(`search, ${way}: ten thousand characters do no harm`, async () => {
      for (const long of ['x'.repeat(10000), 'ball '.repeat(2000), '<b>"\'\\'.repeat(1700), '__proto__ constructor '.repeat(480)]) {
        await page.locator('#q').fill('');
        // The field holds fewer characters by hand, so the value is set past its limit.
        await page.locator('#q').evaluate((field, value) => {
          field.value = value;
          field.dispatchEvent(new Event('input', { bubbles: true }));
        }, long);
        await page.waitForTimeout(300);
      }
      const wide = await page.evaluate(() => document.documentElement.scrollWidth <= document.documentElement.clientWidth);
      const found = await ask(page, 'ball neck');
      return [...unless(wide, 'the page became wider'), ...equal(found.places[0], 'tow-bar-wiring#neck', 'the next search')];
    });
    await checks.check(`search, ${way}: from a page at another depth`, async () => {
      await page.goto(`${base}handbook/index.html`);
      const found = await ask(page, 'torque');
      const first = await page.locator('#hits a').first();
      const href = await first.evaluate((a) => a.href);
      await first.click();
      const there = await page.locator(':target .ball').count();
      return [...unless(found.places.length > 3, `only ${found.places.length} places for “torque”`),
        ...unless(href.startsWith(`${base}guides/`), `leads to ${href}`),
        ...unless(there === 1 || !href.includes('#'), 'the step is not there')];
    });
    await checks.check(`search, ${way}: a query handed over in the address`, async () => {
      await page.goto(`${base}index.html?q=b%C3%A0ll+neck`);
      return equal((await answers(page)).places[0], 'tow-bar-wiring#neck', 'first result');
    });
    await checks.check(`search, ${way}: no error in all of it`, () => errors);
    await ctx.close();
  }
}

// Which unit a reader sees first is a matter of place, not of markup.
const leading = (page) => page.evaluate(() => {
  const val = [...document.querySelectorAll('main .val')].find((v) => v.querySelector('.m') && v.querySelector('.u') && v.checkVisibility());
  const [m, u] = ['.m', '.u'].map((s) => val.querySelector(s).getBoundingClientRect());
  return m.top < u.top - 3 || (Math.abs(m.top - u.top) <= 3 && m.left < u.left) ? 'metric' : 'imperial';
});

async function units({ checks, browser, bases }) {
  for (const [way, base] of Object.entries(bases)) {
    const ctx = await context(browser);
    const page = await ctx.newPage();
    const folder = 'guides/tow-bar-wiring/';
    await checks.check(`units, ${way}: the other unit leads and stays`, async () => {
      await page.goto(base + folder + 'index.html');
      const before = await leading(page);
      await page.locator('.units label:has(input[value=imperial])').click();
      const after = await leading(page);
      const kept = [];
      for (const next of ['torque.html', 'checklist-a4.html', 'index.html']) {
        await page.goto(base + folder + next);
        kept.push(await leading(page));
      }
      await page.goto(base + folder + 'torque.html');
      const checked = await page.locator('input[name=first]:checked').getAttribute('value');
      await page.locator('.units label:has(input[value=metric])').click();
      return equal([before, after, ...kept, checked, await leading(page)],
        ['metric', 'imperial', 'imperial', 'imperial', 'imperial', 'imperial', 'metric'], 'leading units');
    });
    await ctx.close();
  }
}

export async function search(run) {
  await finds(run);
  await units(run);
}
