// Tests that what stands in two places is the same: the guide's page and its printed checklist, times in
// words and for machines, and the stated and the true size of each picture.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { context, equal, guidesOf, pool, unless } from './harness.mjs';
import { bare, printed } from './print.mjs';

// Each operation as the guide's page shows it: verb with thing, then its torque in every unit order.
const operations = (page) => page.evaluate(() => [...document.querySelectorAll('.step')].flatMap((step, n) =>
  [...step.querySelectorAll('.facts dl')].filter((dl) => dl.querySelector('dt.do')).map((dl) => {
    // A verb without a thing acts on its hardware, which then stands first.
    const thing = [...dl.querySelector('dd.do').childNodes].find((c) => c.textContent.trim() && !c.matches?.('.opt'));
    return {
      step: n + 1,
      words: `${dl.querySelector('dt.do').textContent} ${thing.textContent}`,
      torque: [...dl.querySelectorAll('.tq .val > *')].map((e) => e.textContent),
    };
  })));

// Every operation is looked for behind the one before it, and its torque before the next one.
function inOrder(wanted, text) {
  const faults = [];
  let from = 0;
  wanted.forEach(({ step, words, torque }, i) => {
    const at = text.indexOf(bare(words), from);
    if (at < 0) {
      faults.push(`step ${step}: “${words}” does not follow in the print`);
      return;
    }
    from = at + bare(words).length;
    const next = wanted[i + 1] ? text.indexOf(bare(wanted[i + 1].words), from) : -1;
    const row = text.slice(from, next < 0 ? undefined : next);
    for (const value of torque) faults.push(...unless(row.includes(bare(value)), `step ${step}: “${words}” lacks ${value}`));
  });
  return faults;
}

async function sheetsSayWhatThePageSays({ checks, browser, site, bases }) {
  const folder = mkdtempSync(join(tmpdir(), 'bayleaf-agree-'));
  const ctx = await context(browser);
  await pool(guidesOf(site).map((slug) => async () => {
    const page = await ctx.newPage();
    await page.goto(`${bases.file}guides/${slug}/index.html`);
    const wanted = await operations(page);
    for (const paper of ['a4', 'letter']) {
      await checks.check(`agree, page and sheets: ${slug} ${paper}`, async () => {
        await page.goto(`${bases.file}guides/${slug}/checklist.html#paper-${paper}`);
        const { texts } = await printed(page, folder, `${slug}-${paper}`);
        const torques = wanted.filter((o) => o.torque.length).length;
        return [...unless(wanted.length > 10 && torques > 2, `only ${wanted.length} operations and ${torques} torques on the page`),
          ...inOrder(wanted, bare(texts.join('')))];
      });
    }
    await checks.check(`agree, a box for each operation: ${slug}`, async () => {
      await page.emulateMedia({ media: 'print' });
      const rows = await page.evaluate(() => [...document.querySelectorAll('.step .op')].map((row) => {
        const box = row.querySelector(':scope > .box');
        const { width, height } = box?.getBoundingClientRect() ?? {};
        // A pen needs a frame and some four millimetres.
        return box?.checkVisibility() && Math.min(width, height) > 15 && parseFloat(getComputedStyle(box).borderTopWidth) >= 1;
      }));
      return [...equal(rows.length, wanted.length, 'rows'), ...equal(rows.filter(Boolean).length, wanted.length, 'boxes')];
    });
    await page.close();
  }));
  await ctx.close();
  rmSync(folder, { recursive: true, force: true });
}

// The longer end of a range, because a machine that plans needs the time that is surely enough.
function minutesOf(words) {
  const last = words.replace(/\s/g, ' ').split(' to ').pop();
  const part = (unit) => Number(new RegExp(`([\\d.]+) ${unit}\\b`).exec(last)?.[1] ?? 0);
  return part('h') * 60 + part('min');
}

function minutesIn(iso) {
  const m = /^PT(?=\d)(?:(\d+)H)?(?:(\d+)M)?$/.exec(iso);
  return m ? Number(m[1] ?? 0) * 60 + Number(m[2] ?? 0) : NaN;
}

async function timesAndPictures({ checks, browser, site, bases }) {
  const ctx = await context(browser);
  await checks.check('agree, times: the readers of both forms', () => equal(
    [minutesOf('5 h 30 min to 6 h 30 min'), minutesOf('3 min'), minutesIn('PT6H30M'), minutesIn('PT3M'), String(minutesIn('P3M')), String(minutesIn('PT'))],
    [390, 3, 390, 3, 'NaN', 'NaN'], 'minutes'));
  for (const slug of guidesOf(site)) {
    const page = await ctx.newPage();
    await page.goto(`${bases.file}guides/${slug}/index.html`);
    await checks.check(`agree, times: ${slug}`, async () => {
      const times = await page.evaluate(() => [...document.querySelectorAll('time')].map((t) =>
        ({ words: t.textContent.trim(), iso: t.getAttribute('datetime') ?? '', total: t.getAttribute('itemprop') === 'totalTime' })));
      const days = times.filter((t) => /\d{4}$/.test(t.words));
      const spans = times.filter((t) => !days.includes(t));
      return [
        ...equal(spans.filter((t) => t.total).length, 1, 'total times'),
        ...unless(days.length > 0 && spans.length > 5, `only ${days.length} days and ${spans.length} times`),
        ...spans.flatMap((t) => equal(minutesIn(t.iso), minutesOf(t.words), `minutes of “${t.words}” (${t.iso})`)),
        ...days.flatMap((t) => unless(/^\d{4}-\d\d-\d\d$/.test(t.iso) && new Date(`${t.iso}T00:00:00Z`).getTime() === new Date(`${t.words} UTC`).getTime(),
          `“${t.words}” and ${t.iso} are not one day`)),
      ];
    });
    await checks.check(`agree, size of pictures: ${slug}`, async () => {
      const pictures = await page.evaluate(async () => {
        const out = [];
        for (const img of document.images) {
          img.loading = 'eager';
          await img.decode();
          out.push({ src: img.getAttribute('src'), alt: img.alt.trim(), stated: [img.getAttribute('width'), img.getAttribute('height')].map(Number), shape: img.naturalWidth / img.naturalHeight });
        }
        return out;
      });
      return [...unless(pictures.length > 2, `only ${pictures.length} pictures`), ...pictures.flatMap(({ src, alt, stated: [w, h], shape }) => [
        ...unless(alt.length > 10, `${src} has hardly any words`),
        // A wrong shape would make the page jump as surely as a missing size.
        ...unless(w > 0 && h > 0 && Math.abs(w / h / shape - 1) < 0.01, `${src} is stated as ${w} × ${h}, its shape is ${shape.toFixed(3)}`),
      ])];
    });
    await page.close();
  }
  await ctx.close();
}

export async function agree(run) {
  await sheetsSayWhatThePageSays(run);
  await timesAndPictures(run);
}
