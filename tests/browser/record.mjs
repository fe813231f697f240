// Tests of the as-built record between the bay view and the program that prints it: both list the same gaps in the same words.

import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { built, context, equal, unless } from './harness.mjs';

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
  all('input[data-tick]').forEach((box) => { state.ticks[box.dataset.tick] = true; });
  all('.step').filter((step) => step.querySelector('.stop')).forEach((step) => { state.holds[step.id] = 'S. Invented'; state.ticks[`${step.id}/hold`] = true; });
  all('[data-op] .tq').forEach((tq) => { state.torques[tq.closest('[data-op]').dataset.op] = { applied: inside(tq.dataset.bounds), wrench: 'TW-03', note: '' }; });
  all('[data-op]').forEach((dl) => [...dl.querySelectorAll('dt.sp')].forEach((name, i) => {
    const reads = name.nextElementSibling.dataset.reads;
    if (reads) state.measured[`${dl.dataset.op}#${i + 1}`] = { measured: inside(reads), note: '' };
  }));
  Object.assign(state.order, { registration: 'TH 0009', technician: 'R. Invented', started: '2026-11-24' });
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
        const [lacking, far] = Object.keys(s.measured);
        delete s.measured[lacking];
        if (far) s.measured[far].measured = s.measured[far].measured.replace(/^\S+/, '900');
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
        const hidden = [...document.querySelectorAll('[data-op]')].find((dl) => !shown(dl));
        s.torques[hidden.dataset.op] = { applied: '9 N·m', wrench: '', note: '' };
        s.order.registration = ' ';
      });
    });
    await go(page, 'Before');
    await go(page, 'Record');
    const onPage = await listed(page);
    const run = printRecord(project, await saved(page), '--form', 'short');
    const told = toldList(run.told);
    const kinds = { open: /^Still unplugged: .*, closed again in step \d+$/, start: /^Before you start: 1 box not ticked$/, box: /^Step \d+: 1 box not ticked$/, stop: /has not signed at the stop$/, torque: /no torque entered for/,
      off: /400 N·m is above what is asked for, .*, and no note says why$/, unread: /“45” is not a torque/, measured: /^Step \d+: [^:]* is not entered$/, stray: /^9 N·m is entered for “/,
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

export async function record(run) {
  if (!built(run.project)) {
    run.checks.skip('record', 'the program is not built, neither for release nor for debugging');
    return;
  }
  await gaps(run);
}
