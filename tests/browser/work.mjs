// Tests of whole jobs in the bay view: work to another revision, options that change in between, stops that are walked round, waits,
// what a record says of itself, and what a phone shows of a step.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { built, context, equal, unless } from './harness.mjs';
import { bare, printed } from './print.mjs';
import { enter, fill, go, listed, printRecord, saved } from './record.mjs';

const SEAT = 'guides/swivel-seat-base/index.html';
const TOW = 'guides/tow-bar-wiring/index.html';

const says = (page) => page.textContent('.bay-says');
const titleOf = (page, css) => page.evaluate((c) => document.querySelector(c).closest('.step').querySelector('h3 span').textContent, css);
const heading = (page) => page.evaluate(() => [...document.querySelectorAll('.record h2')].map((h) => h.textContent)[1]);

async function revisions({ checks, browser, bases }) {
  const ctx = await context(browser);
  const page = await ctx.newPage();
  const folder = mkdtempSync(join(tmpdir(), 'bayleaf-work-'));
  try {
    await checks.check('work: of another revision, every screen and the record say so until somebody goes on with this one', async () => {
      await enter(page, bases.http + SEAT);
      await page.evaluate(() => window.bayleafOptions.choose({ with: [], without: ['heated-seat'] }));
      await fill(page);
      await page.evaluate(() => { const s = window.bayleafWork.read(); s.revision = 'A'; s.fingerprint = '0000 0000'; s.signed = { technician: true, inspector: true }; window.bayleafWork.take(s); });
      await page.reload();
      await page.waitForSelector('.bay-foot');
      const faults = [];
      for (const screen of ['Before', '1. ', 'Final', 'Record']) {
        await go(page, screen);
        faults.push(...unless(/begun on revision A, fingerprint 0000 0000; this page is revision/.test(await says(page)), `${screen}: ${await says(page)}`));
      }
      const other = await page.textContent('.record .another');
      const lead = await page.textContent('.record .lead');
      const { texts } = await printed(page, folder, 'older');
      const paper = bare(texts.join(''));
      const whole = await page.textContent('.record');
      await page.locator('.bay-says .btn', { hasText: 'Go on with this revision' }).click();
      const after = await page.evaluate(() => { const s = window.bayleafWork.read(); return { older: !!window.bayleafWork.older(), signed: Object.values(s.signed).some(Boolean), holds: Object.keys(s.holds).length, ticks: Object.keys(s.ticks).filter((t) => /\/hold$/.test(t)).length, finished: s.order.finished }; });
      return [...faults, ...unless(/^This work was done to revision A, fingerprint 0000 0000; this page is revision E, fingerprint/.test(other), other), ...unless(/rev\. A · 0000 0000/.test(lead), lead),
        ...unless(!/Complete/.test(whole), 'it says Complete'), ...unless(paper.includes(bare('done to revision A, fingerprint 0000 0000')) && paper.includes(bare('rev. A · 0000 0000')) && !paper.includes('Complete'), 'on paper'),
        ...equal(after, { older: false, signed: false, holds: 0, ticks: 0, finished: '' }, 'after going on'), ...unless(/signed of the technician, of the inspector, at \d+ stops? stood under another text and is dropped/.test(await says(page)), await says(page))];
    });
  } finally {
    rmSync(folder, { recursive: true });
  }
  await ctx.close();
}

async function stops({ checks, browser, bases }) {
  const ctx = await context(browser);
  const page = await ctx.newPage();
  await checks.check('work: behind a stop that nobody signed, each screen names it and leads there, and the first entry of a step is answered', async () => {
    await enter(page, bases.http + SEAT);
    const stop = await page.evaluate(() => { const all = [...document.querySelectorAll('.step')].filter((s) => !s.closest('[hidden]')), i = all.findIndex((s) => s.querySelector('.stop')); return { number: all[i].querySelector('.ball').textContent, next: all[i + 1].querySelector('.ball').textContent, who: all[i].querySelector('.stop').dataset.who }; });
    const line = `Step ${stop.number}: ${stop.who} has not signed at the stop.`;
    await go(page, `${stop.number}. `);
    const before = await says(page);
    await go(page, `${stop.next}. `);
    const arrived = await says(page);
    await page.locator('.now input[data-tick]').first().check();
    const answer = await says(page);
    const role = await page.getAttribute('.bay-says', 'role');
    await page.locator('.now .note input').fill('x');
    await go(page, 'Before');
    await go(page, `${stop.next}. `);
    await page.locator('.now .note input').fill('xy');
    const again = await says(page);
    await go(page, 'Record');
    const record = await says(page);
    await page.locator('.bay-says .btn', { hasText: 'Go there' }).click();
    const led = await page.evaluate(() => document.querySelector('.bay-bar select').selectedOptions[0].text);
    await page.fill('.now .stop input', 'S. Invented');
    await page.click('.bay-foot .next');
    const signed = await says(page);
    return [...unless(!before.includes('has not signed'), before), ...unless(arrived.includes(line) && !/entered behind/.test(arrived), arrived), ...unless(/^This is entered behind a stop that is not signed\./.test(answer) && answer.includes(line), answer),
      ...equal(role, 'alert', 'role'), ...unless(!/entered behind/.test(again), `again: ${again}`), ...unless(record.includes(line), record), ...unless(led.startsWith(`${stop.number}. `), led), ...unless(!signed.includes(line), signed)];
  });
  await ctx.close();
}

async function entries({ checks, browser, bases, project }) {
  const ctx = await context(browser, { acceptDownloads: true });
  const page = await ctx.newPage();
  await checks.check('work: what was opened in a step that does not apply any more stays open, for the page and the program', async () => {
    await enter(page, bases.http + SEAT);
    const plug = await page.evaluate(() => {
      window.bayleafOptions.choose({ with: [], without: ['heated-seat'] });
      const op = [...document.querySelectorAll('[data-moves]')].find((e) => e.closest('[hidden]') && /\+disconnect/.test(e.dataset.moves));
      window.bayleafOptions.choose({ with: ['heated-seat'], without: [] });
      op.querySelector('input[data-tick]').click();
      const account = /\+(disconnect\S*)/.exec(op.dataset.moves)[1];
      return { name: [...document.querySelectorAll('#accounts li')].find((li) => li.dataset.account === account).textContent };
    });
    const before = await page.textContent('.bay-foot .open');
    await page.evaluate(() => window.bayleafOptions.choose({ with: [], without: ['heated-seat'] }));
    const after = await page.textContent('.bay-foot .open');
    await go(page, 'Record');
    const list = await listed(page);
    const run = printRecord(project, await saved(page), '--form', 'short');
    const told = run.told.split('\n').filter((line) => line.startsWith('  ')).map((line) => line.replace(/\s+/g, ' ').trim());
    const line = `Still unplugged: ${plug.name}, in a step that does not apply any more`;
    return [...equal([before, after], Array(2).fill('1 connector still unplugged'), 'open'), ...unless(list.includes(line), `${line}: ${list.slice(0, 3)}`), ...equal(list, told, 'on the page, and told')];
  });
  await checks.check('work: a gap of a torque says where, such as on which side', async () => {
    await go(page, 'Record');
    const how = await page.evaluate(() => [...document.querySelectorAll('[data-op] .how')].find((e) => !e.closest('[hidden]') && e.closest('[data-op]').querySelector('.tq'))?.textContent.replace(/\s+/g, ' ').trim());
    const list = await listed(page);
    return [...unless(how, 'no torque of this guide says where'), ...unless(list.some((t) => /no torque entered for/.test(t) && t.endsWith(`, ${how}`)), `${how}: ${list.filter((t) => /torque/.test(t)).join(' | ')}`)];
  });
  await checks.check('work: order, vehicle and the time at a stop are entered, stand in the record and are read back', async () => {
    await page.evaluate(() => window.bayleafWork.clear());
    await go(page, 'Before');
    await page.fill('#order-order', 'J-0417');
    const fits = await page.$$eval('#order-vehicle option', (all) => all.map((o) => o.value));
    await page.selectOption('#order-vehicle', fits[1]);
    await go(page, await titleOf(page, '.stop'));
    await page.fill('.now .stop input', 'S. Invented');
    await go(page, 'Record');
    const shown = await page.textContent('.record');
    const text = await saved(page);
    const json = JSON.parse(text);
    const held = json.notes.find((n) => /^Signed/.test(n.text)).text;
    const time = /, (\d{4}-\d\d-\d\d \d\d:\d\d)$/.exec(held)?.[1];
    const again = await page.evaluate((t) => window.bayleafWork.file(window.bayleafWork.open(t)), text);
    const older = await page.evaluate((t) => {
      const body = t.slice(0, t.lastIndexOf(',\n  "seal": "')).replace(/(Signed at the stop: [^",]*), [^"]*"/, '$1"').replace(/ {4}"(order|vehicle)": "[^"]*",\n/g, '').replace(/ {2}"waits": \[\],\n/, '');
      const s = window.bayleafWork.open(`${body},\n  "seal": "${window.bayleafWork.seal(body)}"\n}\n`);
      return [Object.values(s.holds), Object.keys(s.heldAt), s.order.order ?? '', Object.keys(s.waits)];
    }, text);
    return [...unless(fits.length > 2, `fits ${fits}`), ...equal([json.order.order, json.order.vehicle], ['J-0417', fits[1]], 'order'), ...unless(time && shown.includes(`Signed at the stop by S. Invented, ${time}`), held),
      ...unless(shown.includes('J-0417') && shown.includes(fits[1]), 'not shown'), ...equal(again, text, 'read back and saved'), ...equal(older, [['S. Invented'], [], '', []], 'an older file')];
  });
  await checks.check('work: a record that lacks nothing says what is not as asked for, and where', async () => {
    await page.evaluate(() => { window.bayleafWork.clear(); window.bayleafOptions.choose({ with: [], without: ['heated-seat'] }); });
    await fill(page);
    await go(page, 'Before');
    await go(page, 'Record');
    const plain = await heading(page);
    const step = await page.evaluate(() => { const s = window.bayleafWork.read(), op = Object.keys(s.torques)[0]; s.torques[op] = { applied: '400 N·m', wrench: '', note: 'the bolt was replaced' }; window.bayleafWork.take(s); return document.querySelector(`[data-op="${op}"]`).closest('.step').querySelector('.ball').textContent; });
    const off = await heading(page);
    const done = printRecord(project, await saved(page), '--form', 'short');
    return [...equal(plain, 'Complete', 'as asked for'), ...equal(off, `Complete, with 1 value not as asked for (step ${step})`, 'noted'), ...equal(done.status, 0, done.told)];
  });
  await checks.check('work: a change to signed work says whose signatures are dropped', async () => {
    const lapse = async (signed) => {
      await page.evaluate((signed) => { const s = window.bayleafWork.read(); s.signed = signed; window.bayleafWork.take(s); window.bayleafWork.change((s) => { s.order.odometer = `${s.order.odometer || ''}1`; }); }, signed);
      return says(page);
    };
    const both = await lapse({ technician: true, inspector: true });
    const one = await lapse({ technician: true });
    return [...unless(/signatures of the technician and of the inspector are dropped/.test(both), both), ...unless(/the signature of the technician is dropped/.test(one) && !/inspector/.test(one), one)];
  });
  await checks.check('work: the name at a stop stands under its step as it was, and says what is missing of it', async () => {
    const before = await page.evaluate(() => { const s = window.bayleafWork.read(); window.bayleafWork.clear(); return s; });
    await go(page, await page.evaluate(() => [...document.querySelectorAll('.step')].find((s) => s.querySelector('.stop') && s.querySelector('.facts .tq') && !s.closest('[hidden]')).querySelector('h3 span').textContent));
    const name = () => page.inputValue('.now .stop input');
    await page.fill('.now .stop input', 'I. Invented');
    const lacks = await page.textContent('.now .stop .lacks');
    const kept = await name();
    await page.locator('.now .facts .passes .tick input').first().check();
    const said = await says(page);
    const dropped = await page.evaluate(() => { const s = window.bayleafWork.read(), id = document.querySelector('.now').id; return [s.holds[id] || '', s.heldAt[id] || '', !!s.ticks[`${id}/hold`]]; });
    await page.fill('.now .note input', 'a note');
    await page.fill('.now .stop input', 'I. Invented');
    await page.fill('.now .note input', 'another note');
    const again = await name();
    await page.evaluate((s) => window.bayleafWork.take(s), before);
    return [...unless(/^Signed, and still missing: .*not ticked.*no torque entered/.test(lacks), lacks), ...equal(kept, 'I. Invented', 'name'), ...unless(/the signature at the stop of step \d+ is dropped/.test(said), said),
      ...equal(dropped, ['', '', false], 'what is kept'), ...equal(again, 'I. Invented', 'a note changes nothing that was signed')];
  });
  await checks.check('work: a file that is opened is told, on the screen of the record', async () => {
    await go(page, 'Record');
    const text = await saved(page);
    await page.evaluate(() => window.bayleafWork.clear());
    await go(page, 'Record');
    await page.setInputFiles('#record-file', { name: 'record.json', mimeType: 'application/json', buffer: Buffer.from(text) });
    await page.waitForFunction(() => window.bayleafWork.read().touched);
    const where = await page.evaluate(() => document.querySelector('.bay-bar select').selectedOptions[0].text);
    return [...equal(where, 'Record', 'screen'), ...unless(/^Record opened: TH 0009, R\. Invented, begun on 2026-11-24\./.test(await says(page)), await says(page))];
  });
  await checks.check('work: opening begins at the vehicle, and the button of another tab follows', async () => {
    await page.evaluate(() => window.bayleafWork.clear());
    await enter(page, bases.http + SEAT);
    const focused = await page.evaluate(() => document.activeElement.textContent);
    await page.keyboard.press('Tab');
    const first = await page.evaluate(() => document.activeElement.id);
    const other = await ctx.newPage();
    await other.goto(bases.http + SEAT);
    const label = () => other.textContent('#bay');
    const before = await label();
    await page.fill('#order-order', '1');
    await other.waitForFunction(() => document.querySelector('#bay').textContent === 'Continue in the bay view');
    await page.evaluate(() => window.bayleafWork.clear());
    await other.waitForFunction(() => document.querySelector('#bay').textContent === 'Bay view');
    await other.close();
    return equal([focused, first, before], ['This vehicle', 'order-order', 'Bay view'], 'focus, first field, button');
  });
  await ctx.close();
}

async function waits({ checks, browser, bases, project }) {
  const ctx = await context(browser, { acceptDownloads: true });
  const page = await ctx.newPage();
  await checks.check('work: a wait that is ticked while its clock runs says so, is a gap until it is ticked anew after it, and stands in the record', async () => {
    await page.clock.install({ time: new Date('2026-11-25T10:00:00') });
    await enter(page, bases.http + SEAT);
    const wait = await page.evaluate(() => { const step = document.querySelector('[data-seconds]').closest('.step'); return { id: step.id, number: step.querySelector('.ball').textContent, title: step.querySelector('h3 span').textContent }; });
    await go(page, wait.title);
    await page.click('.now .clock .btn');
    await page.locator('.now .waits input').check();
    const early = await page.textContent('.now .clock .early');
    await go(page, 'Record');
    const gap = `Step ${wait.number}: the wait was ticked before its clock ran out`;
    const during = await listed(page);
    const shown = await page.textContent('.record');
    const text = await saved(page);
    const again = await page.evaluate((t) => window.bayleafWork.file(window.bayleafWork.open(t)), text);
    await page.evaluate(() => document.activeElement.blur());
    await page.clock.runFor(190_000);
    const over = await listed(page);
    const command = printRecord(project, text, '--form', 'full').told;
    await go(page, wait.title);
    await page.locator('.now .waits input').uncheck();
    await page.locator('.now .waits input').check();
    await go(page, 'Record');
    const after = await listed(page);
    const anew = JSON.parse(await saved(page)).waits[0].ticked;
    const full = printRecord(project, text, '--form', 'full');
    return [...equal(early, 'Ticked, and the clock still shows 3 min.', 'at the tick'), ...unless(during.includes(gap), `during: ${during}`), ...unless(over.includes(gap), `a wait that is over is no wait that was waited: ${over}`), ...unless(!after.some((t) => /clock/.test(t)), 'after'),
      ...unless(command.includes(gap), `the command: ${command}`), ...equal(anew, '2026-11-25 10:03', 'ticked anew'),
      ...equal(JSON.parse(text).waits, [{ step: wait.id, started: '2026-11-25 10:00', ended: '2026-11-25 10:03', ticked: '2026-11-25 10:00' }], 'waits'), ...unless(shown.includes(`Step ${wait.number}: clock from 2026-11-25 10:00 until 2026-11-25 10:03`), 'not on the page'),
      ...equal(again, text, 'read back and saved'), ...equal(full.status, 1, full.told)];
  });
  await ctx.close();
}

async function fields({ checks, browser, bases }) {
  const ctx = await context(browser, { viewport: { width: 390, height: 844 } });
  const page = await ctx.newPage();
  await checks.check('work: the band beside a torque is in the unit that is chosen or typed', async () => {
    await enter(page, bases.http + SEAT);
    const asked = await page.evaluate(() => { const tq = document.querySelector('.tq[data-low][data-high]'); return { title: tq.closest('.step').querySelector('h3 span').textContent, low: Number(tq.dataset.low), high: Number(tq.dataset.high) }; });
    await go(page, asked.title);
    const field = page.locator('.now .applied').first();
    const band = async (text) => { await field.locator('input[inputmode]').fill(text); return /: ([\d.]+) to ([\d.]+)\u00a0(.*)$/.exec(await field.locator('small').textContent()).slice(1); };
    const [low, high, unit] = await band('142 lb·in');
    await field.locator('input[inputmode]').fill('');
    await field.locator('select').selectOption('lb·in');
    const chosen = await band('142');
    const plain = await band('3 Nm');
    // NIST SP 811: 1 lbf·in = 0.112 984 829 N·m.
    const near = Math.abs(Number(low) - asked.low / 0.112984829) < 1 && Math.abs(Number(high) - asked.high / 0.112984829) < 1 && Number(low) >= asked.low / 0.112984829 - 1e-6 && Number(high) <= asked.high / 0.112984829 + 1e-6;
    return [...equal([unit, chosen], ['lb·in', [low, high, 'lb·in']], 'typed, and chosen'), ...unless(near, `${low} to ${high}, asked for ${asked.low} to ${asked.high} N·m`), ...equal(plain[2], 'N·m', 'typed over what is chosen')];
  });
  await checks.check('work: a phone shows what to read before what to tick, the stop last, no sources, and the revision whole', async () => {
    await go(page, await page.evaluate(() => [...document.querySelectorAll('.step')].find((s) => s.querySelector('.stop') && s.querySelector('.facts [data-op]') && !s.closest('[hidden]')).querySelector('h3 span').textContent));
    const tops = await page.evaluate(() => ['.now>header', '.now .say>div', '.now .facts', '.now .stop'].map((css) => Math.round(document.querySelector(css).getBoundingClientRect().top)));
    const sources = await page.$$eval('.now .source', (all) => all.filter((e) => e.offsetParent).length);
    const name = await page.evaluate(() => { const span = document.querySelector('.bay-bar .name span'); return { cut: span.scrollWidth > span.clientWidth || span.getBoundingClientRect().right > innerWidth, below: span.getBoundingClientRect().top >= document.querySelector('.bay-bar h1').getBoundingClientRect().bottom - 1 }; });
    return [...unless(tops.every((top, i) => i === 0 || top > tops[i - 1]), `tops ${tops}`), ...equal(sources, 0, 'sources'), ...equal(name, { cut: false, below: true }, 'revision')];
  });
  await checks.check('work: on a phone the figures of a torque stay on one line', async () => {
    const faults = [];
    for (const path of [SEAT, TOW]) {
      await enter(page, bases.http + path);
      const steps = await page.$$eval('.step .tq', (all) => [...new Set(all.map((tq) => tq.closest('.step').querySelector('h3 span').textContent))]);
      for (const step of steps) {
        await go(page, step);
        const broken = await page.$$eval('.now .tq .val > *', (all) => all.filter((e) => e.getClientRects().length > 1 || e.getBoundingClientRect().height > 1.6 * parseFloat(getComputedStyle(e).fontSize) || e.getBoundingClientRect().right > innerWidth).map((e) => e.textContent));
        faults.push(...broken.map((text) => `${step}: ${text}`));
      }
    }
    return faults;
  });
  await checks.check('work: the table tells whether the turn after a torque is ticked', async () => {
    const turn = await page.evaluate(() => { const pass = [...document.querySelectorAll('.in-passes>span')].find((e) => /°/.test(e.textContent)), dl = pass.closest('[data-op]'); return { op: dl.dataset.op, at: [...pass.parentNode.children].indexOf(pass) + 1, words: pass.textContent }; });
    const cell = () => page.evaluate((words) => [...document.querySelectorAll('.record [data-c=Applied]')].map((td) => td.textContent).find((t) => t.includes(words)), turn.words);
    await page.evaluate((t) => window.bayleafWork.change((s) => { s.torques[t.op] = { applied: '99.5 N·m', wrench: '', note: '' }; }), turn);
    await go(page, 'Record');
    const open = await cell();
    await page.evaluate((t) => window.bayleafWork.change((s) => { s.ticks[`${t.op}/pass/${t.at}`] = true; }), turn);
    return equal([open, await cell()], [`99.5 N·m; ${turn.words}: not ticked`, `99.5 N·m; ${turn.words}: ticked`], 'cells');
  });
  await checks.check('work: what is due later has no boxes in the bay, and ticks of older records stay', async () => {
    const boxes = await page.evaluate(() => ({ lines: document.querySelectorAll('#follow-up+.ticks li').length, boxes: document.querySelectorAll('#follow-up+.ticks input').length, final: document.querySelectorAll('#final-checks+.ticks input').length }));
    const kept = await page.evaluate(() => { const s = window.bayleafWork.read(); s.ticks['follow-up/1'] = true; return window.bayleafWork.open(window.bayleafWork.file(s)).ticks['follow-up/1']; });
    return [...unless(boxes.lines > 0 && boxes.final > 0, JSON.stringify(boxes)), ...equal([boxes.boxes, kept], [0, true], 'boxes, kept')];
  });
  await checks.check('work: a large picture is twice as wide as a phone, moves in its frame, and its button lies above it', async () => {
    await page.goto(bases.http + SEAT);
    await page.locator('a.zoom').first().click();
    const found = await page.evaluate(() => {
      const d = document.querySelector('dialog.large'), pan = d.querySelector('.pan'), img = d.querySelector('img').getBoundingClientRect(), close = d.querySelector('.btn').getBoundingClientRect();
      return { wide: img.width >= 2 * innerWidth, pans: pan.scrollWidth > pan.clientWidth && getComputedStyle(pan).overflowX === 'auto', above: close.bottom <= pan.getBoundingClientRect().top + 0.5, inside: close.left >= 0 && close.right <= innerWidth && close.top >= 0, page: document.documentElement.scrollWidth <= innerWidth };
    });
    return equal(found, { wide: true, pans: true, above: true, inside: true, page: true }, 'picture');
  });
  await ctx.close();
}

// The device's key for going back, what is said once, and what a card shows.
async function ways({ checks, browser, bases }) {
  const ctx = await context(browser, { viewport: { width: 390, height: 844 }, hasTouch: true });
  const page = await ctx.newPage();
  const screen = () => page.evaluate(() => (document.documentElement.classList.contains('in-bay') ? document.querySelector('.bay-bar select').selectedOptions[0].text : 'the guide'));
  await checks.check('work: going back turns one screen back, then shows the guide, and never leaves the page', async () => {
    await page.goto(`${bases.http}index.html`);
    await page.goto(bases.http + SEAT);
    await page.click('#bay');
    await page.waitForSelector('.bay-foot');
    const seen = [await screen()];
    await page.click('.bay-foot .next');
    await page.click('.bay-foot .next');
    seen.push(await screen());
    for (let n = 0; n < 3; n++) { await page.goBack(); await page.waitForTimeout(100); seen.push(await screen()); }
    await page.goForward();
    await page.waitForTimeout(100);
    seen.push(await screen());
    const still = page.url().includes(SEAT);
    return [...equal([seen[0], seen[3], seen[4], seen[5]], ['Before you start', 'Before you start', 'the guide', 'Before you start'], 'screens'), ...unless(/^2\. /.test(seen[1]) && /^1\. /.test(seen[2]), seen.join(' | ')), ...unless(still, page.url())];
  });
  await checks.check('work: going back closes a picture and leaves what lies under it', async () => {
    const faults = [];
    for (const way of ['key', 'button']) {
      await page.goto(`${bases.http}index.html`);
      await page.goto(bases.http + SEAT);
      await page.locator('a.zoom').first().click();
      await page.waitForSelector('dialog.large[open]');
      if (way === 'key') await page.goBack(); else await page.click('dialog.large .btn');
      await page.waitForFunction(() => !document.querySelector('dialog.large'));
      await page.waitForTimeout(100);
      faults.push(...unless(page.url().includes(SEAT), `${way}: ${page.url()}`));
      await page.goBack();
      await page.waitForURL(/index\.html$/);
      faults.push(...unless(!page.url().includes('/guides/'), `${way}: one entry too many, ${page.url()}`));
    }
    return faults;
  });
  await checks.check('work: the name at a stop is asked for until it is there', async () => {
    await enter(page, bases.http + SEAT);
    await go(page, await titleOf(page, '.stop'));
    await page.click('.bay-foot .next');
    const asked = await says(page);
    await page.fill('.now .stop input', 'I. Invented');
    return [...unless(/Enter the name here first/.test(asked), asked), ...unless(!/Enter the name/.test(await says(page)), await says(page))];
  });
  await checks.check('work: a card with a torque that is not the one asked for is not done, and its verdict is on view over the keyboard', async () => {
    await go(page, await titleOf(page, '[data-op] .tq'));
    await page.locator('.now .tick:near(.tq) input').first().isVisible();
    const op = await page.evaluate(() => document.querySelector('.now [data-op] .tq').closest('[data-op]').dataset.op);
    const card = page.locator(`[data-op="${op}"]`);
    await page.evaluate((op) => document.querySelector(`input[data-tick="${op}"]`).click(), op);
    const before = await card.evaluate((el) => el.classList.contains('done'));
    await page.setViewportSize({ width: 390, height: 420 });
    const field = card.locator('.applied input').first();
    await field.scrollIntoViewIfNeeded();
    await field.focus();
    await field.type('400');
    const found = await card.evaluate((el) => {
      const verdict = el.querySelector('.verdict').getBoundingClientRect(), foot = document.querySelector('.bay-foot').getBoundingClientRect();
      return { done: el.classList.contains('done'), wrong: el.classList.contains('wrong'), shown: verdict.height > 0 && verdict.bottom <= (foot.height ? foot.top : innerHeight) + 1 && verdict.top >= 0 };
    });
    await card.locator('.applied .entry:not(.wrench) input').fill('the bolt was replaced');
    const noted = await card.evaluate((el) => el.classList.contains('done'));
    await page.setViewportSize({ width: 390, height: 844 });
    return [...equal(before, true, 'done before'), ...equal(found, { done: false, wrong: true, shown: true }, 'with a wrong torque'), ...equal(noted, true, 'with a word why')];
  });
  await checks.check('work: a wait stands in a card of its own, and other options are offered only where some were chosen', async () => {
    const cards = await page.$$eval('.waits', (all) => all.map((dl) => [...dl.querySelectorAll('dt')].map((dt) => dt.textContent).join()));
    await page.evaluate(() => window.bayleafOptions.choose({ with: ['heated-seat'], without: [] }));
    await page.goto(bases.http + SEAT);
    await page.click('#bay');
    await page.waitForSelector('.bay-foot');
    const plain = await says(page);
    await page.goto(`${bases.http}${SEAT}?without=heated-seat`);
    await page.click('#bay');
    await page.waitForSelector('.bay-foot');
    return [...unless(cards.length > 0 && cards.every((names) => names === 'Wait'), cards.join(' | ')), ...unless(!/other options/.test(plain) && /Going on/.test(plain), plain), ...unless(/other options/.test(await says(page)), await says(page))];
  });
  await ctx.close();
}

export async function work(run) {
  if (!built(run.project)) {
    run.checks.skip('work', 'the program is not built, neither for release nor for debugging');
    return;
  }
  await revisions(run);
  await stops(run);
  await entries(run);
  await waits(run);
  await fields(run);
  await ways(run);
}
