// Tests of the as-built record between the bay view and the program that prints it: both list the same gaps in the same words, refuse for
// the same reasons; on paper each page says what it is of. And of what is kept with the work: fields in two tabs, and waits.

import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { built, context, equal, guidesOf, unless } from './harness.mjs';
import { bare, printed, reach } from './print.mjs';

const GUIDE = 'guides/swivel-seat-base/index.html';

export async function enter(page, address) {
  await page.goto(`${address}?bay`);
  await page.waitForSelector('.bay-foot');
}

export const go = (page, words) => page.evaluate((text) => {
  const list = document.querySelector('.bay-bar select');
  list.value = [...list.options].find((o) => o.text.includes(text)).value;
  list.dispatchEvent(new Event('change'));
}, words);

// Everything that the page asks for, entered as asked for, so that each gap in the list was made by the test.
export const fill = (page) => page.evaluate(() => {
  const state = window.bayleafWork.read();
  const all = (css) => [...document.querySelectorAll(css)].filter((e) => !e.closest('[hidden]'));
  const inside = (text) => { const [unit, low, high] = text.split('|')[0].split(';'); return `${low || high} ${unit}`; };
  const wrenchFor = (tq) => { const n = Number(tq.dataset.low ?? tq.dataset.high), li = [...document.querySelectorAll('#wrenches li')].find((w) => Number(w.dataset.low) <= n && n <= Number(w.dataset.high) && Number(tq.dataset.high ?? n) <= Number(w.dataset.high)); return li ? li.dataset.number : ''; };
  all('input[data-tick]').forEach((box) => { state.ticks[box.dataset.tick] = true; });
  all('.step').filter((step) => step.querySelector('.stop')).forEach((step) => { state.holds[step.id] = 'S. Invented'; state.ticks[`${step.id}/hold`] = true; });
  all('[data-op] .tq').forEach((tq) => { state.torques[tq.closest('[data-op]').dataset.op] = { applied: inside(tq.dataset.bounds), wrench: wrenchFor(tq), note: '' }; });
  all('.step').filter((step) => state.ticks[`${step.id}/wait`]).forEach((step) => { const now = Date.now(); state.waits[step.id] = { started: now - 600000, ended: now - 300000, ticked: now - 120000 }; });
  all('[data-op]').forEach((dl) => [...dl.querySelectorAll('dt.sp')].forEach((name, i) => {
    const reads = name.nextElementSibling.dataset.reads;
    if (reads) state.measured[`${dl.dataset.op}#${i + 1}`] = { measured: inside(reads), note: '' };
  }));
  Object.assign(state.order, { registration: 'TH 0009', technician: 'R. Invented', vehicle: [...document.querySelectorAll('#order-vehicle option')].map((o) => o.value)[1] ?? '', started: '2026-11-24' });
  state.signed = { technician: true };
  state.touched = true;
  window.bayleafWork.take(state);
});

// The list as text, less its buttons.
export const listed = (page) => page.$$eval('.record .gaps li', (all) => all.map((li) => [...li.childNodes].filter((n) => n.nodeName !== 'BUTTON').map((n) => n.textContent).join('').replace(/\s+/g, ' ').trim()));

export async function saved(page) {
  const [download] = await Promise.all([page.waitForEvent('download'), page.click('.record .acts .main')]);
  return readFileSync(await download.path(), 'utf8');
}

// What the program says of a record, and its exit status.
export function printRecord(project, text, ...more) {
  const folder = mkdtempSync(join(tmpdir(), 'bayleaf-record-'));
  try {
    writeFileSync(join(folder, 'record.json'), text);
    const run = spawnSync(built(project), ['-C', project, 'print', '--record', join(folder, 'record.json'), '--to', '-', ...more], { maxBuffer: 1 << 26 });
    return { status: run.status, told: run.stderr.toString(), pdf: run.stdout };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const toldList = (told) => told.split('\n').filter((line) => line.startsWith('  ')).map((line) => line.replace(/\s+/g, ' ').trim());

async function gaps({ checks, browser, bases, project }) {
  const ctx = await context(browser, { acceptDownloads: true });
  const page = await ctx.newPage();
  await checks.check('record: what is complete on the page is complete for the program', async () => {
    await enter(page, bases.http + GUIDE);
    await page.evaluate(() => window.bayleafOptions.choose({ with: [], without: ['heated-seat'] }));
    await fill(page);
    await go(page, 'Record');
    const done = printRecord(project, await saved(page), '--form', 'short');
    return [...equal(await listed(page), [], 'on the page'), ...equal(done.status, 0, `exit status (${done.told})`)];
  });
  await checks.check('record: the page and the program list the same gaps in the same words and order', async () => {
    await page.evaluate(() => {
      const shown = (e) => !e.closest('[hidden]');
      window.bayleafWork.change((s) => {
        const [missing, off, unread] = Object.keys(s.torques);
        delete s.torques[missing];
        s.torques[off].applied = '400 N·m';
        s.torques[unread].applied = '45';
        const [far, lacking] = Object.keys(s.measured);
        delete s.measured[lacking];
        s.measured[far].measured = s.measured[far].measured.replace(/^\S+/, '900');
        delete s.ticks['before/1'];
        delete s.ticks['final/1'];
        const holds = Object.keys(s.holds)[0];
        delete s.holds[holds];
        delete s.ticks[`${holds}/hold`];
        const check = [...document.querySelectorAll('.step .ticks input')].find(shown);
        delete s.ticks[check.dataset.tick];
        const plugs = [...document.querySelectorAll('#accounts [data-connector]')].map((li) => li.dataset.account);
        const closes = [...document.querySelectorAll('[data-moves]')].filter(shown).filter((op) => plugs.some((a) => op.dataset.moves.split(' ').includes(`-${a}`)));
        delete s.ticks[closes.at(-1).dataset.op];
        s.order.registration = ' ';
      });
    });
    await go(page, 'Before');
    await go(page, 'Record');
    const onPage = await listed(page);
    const run = printRecord(project, await saved(page), '--form', 'short');
    const told = toldList(run.told);
    const kinds = { open: /^Still unplugged: .*, see step \d+$/, start: /^Before you start: 1 box not ticked$/, box: /^Step \d+: 1 box not ticked$/, stop: /has not signed at the stop$/, torque: /no torque entered for/,
      off: /400 N·m is above what is asked for, .*, and no note says why$/, unread: /“45” has no unit; enter one number/, measured: /^Step \d+: [^:]* is not entered$/, far: /: 900 \S+ is above what is asked for/,
      final: /^Final checks: 1 box not ticked$/, field: /^The registration is missing$/, signature: /^The technician has not signed$/ };
    const absent = Object.entries(kinds).filter(([, words]) => !told.some((line) => words.test(line))).map(([kind]) => `no ${kind}`);
    return [...equal(run.status, 1, `exit status (${run.told})`), ...equal(onPage, told, 'on the page, and told'), ...absent];
  });
  await checks.check('record: every gap that has a place leads there', async () => {
    const list = await page.$$eval('.record .gaps li', (all) => all.map((li) => [li.textContent, !!li.querySelector('button')]));
    const without = list.filter(([text, button]) => !button && !/does not apply/.test(text));
    const screen = () => page.evaluate(() => document.querySelector('.bay-bar select').selectedOptions[0].text);
    const lead = async (text) => { await go(page, 'Record'); await page.locator('.record .gaps li', { hasText: text }).locator('button').click(); return screen(); };
    const led = [await lead('Final checks'), await lead('Before you start'), await lead('registration')];
    await go(page, 'Record');
    await page.locator('.record .gaps li', { hasText: 'has not signed' }).last().locator('button').click();
    const focused = await page.evaluate(() => document.activeElement.dataset.signs);
    return [...equal(without, [], 'without a button'), ...equal(led, ['Final checks', 'Before you start', 'Before you start'], 'led to'), ...equal(focused, 'technician', 'signature')];
  });
  await ctx.close();
}

// The record as a printed sheet: what the pages are of stands at the head of each, and what is off is marked.
async function paper({ checks, browser, bases }) {
  const ctx = await context(browser);
  const page = await ctx.newPage();
  const folder = mkdtempSync(join(tmpdir(), 'bayleaf-record-'));
  try {
    await checks.check('record: each printed page says what it is of; the seal and the day it was finished are there', async () => {
      await enter(page, bases.http + GUIDE);
      await fill(page);
      await page.evaluate(() => {
        window.bayleafWork.change((s) => {
          document.querySelectorAll('.step').forEach((step) => { s.notes[step.id] = 'a long note, so that the record takes several pages '.repeat(6); });
          const [first, second] = Object.keys(s.torques);
          s.torques[second] = { applied: '400 N·m', wrench: '', note: 'the bolt was replaced' };
          s.torques[first].note = '';
        });
        window.bayleafWork.change((s) => { s.signed = { technician: true }; s.order.finished = '2026-11-25'; });
      });
      await go(page, 'Record');
      const { texts, sizes, file } = await printed(page, folder, 'record');
      const seal = await page.evaluate(() => JSON.parse(window.bayleafWork.file(window.bayleafWork.read())).seal.slice(0, 16));
      const g = await page.evaluate(() => window.bayleafWork.guide);
      const heads = texts.flatMap((text, i) => [g.title, g.document, `rev. ${g.revision}`, g.fingerprint, 'TH 0009'].flatMap((words) =>
        unless(bare(text).includes(bare(words)), `page ${i + 1} of ${texts.length} lacks ${words}`)));
      // 12 mm of margin are 34 points.
      return [...unless(reach(file) <= sizes[0][0] - 33, `words reach to ${reach(file)} of ${sizes[0][0]} pt`), ...unless(texts.length > 2, `${texts.length} pages`), ...heads, ...unless(bare(texts[0]).includes(`Sealbegins${seal}`), 'no seal'), ...unless(bare(texts[0]).includes('Finished2026-11-25'), 'no day')];
    });
    await checks.check('record: what is not as asked for has a sign and a heavy edge', async () => {
      const rows = await page.$$eval('.record tr.off', (all) => all.map((tr) => ({ sign: tr.querySelector('.sign-off').textContent, edge: parseFloat(getComputedStyle(tr).outlineWidth), said: tr.lastChild.textContent })));
      const others = await page.$$eval('.record tbody tr:not(.off)', (all) => all.filter((tr) => /not as asked for/.test(tr.textContent)).length);
      return [...equal(rows, [{ sign: '!', edge: 4, said: '!not as asked for: the bolt was replaced' }], 'rows'), ...equal(others, 0, 'unmarked')];
    });
  } finally {
    rmSync(folder, { recursive: true });
  }
  await ctx.close();
}

async function refused({ checks, browser, bases, project }) {
  const ctx = await context(browser, { acceptDownloads: true });
  const page = await ctx.newPage();
  const take = async (content) => {
    await page.setInputFiles('#record-file', { name: 'record.json', mimeType: 'application/json', buffer: Buffer.from(content) });
    await page.waitForFunction(() => document.querySelector('.record .acts + .answered').textContent !== '');
    const told = await page.textContent('.record .acts + .answered');
    await page.evaluate(() => { document.querySelector('.record .acts + .answered').textContent = ''; });
    return told;
  };
  let text = '';
  await checks.check('record: laid out anew, changed or without its seal, it is refused by the page and the program in the same words', async () => {
    await enter(page, bases.http + GUIDE);
    await fill(page);
    await go(page, 'Record');
    text = await saved(page);
    const json = JSON.parse(text);
    const { seal, ...unsealed } = json;
    const faults = [];
    const tried = { 'in one line': JSON.stringify(json), 'with tabs': JSON.stringify(json, null, '\t'), changed: text.replace('TH 0009', 'TH 0008'), 'without a seal': JSON.stringify(unsealed, null, 2) };
    for (const [how, other] of Object.entries(tried)) {
      const onPage = (await take(other)).replace(/^This record is not taken: /, '').split('. The work on this device')[0];
      const run = printRecord(project, other);
      const told = run.told.trim().split(' is not printed: ')[1];
      faults.push(...equal(run.status, 2, `${how}: exit status`), ...equal(onPage, told, how), ...unless(/save the record in the bay view again/.test(told), told), ...unless(how === 'without a seal' ? /no seal/.test(told) : /not as it was saved/.test(told), told));
    }
    return [...unless(seal.length === 64, 'no seal'), ...faults];
  });
  await checks.check('record: a file of an older revision says so as soon as it is opened', async () => {
    const older = text.replace(/"revision": "[^"]*"/, '"revision": "A"').replace(/"fingerprint": "[^"]*"/, '"fingerprint": "0000 0000"');
    const body = older.slice(0, older.lastIndexOf(',\n  "seal": "'));
    const sealed = await page.evaluate((b) => `${b},\n  "seal": "${window.bayleafWork.seal(b)}"\n}\n`, body);
    await page.setInputFiles('#record-file', { name: 'record.json', mimeType: 'application/json', buffer: Buffer.from(sealed) });
    await page.locator('.record .acts + .answered .btn').first().click();
    const says = await page.textContent('.bay-says');
    const visible = await page.isVisible('.bay-says');
    await page.evaluate(() => window.bayleafWork.clear());
    await go(page, 'Record');
    await page.setInputFiles('#record-file', { name: 'record.json', mimeType: 'application/json', buffer: Buffer.from(sealed) });
    await page.waitForFunction(() => window.bayleafWork.read().touched);
    const empty = await page.textContent('.bay-says');
    return [...unless(visible && await page.isVisible('.bay-says'), 'nothing is said'), ...[says, empty].flatMap((text) => unless(/begun on revision A, fingerprint 0000 0000/.test(text), text))];
  });
  await ctx.close();
}

async function tabs({ checks, browser, bases }) {
  const ctx = await context(browser);
  const one = await ctx.newPage();
  const two = await ctx.newPage();
  await checks.check('record: a field that another tab wrote follows it, and says so where it is being typed in', async () => {
    await enter(one, bases.http + GUIDE);
    await enter(two, bases.http + GUIDE);
    for (const page of [one, two]) await go(page, 'Before');
    await one.fill('#order-odometer', '111');
    await one.evaluate(() => document.activeElement.blur());
    await two.fill('#order-odometer', '222');
    await one.waitForFunction(() => document.querySelector('#order-odometer').value === '222');
    await two.focus('#order-odometer');
    await one.fill('#order-odometer', '333');
    await two.waitForFunction(() => /another tab/.test(document.querySelector('.bay-says').textContent));
    const typed = await two.inputValue('#order-odometer');
    const says = await two.textContent('.bay-says');
    await two.evaluate(() => document.activeElement.blur());
    const left = await two.inputValue('#order-odometer');
    return [...equal([typed, left], ['222', '333'], 'while it is typed in, and when it is left'), ...unless(/^Odometer: another tab wrote “333”, and that is kept/.test(says), says)];
  });
  await checks.check('record: a torque that another tab wrote follows it', async () => {
    const op = await one.evaluate(() => document.querySelector('.tq').closest('[data-op]').dataset.op);
    const field = `#applied-${op.replace(/[^\w-]/g, '-')}`;
    const title = await one.evaluate(() => document.querySelector('.tq').closest('.step').querySelector('h3 span').textContent);
    for (const page of [one, two]) await go(page, title);
    await one.fill(field, '21');
    await one.evaluate(() => document.activeElement.blur());
    await two.fill(field, '22');
    await one.waitForFunction((css) => document.querySelector(css).value === '22', field);
    return [];
  });
  await ctx.close();
}

async function waits({ checks, browser, bases }) {
  const ctx = await context(browser);
  const page = await ctx.newPage();
  const left = () => page.textContent('.now .clock .left');
  await checks.check('record: a wait has a clock that outlives a reload, says when it is over and ticks nothing', async () => {
    await page.clock.install({ time: new Date('2026-11-25T10:00:00') });
    await enter(page, bases.http + GUIDE);
    const wait = await page.evaluate(() => { const dd = document.querySelector('[data-seconds]'); return { seconds: Number(dd.dataset.seconds), said: dd.textContent, step: dd.closest('.step').querySelector('h3 span').textContent, id: dd.closest('.step').id }; });
    await go(page, wait.step);
    await page.click('.now .clock .btn');
    const started = await left();
    await page.clock.runFor(66_000);
    const later = await left();
    await page.reload();
    await page.waitForSelector('.bay-foot');
    await go(page, wait.step);
    const kept = await left();
    const early = await page.textContent('.bay-says.over');
    await page.clock.runFor(125_000);
    const over = await left();
    const said = await page.textContent('.bay-says.over');
    const live = await page.getAttribute('.bay-says.over', 'role');
    const ticked = await page.evaluate((id) => !!window.bayleafWork.read().ticks[`${id}/wait`], wait.id);
    await page.locator('.now .waits input').check();
    const quiet = await page.textContent('.bay-says.over');
    return [...equal([wait.seconds, wait.said.replace(/\s/g, ' ')], [180, '3 min'], 'wait'), ...equal(started, 'Ends at 10:03, 3 min left.', 'started'), ...equal(later, 'Ends at 10:03, 2 min left.', 'a minute later'), ...equal(kept, later, 'after a reload'),
      ...equal(early, '', 'said before'), ...equal(over, 'Over: it ended at 10:03.', 'over'), ...unless(/^Step \d+: the wait of 3 min is over, it ended at 10:03\.$/.test(said), said), ...equal([live, ticked, quiet], ['status', false, ''], 'role, ticked by itself, said after the tick')];
  });
  await ctx.close();
}

async function small({ checks, browser, bases, site }) {
  const ctx = await context(browser, { viewport: { width: 390, height: 844 } });
  const page = await ctx.newPage();
  for (const slug of guidesOf(site)) {
    await checks.check(`record: figures stay on a screen of 390 px: ${slug}`, async () => {
      await enter(page, `${bases.http}guides/${slug}/index.html`);
      const screens = await page.$$eval('.bay-bar select option', (all) => all.length);
      const faults = [];
      for (let i = 0; i < screens; i++) {
        const wide = await page.evaluate((i) => {
          const list = document.querySelector('.bay-bar select');
          list.value = String(i);
          list.dispatchEvent(new Event('change'));
          const sheet = document.querySelector('#sheet');
          const cut = [...document.querySelectorAll('.now .val > *, .now .applied *, .now .stop *')].filter((e) => e.getBoundingClientRect().right > innerWidth).length;
          return { screen: list.selectedOptions[0].text, sheet: sheet.scrollWidth - sheet.clientWidth, page: document.documentElement.scrollWidth - innerWidth, cut };
        }, i);
        if (wide.sheet > 0 || wide.page > 0 || wide.cut) faults.push(JSON.stringify(wide));
      }
      return [...unless(screens > 5, `${screens} screens`), ...faults];
    });
  }
  await checks.check('record: the ring round a field lies on no neighbour; the words of a row tick its box', async () => {
    await enter(page, bases.http + GUIDE);
    await go(page, await page.evaluate(() => document.querySelector('.stop').closest('.step').querySelector('h3 span').textContent));
    await page.focus('.now .stop input');
    await page.keyboard.press('Shift+Tab');
    await page.keyboard.press('Tab');
    const ring = await page.evaluate(() => { const style = getComputedStyle(document.activeElement); return { inStop: !!document.activeElement.closest('.stop'), out: parseFloat(style.outlineWidth) + parseFloat(style.outlineOffset), wide: parseFloat(style.outlineWidth) }; });
    const row = page.locator('.now .ticks li').first();
    const box = row.locator('input[data-tick]');
    const before = await box.isChecked();
    const edge = await row.boundingBox();
    // At the right, where there are words or nothing, and no box.
    await page.mouse.click(edge.x + edge.width - 60, edge.y + 24);
    return [...equal([ring.inStop, ring.out <= 0, ring.wide], [true, true, 3], 'ring'), ...equal([before, await box.isChecked()], [false, true], 'ticked')];
  });
  await ctx.close();
}

export async function record(run) {
  if (!built(run.project)) {
    run.checks.skip('record', 'the program is not built, neither for release nor for debugging');
    return;
  }
  await gaps(run);
  await refused(run);
  await paper(run);
  await tabs(run);
  await waits(run);
  await small(run);
}
