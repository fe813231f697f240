// Tests of the printed checklists: the paper, what each sheet carries, and that nothing that belongs
// together is torn apart. A guide that is held must say so on every sheet.

import { execFileSync, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { built, context, equal, fileBase, guidesOf, pool, unless } from './harness.mjs';

// ISO 216 A4 and ANSI/ASME Y14.1 Letter in points.
const PAPERS = { a4: [595.28, 841.89], letter: [612, 792] };

// White space and ligatures differ between a page and its print, so both are compared without them.
export const bare = (text) => text.normalize('NFKC').replace(/\s+/g, '');

export async function printed(page, folder, name) {
  const file = join(folder, `${name}.pdf`);
  await page.pdf({ path: file, preferCSSPageSize: true, printBackground: false });
  const info = execFileSync('pdfinfo', ['-f', '1', '-l', '999', file], { encoding: 'utf8' });
  const sizes = [...info.matchAll(/^Page\s+\d+ size:\s+([\d.]+) x ([\d.]+)/gm)].map((m) => [Number(m[1]), Number(m[2])]);
  // The order of the content stream is the order of the page's source, whatever columns it has.
  const text = execFileSync('pdftotext', ['-raw', '-enc', 'UTF-8', file, '-'], { encoding: 'utf8' });
  return { sizes, texts: text.split('\f').slice(0, sizes.length), file };
}

// How far to the right the words of a print reach, in points.
export function reach(file) {
  const words = execFileSync('pdftotext', ['-bbox', '-enc', 'UTF-8', file, '-'], { encoding: 'utf8' });
  return Math.max(...[...words.matchAll(/ xMax="([\d.]+)"/g)].map((m) => Number(m[1])));
}

// What the source promises, in its order: each item is a heading, a caution or an operation with the
// pieces of its text. A piece ends where the style puts a sign or another order between the words.
const promised = (page) => page.evaluate(() => {
  function pieces(root) {
    const out = [];
    let last = null;
    const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      if (!node.data.trim()) continue;
      const host = node.parentElement;
      // A drawing's title and description are for who cannot see it; they are not printed, its numbers are.
      if (host.closest('svg title, svg desc')) continue;
      // That a value is a limit is said once, before the units that lead: the shop's are metric.
      if (host.matches('.val .u .lim')) continue;
      const alone = host.closest('.val > *') ?? host.closest('.spec > span');
      const group = alone ?? (host.closest('svg') ? host : host.closest('p, h3, th, small, div'));
      if (group === last) out[out.length - 1] += node.data;
      else out.push(node.data);
      last = group;
    }
    return out;
  }
  const items = [];
  document.querySelectorAll('.step').forEach((step, n) => {
    items.push({ kind: 'heading', step: n, pieces: pieces(step.querySelector('h3')) });
    for (const child of step.children) {
      if (child.matches('.panel')) items.push({ kind: 'caution', step: n, pieces: [...pieces(child.querySelector('.why')), ...pieces(child.querySelector('.word'))] });
      if (child.matches('.op')) items.push({ kind: 'operation', step: n, pieces: pieces(child), torque: !!child.querySelector('.v') });
    }
  });
  const text = (s) => document.querySelector(s)?.textContent ?? '';
  return {
    items,
    // Cautions for the whole job stand before the steps.
    first: [...document.querySelectorAll('.first .panel .why')].map(pieces),
    fingerprint: text('.tb .print'),
    document: [...document.querySelectorAll('.tb > div')].find((d) => d.firstChild.textContent === 'Document').querySelector('b').textContent,
    title: text('.tb h1'),
    foot: text('.tf b'),
  };
});

function size(paper, sizes) {
  const [w, h] = PAPERS[paper];
  return [...unless(sizes.length > 1, 'hardly any sheet'), ...sizes.flatMap(([a, b], i) =>
    unless(Math.abs(a - w) <= 1 && Math.abs(b - h) <= 1, `sheet ${i + 1} is ${a} × ${b} pt`))];
}

function marks(want, texts) {
  return texts.flatMap((text, i) => {
    const has = bare(text);
    const twice = has.split(bare(want.fingerprint)).length > 2;
    return [
      ...unless(has.includes(bare(want.document)), `sheet ${i + 1} lacks the document number ${want.document}`),
      ...unless(has.includes(bare(want.title)), `sheet ${i + 1} lacks the title`),
      ...unless(twice, `sheet ${i + 1} lacks the fingerprint ${want.fingerprint} at the head or the foot`),
      ...unless(has.includes(bare(want.foot)), `sheet ${i + 1} lacks the foot`),
      ...unless(new RegExp(`(^|\\s)${i + 1} of ${texts.length}(\\s|$)`).test(text), `sheet ${i + 1} lacks “${i + 1} of ${texts.length}”`),
    ];
  });
}

// Each item is looked for behind the one before it. Its first piece must stand on one sheet in one run,
// and its other pieces between there and the next item on the same sheet.
function order(items, texts) {
  const sheets = texts.map(bare);
  const faults = { order: [], torn: [], apart: [] };
  let at = { sheet: 0, from: 0 };
  const found = items.map((item) => {
    const lead = bare(item.pieces[0]);
    for (let s = at.sheet; s < sheets.length; s++) {
      const hit = sheets[s].indexOf(lead, s === at.sheet ? at.from : 0);
      if (hit >= 0) {
        at = { sheet: s, from: hit + lead.length };
        return { sheet: s, start: hit };
      }
    }
    faults.order.push(`${item.kind} of step ${item.step + 1} not found in order on one sheet: ${item.pieces[0].trim().slice(0, 70)}`);
    return null;
  });
  items.forEach((item, i) => {
    if (!found[i]) return;
    const { sheet, start } = found[i];
    const next = found.slice(i + 1).find(Boolean);
    // The signal word of a panel may come before its text in the print.
    const room = sheets[sheet].slice(Math.max(0, start - (item.kind === 'caution' ? 12 : 0)), next?.sheet === sheet ? next.start : undefined);
    for (const piece of item.pieces) {
      if (!room.includes(bare(piece))) faults.torn.push(`${item.kind} of step ${item.step + 1}, sheet ${sheet + 1}, lacks: ${piece.trim().slice(0, 60)}`);
    }
    const heading = items.findIndex((h) => h.kind === 'heading' && h.step === item.step);
    if (item.kind === 'caution' && found[heading]?.sheet !== sheet) faults.apart.push(`a caution of step ${item.step + 1} is on sheet ${sheet + 1}, its heading is not`);
  });
  return faults;
}

async function sheets({ checks, browser, site, bases }, folder) {
  const ctx = await context(browser);
  const jobs = guidesOf(site).flatMap((slug) => Object.keys(PAPERS).map((paper) => async () => {
    const name = `${slug} ${paper}`;
    const page = await ctx.newPage();
    try {
      await page.goto(`${bases.file}guides/${slug}/checklist.html#paper-${paper}`);
      const want = await promised(page);
      const { sizes, texts } = await printed(page, folder, `${slug}-${paper}`);
      const faults = order(want.items, texts);
      const count = (kind) => want.items.filter((i) => i.kind === kind).length;
      await checks.check(`print, paper: ${name}`, () => size(paper, sizes));
      await checks.check(`print, every sheet is marked: ${name}`, () => marks(want, texts));
      await checks.check(`print, operations in order: ${name}`, () => [...unless(count('operation') >= count('heading') / 2, 'hardly any operation'),
        ...unless(want.items.some((i) => i.torque), 'no torque'), ...faults.order]);
      await checks.check(`print, rows and cautions whole: ${name}`, () => faults.torn);
      await checks.check(`print, cautions with their steps: ${name}`, () => [...unless(count('caution') > 0, 'no caution'), ...faults.apart]);
      await checks.check(`print, cautions of the whole job: ${name}`, () => want.first.flatMap((pieces) =>
        unless(texts.some((t) => pieces.every((p) => bare(t).includes(bare(p)))), `not whole on one sheet: ${pieces[0].slice(0, 70)}`)));
    } catch (error) {
      await checks.check(`print: ${name}`, () => { throw error; });
    }
    await page.close();
  }));
  await pool(jobs);
  await ctx.close();
}

async function held({ checks, browser, site, project }, folder) {
  const slug = guidesOf(site)[0];
  const draft = join(folder, 'draft');
  const program = built(project);
  if (!program) {
    checks.skip('held: drafts', 'the program is not built, neither for release nor for debugging');
    return;
  }
  const ctx = await context(browser);
  await checks.check('held: a draft is published', () => {
    // Links are followed while copying, so that the misspelt word goes into the copy alone.
    cpSync(join(project, 'guides'), join(folder, 'guides'), { recursive: true, dereference: true });
    // What was issued would stay on the site.
    rmSync(join(folder, 'guides', slug, 'issued'), { recursive: true, force: true });
    const source = join(folder, 'guides', slug, 'guide.md');
    const text = readFileSync(source, 'utf8');
    const wrong = text.replace(/^(approved|issued|system|summary|fits)(\s*=)/m, '$1x$2');
    writeFileSync(source, wrong);
    const plain = spawnSync(program, ['-C', folder, 'publish', '--to', join(folder, 'plain')], { encoding: 'utf8' });
    const done = spawnSync(program, ['-C', folder, 'publish', '--unreleased', '--to', draft], { encoding: 'utf8' });
    return [...unless(wrong !== text, 'no key to misspell'), ...unless(existsSync(join(draft, 'guides', slug, 'index.html')), `no draft: ${done.stderr.slice(0, 300)}`),
      ...unless(!existsSync(join(folder, 'plain', 'guides', slug)), `published without asking for drafts: ${plain.stdout.slice(0, 200)}`)];
  });
  for (const path of [...Object.keys(PAPERS).map((p) => `checklist.html#paper-${p}`), 'index.html', 'torque.html']) {
    await checks.check(`held: NOT RELEASED on every sheet of ${path}`, async () => {
      const page = await ctx.newPage();
      await page.goto(`${fileBase(draft)}guides/${slug}/${path}`);
      const shown = await page.locator('.held').isVisible();
      const { texts } = await printed(page, folder, `held-${path}`);
      await page.close();
      return [...unless(shown, 'not shown on the screen'), ...unless(texts.length > 0, 'nothing printed'),
        ...texts.flatMap((t, i) => unless(bare(t).includes('NOTRELEASED'), `sheet ${i + 1} of ${texts.length} does not say it`))];
    });
  }
  await checks.check('held: a released guide does not say it', async () => {
    const page = await ctx.newPage();
    await page.goto(`${fileBase(draft)}guides/${guidesOf(draft).find((s) => s !== slug)}/checklist.html`);
    const said = await page.locator('.held').count();
    await page.close();
    return equal(said, 0, 'marks');
  });
  await ctx.close();
}

export async function print(run) {
  const folder = mkdtempSync(join(tmpdir(), 'bayleaf-print-'));
  try {
    await sheets(run, folder);
    await held(run, folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
