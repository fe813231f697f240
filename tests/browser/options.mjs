// Tests of the options switch: what is shown follows the choice, the choice stands in the address, goes along to the sheets, and an
// option that is no longer there is told.

import { context, equal, read, unless } from './harness.mjs';
import { judge, TAGS } from './screen.mjs';

const GUIDE = 'guides/second-battery-charger';

// What the page should show is worked out here by itself from the terms in the file.
function holds(terms, has) {
  const one = (alternative) => {
    const values = alternative.split(' ').map((t) => {
      const value = has[t.replace('!', '')];
      return value === undefined ? null : t.startsWith('!') ? !value : value;
    });
    return values.includes(false) ? false : values.includes(null) ? null : true;
  };
  const values = terms.split('|').map(one);
  return values.includes(true) ? true : values.includes(null) ? null : false;
}

const conditions = (page) => page.evaluate(() => [...document.querySelectorAll('[data-when]')]
  .map((e) => ({ when: e.getAttribute('data-when'), hidden: e.hidden, what: `${e.tagName} ${e.textContent.trim().slice(0, 30)}` })));

const wrong = (list, has) => list.filter((c) => c.hidden !== (holds(c.when, has) === false)).map((c) => `${c.hidden ? 'hidden' : 'shown'}: ${c.what} (${c.when})`);

export async function options({ checks, browser, site, bases }) {
  const source = read(site, `${GUIDE}/index.html`);
  await checks.check('options: the guide has conditions to test', () => unless((source.match(/data-when=/g) ?? []).length > 8, 'fewer than nine conditions'));
  const has = { 'regulated-alternator': true, 'fixed-alternator': false, solar: false };
  for (const [way, base] of Object.entries(bases)) {
    const ctx = await context(browser);
    const page = await ctx.newPage();
    await checks.check(`options, ${way}: nothing is hidden before a choice`, async () => {
      await page.goto(`${base}${GUIDE}/index.html`);
      return wrong(await conditions(page), {});
    });
    await checks.check(`options, ${way}: steps, tools and rows follow the choice, and the address has it`, async () => {
      await page.check('#options input[value="regulated-alternator"]', { force: true });
      await page.check('#options input[value="!solar"]', { force: true });
      const list = await conditions(page);
      return [...wrong(list, has), ...unless(list.some((c) => c.hidden), 'nothing was hidden'),
        ...equal(new URL(page.url()).search, '?with=regulated-alternator&without=solar', 'address'),
        ...unless(/\d+ of \d+ steps apply/.test(await page.textContent('#chosen')), 'the count of steps is not told')];
    });
    await checks.check(`options, ${way}: the choice goes along to the checklist and the torque sheet`, async () => {
      const faults = [];
      for (const file of ['checklist.html', 'torque.html']) {
        await page.goto(`${base}${GUIDE}/index.html?with=regulated-alternator&without=solar`);
        await page.click(`.go a[href^="${file}"]`);
        await page.waitForURL((url) => url.pathname.endsWith(file));
        faults.push(...equal(new URL(page.url()).search, '?with=regulated-alternator&without=solar', file), ...wrong(await conditions(page), has));
      }
      return faults;
    });
    await checks.check(`options, ${way}: what a group has is chosen once, and can be opened again`, async () => {
      await page.goto(`${base}${GUIDE}/index.html?with=regulated-alternator,fixed-alternator`);
      const told = await page.textContent('#chosen');
      const chosen = await page.evaluate(() => window.bayleafOptions.chosen().with);
      return [...unless(/cannot be on one vehicle/.test(told), `not told: ${told}`), ...equal(chosen, ['regulated-alternator'], 'chosen')];
    });
    for (const file of ['index.html', 'checklist.html']) {
      await checks.check(`options, ${way}: an option that is no longer there is told on ${file}, and printed`, async () => {
        await page.goto(`${base}${GUIDE}/${file}?with=left-hand-drive,solar&without=%zz`);
        await page.emulateMedia({ media: 'print' });
        const shown = await page.isVisible('#chosen');
        const told = await page.textContent('#chosen');
        await page.emulateMedia({ media: 'screen' });
        return [...unless(shown, 'not printed'), ...unless(told.includes('left-hand-drive') && told.includes('%zz'), `not named: ${told}`),
          ...equal(await page.evaluate(() => window.bayleafOptions.chosen().with), ['solar'], 'the rest of the choice')];
      });
    }
    await checks.check(`options, ${way}: an option asked for with and without is told, and neither is taken`, async () => {
      await page.goto(`${base}${GUIDE}/index.html?with=solar,partition&without=solar`);
      const told = await page.textContent('#chosen');
      return [...unless(told.includes('with and without “Solar panel'), `told: ${told}`),
        ...equal(await page.evaluate(() => window.bayleafOptions.chosen()), { with: ['partition'], without: [] }, 'chosen')];
    });
    await checks.check(`options, ${way}: a step asked for that the choice hides is told with what it needs, and can be shown`, async () => {
      await page.goto(`${base}guides/tow-bar-wiring/index.html?with=reversing-sensors&without=underfloor-spare#spare-off`);
      const told = await page.textContent('#chosen');
      const hidden = await page.isHidden('#spare-off');
      const fit = await (await judge(page))(TAGS, 20);
      await page.click('#chosen button');
      const top = await page.evaluate(() => document.getElementById('spare-off').getBoundingClientRect().top);
      const after = await page.textContent('#chosen');
      return [...fit, ...unless(hidden, 'the step is shown'),
        ...unless(/The step asked for, “[^”]+”, does not apply with these options: it is for a vehicle with spare wheel under the floor\./.test(told), `told: ${told}`),
        ...unless(Math.abs(top) < 100, `the step is ${top} px away`), ...unless(!after.includes('asked for'), `told after: ${after}`),
        ...equal(await page.evaluate(() => [window.bayleafOptions.chosen(), location.search, location.hash]),
          [{ with: ['reversing-sensors', 'underfloor-spare'], without: [] }, '?with=reversing-sensors,underfloor-spare', '#spare-off'], 'choice and address')];
    });
    await checks.check(`options, ${way}: what rules out the step asked for is let go`, async () => {
      await page.goto(`${base}${GUIDE}/index.html?with=fixed-alternator`);
      const id = await page.evaluate(() => document.querySelector('.step[data-when="regulated-alternator"]').id);
      await page.evaluate((id) => { location.hash = id; }, id);
      await page.click('#chosen button');
      return [...unless(await page.isVisible(`[id="${id}"]`), 'the step is not shown'),
        ...equal(await page.evaluate(() => window.bayleafOptions.chosen()), { with: ['regulated-alternator'], without: [] }, 'chosen')];
    });
    await checks.check(`options, ${way}: by keyboard alone`, async () => {
      await page.goto(`${base}${GUIDE}/index.html`);
      await page.focus('#options fieldset:last-child input');
      await page.keyboard.press('ArrowRight');
      return equal(await page.evaluate(() => window.bayleafOptions.chosen().with), ['solar'], 'chosen by arrow');
    });
    await ctx.close();
  }
  for (const colorScheme of ['light', 'dark']) {
    const ctx = await context(browser, { colorScheme });
    const page = await ctx.newPage();
    await checks.check(`options: accessible with a choice made, ${colorScheme}`, async () => {
      await page.goto(`${bases.http}${GUIDE}/index.html?with=regulated-alternator&without=solar`);
      return (await judge(page))(TAGS, 20);
    });
    await ctx.close();
  }
  const ctx = await context(browser, { javaScriptEnabled: false });
  const page = await ctx.newPage();
  await checks.check('options: without scripts all is there with its condition in words', async () => {
    await page.goto(`${bases.http}${GUIDE}/index.html?with=solar`);
    const form = await page.isVisible('#options');
    return [...unless(!form, 'a switch that does nothing is shown'), ...unless(await page.isVisible('.has'), 'the options are not named'), ...wrong(await conditions(page), {})];
  });
  await ctx.close();
}
