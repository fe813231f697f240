// Tests of the bay view: steps by button, keyboard and swipe, ticks and torques that survive, what is open, the record as a file and its
// seal, and everything that can go wrong with the storage.

import { createHash } from 'node:crypto';
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { built, context, equal, read, unless } from './harness.mjs';
import { judge, overflow, TAGS } from './screen.mjs';

const GUIDE = 'guides/swivel-seat-base/index.html';
const MEASURING = 'guides/second-battery-charger/index.html';

async function enter(page, base, query = '?bay') {
  await page.goto(base + GUIDE + query);
  await page.waitForSelector('.bay-foot');
}

const go = (page, words) => page.evaluate((text) => {
  const list = document.querySelector('.bay-bar select');
  list.value = [...list.options].find((o) => o.text.includes(text)).value;
  list.dispatchEvent(new Event('change'));
}, words);

const screen = (page) => page.evaluate(() => document.querySelector('.bay-bar select').selectedOptions[0].text);

// The first step with a torque that has one value, with what it asks for.
const torqueStep = (page) => page.evaluate(() => {
  const tq = document.querySelector('.tq[data-low][data-high]');
  return { title: tq.closest('.step').querySelector('h3 span').textContent, low: Number(tq.dataset.low), high: Number(tq.dataset.high), op: tq.closest('[data-op]').dataset.op };
});

async function apply(page, text) {
  await page.fill('.now .applied input[inputmode]', text);
  return page.textContent('.now .applied .verdict');
}

async function walk({ checks, browser, bases, site, project }) {
  for (const [way, base] of Object.entries(bases)) {
    const ctx = await context(browser, { acceptDownloads: true });
    const page = await ctx.newPage();
    const faults = [];
    // Nothing but its button prints.
    await page.addInitScript(() => { window.print = () => console.error('something printed the page'); });
    page.on('pageerror', (e) => faults.push(`page error: ${e.message}`));
    page.on('console', (m) => m.type() === 'error' && faults.push(`console: ${m.text()}`));
    page.on('request', (r) => r.url().startsWith(base) || r.url().startsWith('blob:') || faults.push(`request outside the site: ${r.url()}`));
    await checks.check(`bay, ${way}: opens by its button, on what comes before the start`, async () => {
      await page.goto(base + GUIDE);
      await page.click('#bay');
      await page.waitForSelector('.bay-foot');
      const steps = await page.$$eval('.step', (all) => all.filter((s) => getComputedStyle(s).display !== 'none').length);
      return [...equal(await screen(page), 'Before you start', 'screen'), ...equal(steps, 0, 'steps shown'), ...unless(/[?&]bay/.test(page.url()), 'the address does not have it')];
    });
    await checks.check(`bay, ${way}: one step at a time by keyboard, and back`, async () => {
      await page.evaluate(() => document.activeElement.blur());
      await page.keyboard.press('ArrowRight');
      await page.keyboard.press('ArrowRight');
      const two = await screen(page);
      const shown = await page.$$eval('.step', (all) => all.filter((s) => getComputedStyle(s).display !== 'none').length);
      await page.keyboard.press('ArrowLeft');
      return [...unless(two.startsWith('2. '), two), ...equal(shown, 1, 'steps shown'), ...unless((await screen(page)).startsWith('1. '), 'not back')];
    });
    await checks.check(`bay, ${way}: a connector that is ticked as unplugged is counted until it is plugged in`, async () => {
      const step = await page.evaluate(() => document.querySelector('[data-moves^="+disconnect"]').closest('.step').querySelector('h3 span').textContent);
      await go(page, step);
      const before = await page.textContent('.bay-foot .open');
      const boxes = page.locator('.now [data-moves^="+disconnect"] input[data-tick]');
      for (let i = 0; i < await boxes.count(); i++) await boxes.nth(i).check();
      const after = await page.textContent('.bay-foot .open');
      await page.evaluate(() => document.querySelectorAll('[data-moves*="-connect"],[data-moves*="-disconnect"]').forEach((op) => op.querySelector('input[data-tick]').click()));
      const closed = await page.textContent('.bay-foot .open');
      return [...equal(before, 'All on the vehicle closed', 'before'), ...unless(/still/.test(after), `after: ${after}`), ...equal(closed, 'All on the vehicle closed', 'closed again')];
    });
    const asked = await torqueStep(page);
    await checks.check(`bay, ${way}: a torque is checked at once, with its unit`, async () => {
      await go(page, asked.title);
      const nm = (asked.low + asked.high) / 2;
      // NIST SP 811: 1 lbf·ft = 1.355 817 948 N·m.
      const lbft = (nm / 1.3558179483).toFixed(2);
      const right = await apply(page, `${nm.toFixed(2)} Nm`);
      const other = await apply(page, `${lbft.replace('.', ',')} ft-lbs`);
      const swapped = await apply(page, `${nm.toFixed(2)} lb·ft`);
      const unit = await apply(page, `${nm.toFixed(2)} psi`);
      const turned = await apply(page, `${nm.toFixed(2)} N·m + 90°`);
      const two = await apply(page, `${nm.toFixed(0)}-${(nm + 1).toFixed(0)}`);
      const words = await apply(page, 'tight');
      return [...equal(right, 'As asked for.', 'newton metres'), ...equal(other, 'As asked for.', 'pound-feet'), ...unless(/above.*In N·m it would be right/.test(swapped), `swapped unit: ${swapped}`),
        ...unless(/no unit of torque/.test(unit), `wrong unit: ${unit}`), ...unless(/does not begin with a number/.test(words), `words: ${words}`),
        ...unless(/holds more than one number/.test(turned), `with its turn: ${turned}`), ...unless(/holds more than one number/.test(two), `range: ${two}`),
        ...equal(await page.inputValue('.now .applied input[inputmode]'), 'tight', 'what was typed stays')];
    });
    await checks.check(`bay, ${way}: the step is left with word of what is missing; field and band follow the units that lead`, async () => {
      await page.fill('.now .applied input[inputmode]', '');
      const lead = (units) => page.evaluate((units) => document.documentElement.setAttribute('data-first', units), units);
      await lead('imperial');
      await page.waitForFunction(() => document.querySelector('.now .applied select').value !== 'N·m');
      const band = await page.textContent('.now .applied small');
      await lead('metric');
      await page.waitForFunction(() => document.querySelector('.now .applied select').value === 'N·m');
      const figures = await page.$$eval('.now .tq .val > *', (all) => all.filter((e) => e.getBoundingClientRect().right > innerWidth).length);
      await page.evaluate(() => document.querySelectorAll('.now .stop input').forEach((e) => { e.value = 'S. Invented'; e.dispatchEvent(new Event('input')); }));
      await page.click('.bay-foot .next');
      const says = await page.textContent('.bay-says');
      await page.evaluate(() => { const s = window.bayleafWork.read(); s.holds = {}; Object.keys(s.ticks).filter((t) => /\/hold$/.test(t)).forEach((t) => delete s.ticks[t]); window.bayleafWork.take(s); });
      await go(page, asked.title);
      return [...unless(/lb·/.test(band), band), ...unless(/no torque entered for/.test(says), says), ...equal(figures, 0, 'figures cut off')];
    });
    await checks.check(`bay, ${way}: all of it survives a reload, on the same step`, async () => {
      await apply(page, `${asked.high + 40} N·m`);
      await page.fill('.now .applied input[id$="-why"]', 'second bolt replaced');
      await page.fill('.now .applied input[id$="-wrench"]', 'TW-04');
      await page.fill('.now .note input', 'thread cleaned');
      await page.reload();
      await page.waitForSelector('.bay-foot');
      return [...unless((await screen(page)).includes(asked.title), `on ${await screen(page)}`),
        ...equal(await page.inputValue('.now .applied input[inputmode]'), String(asked.high + 40), 'torque'),
        ...equal(await page.inputValue('.now .applied input[id$="-why"]'), 'second bolt replaced', 'reason'), ...equal(await page.inputValue('.now .note input'), 'thread cleaned', 'note')];
    });
    let record = '';
    await checks.check(`bay, ${way}: the record names what is missing and is saved with a seal that holds`, async () => {
      await go(page, 'Before');
      await page.fill('#order-registration', 'TH 0001');
      await page.evaluate(() => { const step = document.querySelector('[data-seconds]').closest('.step').id; window.bayleafWork.change((s) => { s.waits[step] = { started: 1764150000000, ended: 1764150180000 }; }); });
      await go(page, 'Record');
      const text = await page.textContent('.record');
      const [download] = await Promise.all([page.waitForEvent('download'), page.click('.record .acts .main')]);
      record = readFileSync(await download.path(), 'utf8');
      const json = JSON.parse(record);
      // The seal by another implementation of FIPS 180-4.
      const body = record.slice(0, record.lastIndexOf(',\n  "seal": "'));
      return [...unless(/Missing/.test(text) && /technician’s name is missing/.test(text), 'what is missing is not told'), ...equal(json.seal, createHash('sha256').update(body).digest('hex'), 'seal'),
        ...equal([json.format, json.version, json.order.registration], ['bayleaf-record', 1, 'TH 0001'], 'head'),
        ...equal(json.torques.map((t) => [t.operation, t.wrench, t.note]), [[asked.op, 'TW-04', 'second bolt replaced']], 'torques'), ...equal(json.notes.map((n) => n.text), ['thread cleaned'], 'notes'),
        ...unless(/swivel-seat-base-TH0001/.test(download.suggestedFilename()), download.suggestedFilename())];
    });
    let readings = '';
    await checks.check(`bay, ${way}: a measured value is checked at once, with its unit, and stands in the record`, async () => {
      const other = await ctx.newPage();
      await other.goto(`${base}${MEASURING}?bay`);
      await other.waitForSelector('.bay-foot');
      const asked = await other.evaluate(() => {
        const dd = document.querySelector('[data-reads^="V;"]');
        return { title: dd.closest('.step').querySelector('h3 span').textContent, reads: dd.dataset.reads.split('|')[0].split(';'), op: dd.closest('[data-op]').dataset.op };
      });
      const low = Number(asked.reads[1]);
      await go(other, asked.title);
      const enter = async (text) => { await other.fill('.now .applied input[inputmode]', text); return other.textContent('.now .applied .verdict'); };
      const said = [await enter(String(low + 0.1)), await enter(`${low - 0.1} V`), await enter(`${low} A`)];
      await enter(String(low + 0.1).replace('.', ','));
      await go(other, 'Record');
      const [download] = await Promise.all([other.waitForEvent('download'), other.click('.record .acts .main')]);
      readings = readFileSync(await download.path(), 'utf8');
      const table = await other.textContent('.record [aria-label="Measured values"]');
      const missing = await other.$$eval('.record .gaps li', (all) => all.filter((li) => /is not entered/.test(li.textContent)).length);
      const rest = await other.$$eval('[data-reads]', (all) => all.filter((dd) => !dd.closest('[hidden]')).length);
      await other.close();
      return [...equal(said[0], 'As asked for.', 'within'), ...unless(/is below what is asked for/.test(said[1]), said[1]), ...unless(/“A” is no unit of this value; enter one number and its unit, V/.test(said[2]), said[2]),
        ...equal(JSON.parse(readings).measured, [{ operation: asked.op, value: 1, measured: `${String(low + 0.1).replace('.', ',')} V`, note: '' }], 'measured'),
        ...unless(table.includes('as asked for'), table), ...equal(missing, rest - 1, 'values named as missing')];
    });
    await checks.check(`bay, ${way}: every screen says who comes first`, async () => {
      const sentence = await page.evaluate(() => document.querySelector('.foot strong').textContent);
      const screens = await page.$$eval('.bay-bar select option', (all) => all.map((o) => o.value));
      const faults = [...unless(/vehicle maker/.test(sentence) && /licensed people/.test(sentence), `the foot says: ${sentence}`), ...unless(screens.length > 5, 'hardly any screen')];
      const here = await page.$eval('.bay-bar select', (select) => select.value);
      for (const screen of [...screens, here]) {
        await page.selectOption('.bay-bar select', screen);
        const seen = await page.$$eval('.defers', (all) => all.filter((e) => e.checkVisibility()).map((e) => e.textContent.trim()));
        faults.push(...unless(seen.includes(sentence.trim()), `screen ${screen}: ${seen.join(' | ') || 'nothing'}`));
      }
      return faults;
    });
    await checks.check(`bay, ${way}: every field of the record is in the handbook, and no other`, () => {
      // Behind them the chapter tells what the command says of a folder of records.
      const fields = read(site, 'handbook/record.html').split('>A folder of records<')[0];
      const described = [...fields.matchAll(/<th scope="row">(?:<code>)?([a-z_]+)/g)].map((m) => m[1]);
      const names = (value) => (Array.isArray(value) ? value.flatMap(names) : value && typeof value === 'object' ? Object.entries(value).flatMap(([k, v]) => [k, ...names(v)]) : []);
      const written = [...new Set([record, readings].flatMap((text) => names(JSON.parse(text))))].sort();
      return equal(written, [...new Set(described)].sort(), 'fields');
    });
    await checks.check(`bay, ${way}: the saved record is taken by the command that prints it, and what is missing is the same`, async () => {
      const folder = mkdtempSync(join(tmpdir(), 'bayleaf-record-'));
      try {
        writeFileSync(join(folder, 'record.json'), record);
        const run = spawnSync(built(project), ['-C', project, 'print', '--record', join(folder, 'record.json'), '--form', 'short', '--to', '-'], { maxBuffer: 1 << 24 });
        const told = run.stderr.toString();
        return [...equal(run.status, 1, `exit status (${told})`), ...equal(run.stdout.subarray(0, 5).toString(), '%PDF-', 'a PDF'),
          ...unless(/The technician’s name is missing/.test(told) && /The technician has not signed/.test(told), told), ...unless(!/registration/.test(told), told)];
      } finally {
        rmSync(folder, { recursive: true });
      }
    });
    const take = async (content) => {
      await page.setInputFiles('#record-file', { name: 'record.json', mimeType: 'application/json', buffer: Buffer.from(content) });
      await page.waitForFunction(() => document.querySelector('.record .acts + .answered').textContent !== '');
      return page.textContent('.record .acts + .answered');
    };
    await checks.check(`bay, ${way}: a record that was changed, or is another guide's, is refused and nothing is lost`, async () => {
      const seal = (text) => { const body = text.slice(0, text.lastIndexOf(',\n  "seal": "')); return `${body},\n  "seal": "${createHash('sha256').update(body).digest('hex')}"\n}\n`; };
      const changed = await take(record.replace('TH 0001', 'TH 0002'));
      const foreign = await take(seal(record.replace('"slug": "swivel-seat-base"', '"slug": "tow-bar-wiring"')));
      const broken = await take('{');
      return [...unless(/text is not as it was saved/.test(changed), changed), ...unless(/another guide/.test(foreign), foreign), ...unless(/not JSON/.test(broken), broken),
        ...equal(await page.evaluate(() => window.bayleafWork.read().order.registration), 'TH 0001', 'what is on the device')];
    });
    await checks.check(`bay, ${way}: who signs what is not complete is asked first, and says so`, async () => {
      const box = page.locator('.record .sign input').first();
      await box.evaluate((e) => e.click());
      const asks = await page.textContent('.record .sign + .answered');
      const before = await page.evaluate(() => window.bayleafWork.read().signed.technician);
      const inView = await page.evaluate(() => { const r = document.querySelector('.record .sign + .answered').getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight; });
      await page.click('.record .sign + .answered .btn:last-of-type');
      const refused = await page.evaluate(() => window.bayleafWork.read().signed.technician);
      await box.evaluate((e) => e.click());
      await page.click('.record .sign + .answered .btn');
      const after = await page.evaluate(() => window.bayleafWork.read().signed.technician);
      await box.evaluate((e) => e.click());
      return [...unless(/\d+ entries of the list above are still missing or open/.test(asks), asks), ...unless(inView, 'the question is not in sight'),
        ...equal([before, refused, after].map(Boolean), [false, false, true], 'signed'), ...equal(await page.evaluate(() => !!window.bayleafWork.read().signed.technician), false, 'taken back')];
    });
    await checks.check(`bay, ${way}: a stop that nobody signed is missing, and a signature does not outlive a change`, async () => {
      const gaps = await page.$$eval('.record .gaps li', (all) => all.map((li) => li.textContent).filter((t) => /has not signed at the stop/.test(t)).length);
      const stops = await page.$$eval('.stop input', (all) => all.filter((e) => !e.closest('[hidden]') && !e.value.trim()).length);
      await page.evaluate(() => window.bayleafWork.change((s) => { s.signed = { technician: true }; }));
      const signed = await page.evaluate(() => window.bayleafWork.read().signed.technician);
      await page.evaluate(() => window.bayleafWork.change((s) => { s.order.inspector = 'S. Invented'; }));
      const kept = await page.evaluate(() => window.bayleafWork.read().signed.technician);
      const tick = await page.evaluate(() => { const id = document.querySelector('.step input[data-tick]').dataset.tick; window.bayleafWork.change((s) => { s.ticks[id] = !s.ticks[id]; }); return id; });
      const lapsed = await page.evaluate(() => !!window.bayleafWork.read().signed.technician);
      const says = await page.textContent('.bay-says');
      await page.evaluate((id) => window.bayleafWork.change((s) => { if (s.ticks[id]) delete s.ticks[id]; else s.ticks[id] = true; s.order.inspector = ''; }), tick);
      return [...equal(gaps, stops, 'stops named'), ...unless(stops > 0, 'the guide has no stop'), ...equal([signed, kept, lapsed], [true, true, false], 'signed'), ...unless(/changed after it was signed/.test(says), says)];
    });
    await checks.check(`bay, ${way}: clearing asks first; the saved record brings everything back`, async () => {
      await page.click('.record .acts button:last-of-type');
      const kept = await page.evaluate(() => window.bayleafWork.read().touched);
      await page.click('.record .acts + .answered .btn');
      const gone = await page.evaluate(() => window.bayleafWork.read().touched);
      await go(page, 'Record');
      await page.setInputFiles('#record-file', { name: 'record.json', mimeType: 'application/json', buffer: Buffer.from(record) });
      await page.waitForFunction(() => window.bayleafWork.read().touched);
      const back = await page.evaluate(() => window.bayleafWork.read());
      return [...equal([kept, gone], [true, false], 'touched'), ...equal(back.order.registration, 'TH 0001', 'registration'), ...equal(Object.keys(back.torques), [asked.op], 'torques')];
    });
    await checks.check(`bay, ${way}: kept work says whose it is, and that its options stand and not those of the address`, async () => {
      const other = await ctx.newPage();
      await other.goto(`${base}${GUIDE}?with=heated-seat`);
      const label = await other.textContent('#bay');
      await other.click('#bay');
      await other.waitForSelector('.bay-foot');
      const says = await other.textContent('.bay-says');
      const kept = await other.evaluate(() => window.bayleafOptions.chosen());
      await other.click('.bay-says .btn:first-of-type');
      const taken = await other.evaluate(() => window.bayleafWork.read().options);
      await other.evaluate(() => window.bayleafOptions.choose({ with: [], without: [] }));
      await other.goto(`${base}${GUIDE}?with=heated-seat&bay`);
      await other.waitForSelector('.bay-foot');
      const [download] = await Promise.all([other.waitForEvent('download'), other.click('.bay-says .btn:nth-of-type(2)')]);
      const saved = JSON.parse(readFileSync(await download.path(), 'utf8'));
      const anew = await other.evaluate(() => ({ touched: window.bayleafWork.read().touched, options: window.bayleafOptions.chosen() }));
      await other.evaluate((text) => window.bayleafWork.take(window.bayleafWork.open(text)), record);
      await other.close();
      return [...equal(label, 'Continue in the bay view', 'button'), ...unless(/TH 0001/.test(says) && /not those that this page was opened with/.test(says), says),
        ...equal(kept, { with: [], without: [] }, 'options of the work'), ...equal(taken, { with: ['heated-seat'], without: [] }, 'after taking the other options'),
        ...equal(saved.order.registration, 'TH 0001', 'saved'), ...equal(anew, { touched: false, options: { with: ['heated-seat'], without: [] } }, 'anew')];
    });
    await checks.check(`bay, ${way}: work begun on an older revision is told, and its ticks are kept`, async () => {
      await page.evaluate(() => { const s = window.bayleafWork.read(); s.revision = 'A'; s.fingerprint = '0000 0000'; s.ticks['no-such-step/1'] = true; window.bayleafWork.take(s); });
      await page.reload();
      await page.waitForSelector('.bay-foot');
      const says = await page.textContent('.bay-says');
      await page.click('.bay-says .btn:last-of-type');
      const now = await page.evaluate(() => ({ older: !!window.bayleafWork.older(), registration: window.bayleafWork.read().order.registration }));
      return [...unless(/begun on revision A/.test(says) && /1 tick belongs/.test(says), says), ...equal(now, { older: false, registration: 'TH 0001' }, 'after going on')];
    });
    await checks.check(`bay, ${way}: two tabs on one guide keep one work`, async () => {
      const second = await ctx.newPage();
      await enter(second, base);
      await go(second, 'Before');
      await second.fill('#order-odometer', '12345 km');
      await page.waitForFunction(() => window.bayleafWork.read().order.odometer === '12345 km');
      await go(page, 'Before');
      await page.fill('#order-technician', 'A. Technician');
      await second.waitForFunction(() => document.querySelector('#order-technician').value === 'A. Technician');
      const told = await second.textContent('.bay-says');
      const kept = await second.evaluate(() => window.bayleafWork.read().order);
      await second.close();
      return [...unless(/another tab/.test(told), told), ...equal([kept.odometer, kept.technician], ['12345 km', 'A. Technician'], 'kept')];
    });
    await checks.check(`bay, ${way}: closing it brings the guide back, at the step`, async () => {
      await go(page, asked.title);
      await page.click('.bay-bar button');
      const steps = await page.$$eval('.step', (all) => all.filter((s) => getComputedStyle(s).display !== 'none').length);
      return [...unless(steps > 5, `${steps} steps shown`), ...unless(!/[?&]bay/.test(page.url()), 'the address still has it'), ...unless(await page.isHidden('.bay-foot'), 'its buttons are still there')];
    });
    await checks.check(`bay, ${way}: quiet`, () => faults);
    await ctx.close();
  }
}

// The whole way with nothing but keys: no selector is clicked, what is used is what Tab reaches.
async function keyboard({ checks, browser, bases }) {
  const ctx = await context(browser, { acceptDownloads: true });
  const page = await ctx.newPage();
  const tabTo = async (what, holds) => {
    for (let i = 0; i < 150; i++) {
      if (await page.evaluate(holds)) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`Tab does not reach ${what}`);
  };
  await checks.check('bay: from the options to the saved record by keyboard alone', async () => {
    await page.goto(bases.http + GUIDE);
    await tabTo('the options', () => document.activeElement.closest('#options') !== null);
    await page.keyboard.press('ArrowRight');
    await tabTo('the bay view', () => document.activeElement.id === 'bay');
    await page.keyboard.press('Enter');
    await page.waitForSelector('.bay-foot');
    await tabTo('the registration', () => document.activeElement.id === 'order-registration');
    await page.keyboard.type('TH 0004');
    await tabTo('the next step', () => document.activeElement.classList.contains('next'));
    await page.keyboard.press('Enter');
    await tabTo('a box of the step', () => document.activeElement.matches('.now input[data-tick]'));
    await page.keyboard.press('Space');
    const { title } = await torqueStep(page);
    for (let i = 0; i < 40 && !(await screen(page)).includes(title); i++) {
      await page.evaluate(() => document.querySelectorAll('.now .stop input').forEach((e) => { e.value = 'x'; e.dispatchEvent(new Event('input')); }));
      await tabTo('the next step', () => document.activeElement.classList.contains('next'));
      await page.keyboard.press('Enter');
    }
    await tabTo('the torque', () => document.activeElement.matches('.now .applied input[inputmode]'));
    await page.keyboard.type('3 psi');
    const verdict = await page.textContent('.now .applied .verdict');
    await tabTo('the list of screens', () => document.activeElement.matches('.bay-bar select'));
    await page.keyboard.press('End');
    const where = await screen(page);
    await tabTo('saving', () => document.activeElement.matches('.record .acts .main'));
    const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
    const record = JSON.parse(readFileSync(await download.path(), 'utf8'));
    return [...unless(/no unit of torque/.test(verdict), verdict), ...equal(where, 'Record', 'screen'), ...equal(record.order.registration, 'TH 0004', 'registration'),
      ...unless(record.ticks.length > 0, 'no tick'), ...equal(record.options.with, ['heated-seat'], 'options')];
  });
  await ctx.close();
}

async function storage({ checks, browser, bases }) {
  for (const [name, spoil] of Object.entries({
    refused: () => { Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } }); },
    full: () => { Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }; },
  })) {
    const ctx = await context(browser);
    await ctx.addInitScript(spoil);
    const page = await ctx.newPage();
    await checks.check(`bay: storage ${name} is told, and the work lasts while the page is open`, async () => {
      await enter(page, bases.http);
      await page.fill('#order-registration', 'TH 0003');
      await go(page, 'Before');
      await page.locator('.now input[data-tick]').first().check();
      const says = await page.textContent('.bay-says');
      await go(page, 'Record');
      return [...unless(/save the record before you close it/.test(says), `told: ${says}`), ...unless((await page.textContent('.record')).includes('TH 0003'), 'the entry is lost')];
    });
    await ctx.close();
  }
}

// What the browser or another hand does to the storage while work is under way: nothing is lost without being told, and nothing runs.
async function spoilt({ checks, browser, bases }) {
  const ways = {
    'taken away': { spoil: () => localStorage.clear(), told: /taken away .* put back/, lasts: true },
    'taken away and full': { spoil: () => { localStorage.clear(); Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }; }, told: /no room left .* save the record before you close it/, lasts: false },
    'full in the middle': { spoil: () => { Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }; }, told: /no room left .* save the record before you close it/, lasts: false },
  };
  for (const [name, { spoil, told, lasts }] of Object.entries(ways)) {
    const ctx = await context(browser);
    const page = await ctx.newPage();
    await checks.check(`bay: storage ${name} while work is under way is told, and what was entered before and after stays`, async () => {
      await enter(page, bases.http);
      await go(page, 'Before');
      await page.fill('#order-registration', 'TH 0003');
      await page.locator('.now input[data-tick]').first().check();
      await page.evaluate(spoil);
      await page.fill('#order-technician', 'A. Technician');
      const says = await page.textContent('.bay-says');
      const state = () => page.evaluate(() => { const s = window.bayleafWork.read(); return [s.order.registration, s.order.technician, Object.keys(s.ticks).length]; });
      const now = await state();
      if (lasts) {
        await page.reload();
        await page.waitForSelector('.bay-foot');
      }
      return [...unless(told.test(says), `told: ${says}`), ...equal(now, ['TH 0003', 'A. Technician', 1], 'the work'), ...equal(await state(), now, 'the work later')];
    });
    await ctx.close();
  }
  const texts = {
    damaged: '{"touched":true,"ticks":{"a":',
    'no object': '"work"',
    'of wrong types': JSON.stringify({
      version: 1, touched: true, ticks: 'all', torques: { 'x/1': null, 'y/1': { applied: 5, note: ['a'] }, 'z/1': 'much' }, measured: { 'a/1#1': 7 }, notes: { 'base-tight': { a: 1 }, x: '<img src=x onerror="window.pwned=1">' },
      holds: ['a'], waits: { z: 7, y: { started: 'now', ended: {} } }, options: { with: 'abc', without: [1, {}, '<b>'] }, signed: [], at: '<svg onload="window.pwned=1">', __proto__: { polluted: 1 },
      order: { registration: '<script>window.pwned=1</script>', technician: { a: 1 }, started: 5 },
    }).replace('"order"', '"__proto__":{"polluted":1},"order"'),
  };
  for (const [name, text] of Object.entries(texts)) {
    const ctx = await context(browser);
    const page = await ctx.newPage();
    const faults = [];
    page.on('pageerror', (e) => faults.push(`page error: ${e.message}`));
    await checks.check(`bay: kept work that is ${name} breaks nothing, runs nothing and is told where it is lost`, async () => {
      await page.goto(bases.http + GUIDE);
      await page.evaluate((kept) => localStorage.setItem('bayleaf.work:' + location.pathname.replace(/[^/]*$/, ''), kept), text);
      await enter(page, bases.http);
      const says = await page.textContent('.bay-says');
      await go(page, 'Record');
      const shown = await page.textContent('.record');
      const ran = await page.evaluate(() => [window.pwned, {}.polluted]);
      await go(page, 'Before');
      await page.fill('#order-odometer', '12345 km');
      await page.reload();
      await page.waitForSelector('.bay-foot');
      const kept = await page.evaluate(() => window.bayleafWork.read().order.odometer);
      const aside = await page.evaluate(() => localStorage.getItem('bayleaf.work:' + location.pathname.replace(/[^/]*$/, '') + 'damaged'));
      return [...faults, ...equal(ran, [undefined, undefined], 'what ran'), ...equal(kept, '12345 km', 'kept from then on'),
        ...(name === 'damaged' ? [...unless(/damaged .* put aside/.test(says), `told: ${says}`), ...equal(aside, text, 'put aside')] : []),
        ...(name === 'of wrong types' ? unless(shown.includes('<script>window.pwned=1</script>'), 'the registration is not shown as text') : [])];
    });
    await ctx.close();
  }
  const ctx = await context(browser);
  const page = await ctx.newPage();
  const faults = [];
  page.on('pageerror', (e) => faults.push(`page error: ${e.message}`));
  await checks.check('bay: markup in every text of a record that is opened stays text', async () => {
    await enter(page, bases.http);
    await go(page, 'Before');
    await page.fill('#order-registration', 'TH 0009');
    await page.locator('.now input[data-tick]').first().check();
    const file = await page.evaluate(() => {
      const evil = '"><img src=x onerror="window.pwned=1"><script>window.pwned=1<\/script>';
      const body = JSON.parse(window.bayleafWork.file(window.bayleafWork.read()));
      delete body.seal;
      for (const k of Object.keys(body.order)) if (!['started', 'finished', 'vehicle'].includes(k)) body.order[k] = evil + k;
      body.guide.title = evil;
      const op = document.querySelector('.tq').closest('[data-op]').dataset.op;
      body.notes.push({ step: op.split('/')[0], text: evil });
      body.torques.push({ operation: op, applied: evil, wrench: evil, note: evil });
      const text = JSON.stringify(body, null, 2).slice(0, -2);
      return `${text},\n  "seal": "${window.bayleafWork.seal(text)}"\n}\n`;
    });
    await go(page, 'Record');
    await page.setInputFiles('#record-file', { name: 'record.json', mimeType: 'application/json', buffer: Buffer.from(file) });
    await page.getByText('Put it in its place', { exact: true }).click();
    await page.waitForFunction(() => window.bayleafWork.read().order.registration.includes('onerror')).catch(async () => { throw new Error(`not opened: ${await page.evaluate(() => [...document.querySelectorAll('.answered, .bay-says')].map((e) => e.textContent).join(' | '))}`); });
    for (let i = await page.evaluate(() => document.querySelector('.bay-bar select').options.length); i > 0; i--) {
      await page.evaluate((at) => { const list = document.querySelector('.bay-bar select'); list.selectedIndex = at; list.dispatchEvent(new Event('change')); }, i - 1);
    }
    await page.waitForTimeout(200);
    const found = await page.evaluate(() => [window.pwned, document.querySelectorAll('img[src="x"], script:not([src])').length]);
    return [...faults, ...equal(found, [undefined, 0], 'what ran or stands in the page')];
  });
  await ctx.close();
}

async function looks({ checks, browser, bases }) {
  for (const colorScheme of ['light', 'dark']) {
    for (const width of [390, 820, 1440]) {
      const ctx = await context(browser, { colorScheme, viewport: { width, height: width < 500 ? 844 : 1000 } });
      const page = await ctx.newPage();
      await enter(page, bases.http);
      const asked = await torqueStep(page);
      for (const where of ['Before', asked.title, 'Final', 'Record']) {
        await checks.check(`bay: accessible and in its width, ${width} ${colorScheme}: ${where}`, async () => {
          await go(page, where);
          if (where === asked.title) await apply(page, '3 psi');
          const small = await page.evaluate(() => [...document.querySelectorAll('.bay-foot button, .bay-bar button, .bay-bar select, .now .tick, .now .btn')]
            .filter((e) => e.offsetParent).map((e) => ({ e, r: e.getBoundingClientRect() })).filter(({ r }) => r.width < 44 || r.height < 44).map(({ e, r }) => `${e.className || e.tagName} ${Math.round(r.width)}×${Math.round(r.height)}`));
          return [...await (await judge(page))(TAGS, 20), ...await overflow(page), ...small.map((s) => `target too small for a glove: ${s}`)];
        });
      }
      await ctx.close();
    }
  }
  const ctx = await context(browser, { hasTouch: true, viewport: { width: 820, height: 1180 } });
  const page = await ctx.newPage();
  await checks.check('bay: a swipe turns the page', async () => {
    await enter(page, bases.http);
    const protocol = await ctx.newCDPSession(page);
    const swipe = async (from, to) => {
      await protocol.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: [{ x: from, y: 600 }] });
      await protocol.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: [{ x: to, y: 604 }] });
      await protocol.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    };
    await swipe(600, 200);
    const one = await screen(page);
    await swipe(200, 600);
    return [...unless(one.startsWith('1. '), `after a swipe to the left: ${one}`), ...equal(await screen(page), 'Before you start', 'after a swipe to the right')];
  });
  await checks.check('bay: what is read from two metres is large', async () => {
    await go(page, (await torqueStep(page)).title);
    // Common practice for signs: a capital letter 1/300 of the distance; at 96 px to the inch 2 m ask for 25 px, which a type of 36 px has.
    const sizes = await page.evaluate(() => ['.now .tq .val > :first-child', '.now h3'].map((css) => parseFloat(getComputedStyle(document.querySelector(css)).fontSize)));
    return unless(sizes.every((s) => s >= 36), `sizes in px: ${sizes.join(', ')}`);
  });
  await ctx.close();
}

export async function bay(run) {
  await walk(run);
  await keyboard(run);
  await storage(run);
  await spoilt(run);
  await looks(run);
}
