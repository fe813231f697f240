// Tests of the pages over several guides, and of pictures shown large: what the first screen of the front page holds, that each list
// names the guides it should, that part numbers are found with dashes and without, and that a picture opens and closes by keyboard.

import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { context, equal, guidesOf, read, unless } from './harness.mjs';
import { TAGS, judge, overflow } from './screen.mjs';

const guides = (site) => guidesOf(site).map((slug) => JSON.parse(read(site, `guides/${slug}/guide.json`)));

async function front({ checks, browser, bases }) {
  for (const [width, height] of [[390, 844], [1440, 900]]) {
    await checks.check(`front: what matters stands on the first screen, ${width} by ${height}`, async () => {
      const ctx = await context(browser, { viewport: { width, height } });
      const page = await ctx.newPage();
      await page.goto(`${bases.file}index.html`);
      const below = await page.evaluate((end) => ['#q', '.finder nav:nth-of-type(1) a', '.finder nav:nth-of-type(2) a', '.finder a[href="parts.html"]',
        '.newest li:nth-child(1)', '.newest li:nth-child(2)', '.cells time', '.cells .print'].filter((s) => {
        const all = [...document.querySelectorAll(s)];
        return !all.length || all.some((e) => e.getBoundingClientRect().bottom > end || !e.checkVisibility());
      }), height);
      await ctx.close();
      return below.map((s) => `${s} stands below the first screen`);
    });
  }
}

// On a phone a labelled cell is a grid of label and content: content in two pieces would put the second under the label.
async function cells({ checks, browser, site, bases }) {
  await checks.check('tables: what stands behind a label is one piece, so that half a torque cannot stand under it', async () => {
    const ctx = await context(browser, { viewport: { width: 390, height: 844 } });
    const page = await ctx.newPage();
    const faults = [];
    let seen = 0;
    for (const path of [...guidesOf(site).flatMap((slug) => [`guides/${slug}/index.html`, `guides/${slug}/torque.html`]), 'tools.html']) {
      await page.goto(bases.file + path);
      const found = await page.evaluate(() => {
        const all = [...document.querySelectorAll('.wide td[data-c]')];
        const pieces = (td) => [...td.childNodes].filter((n) => n.nodeType === 1 || n.textContent.trim()).length;
        return { all: all.length, torn: all.filter((td) => pieces(td) > 1).map((td) => td.getAttribute('data-c')) };
      });
      seen += found.all;
      faults.push(...found.torn.map((cell) => `${path}: ${cell} is in pieces`));
    }
    await ctx.close();
    return [...faults, ...unless(seen > 200, `only ${seen} cells were seen`)];
  });
}

async function groups({ checks, browser, site, bases }) {
  const all = guides(site);
  const ctx = await context(browser);
  const page = await ctx.newPage();
  const listed = async (path) => {
    await page.goto(bases.file + path);
    return page.locator('.register .job a').evaluateAll((links) => links.map((a) => new URL(a.href).pathname.split('/').at(-2)).sort());
  };
  await checks.check('lists: the register names every guide', async () => equal(await listed('index.html'), all.map((g) => g.slug).sort(), 'guides'));
  await checks.check('lists: the front page leads to the values by thread', async () => {
    await page.goto(`${bases.file}index.html`);
    await page.locator('.finder').getByRole('link', { name: 'Values by thread' }).click();
    return equal(await page.locator('h1').innerText(), 'Torque values by thread', 'heading');
  });
  const vehicles = new Map(all.flatMap((g) => g.fits).map((v) => [v.id, v.name]));
  for (const [id, name] of vehicles) {
    await checks.check(`lists: vehicle ${id}`, async () => [
      ...equal(await listed(`vehicles/${id}.html`), all.filter((g) => g.fits.some((v) => v.id === id)).map((g) => g.slug).sort(), 'guides'),
      ...equal(await page.locator('h1').innerText(), name, 'heading'),
      ...unless(await page.locator(`a[href="../values/${id}.html"]`).count() === 1, 'no link to its values')]);
  }
  await checks.check('lists: systems', async () => {
    await page.goto(`${bases.file}systems.html`);
    const systems = await page.locator('tbody th a').evaluateAll((links) => links.map((a) => [a.textContent, a.getAttribute('href')]));
    const faults = equal(systems.map(([name]) => name).sort(), [...new Set(all.map((g) => g.system))].sort(), 'systems');
    for (const [name, path] of systems) faults.push(...equal(await listed(path), all.filter((g) => g.system === name).map((g) => g.slug).sort(), name));
    return faults;
  });
  await checks.check('lists: every part, with dashes and without, leads to a step that exists', async () => {
    await page.goto(`${bases.file}parts.html`);
    const text = (await page.locator('main').innerText()).split('\n').map((line) => line.trim());
    const wanted = all.flatMap((g) => g.parts).filter((p) => p.number);
    const links = await page.locator('.parts small a').evaluateAll((found) => found.map((a) => a.getAttribute('href')));
    return [...unless(wanted.length > 5 && links.length > 10, 'hardly any part'),
      ...wanted.flatMap((p) => [p.number, p.number.replace(/[^\p{L}\p{N}]/gu, '').toUpperCase()]).filter((n) => !text.some((line) => line.split(/\s/).includes(n))).map((n) => `${n} is not listed`),
      ...all.flatMap((g) => g.hardware).filter((h) => !text.some((line) => line.startsWith(h.name))).map((h) => `${h.name} is not listed`)];
  });
  await checks.check('lists: what is new has every issued revision, newest first', async () => {
    await page.goto(`${bases.file}new.html`);
    const days = await page.locator('.day h2 time').evaluateAll((times) => times.map((t) => t.dateTime));
    const rows = await page.locator('.register li').count();
    const wanted = all.reduce((sum, g) => sum + new Set([g.revision, ...g.changes.filter((c) => c.issued).map((c) => c.revision)]).size, 0);
    return [...equal(days, [...days].sort().reverse(), 'days'), ...equal(rows, wanted, 'revisions')];
  });
  await ctx.close();
}

async function pictures({ checks, browser, site, bases }) {
  const slug = guides(site).find((g) => g.phases.some((p) => p.steps.some((s) => s.pictures.some((q) => q.callouts.length)))).slug;
  const path = `guides/${slug}/index.html`;
  for (const colorScheme of ['light', 'dark']) {
    await checks.check(`pictures: shown large by keyboard, ${colorScheme}`, async () => {
      const ctx = await context(browser, { colorScheme, viewport: { width: 390, height: 844 } });
      const page = await ctx.newPage();
      await page.goto(bases.file + path);
      const link = page.locator('a.zoom:has(.pins)').first();
      await link.focus();
      await page.keyboard.press('Enter');
      const shown = page.locator('dialog[open]');
      await shown.waitFor();
      const rules = await judge(page);
      const faults = [...await rules({ type: 'tag', values: TAGS }, 10), ...await overflow(page)];
      const file = (await link.getAttribute('href'));
      faults.push(...equal(await shown.locator('img').getAttribute('src').then((s) => s.split('/').at(-1)), file, 'the largest file is shown'),
        ...equal(await shown.locator('.pins text').count(), await shown.locator('.called li').count(), 'balloons and their words'),
        ...unless(await shown.evaluate((d) => d.contains(document.activeElement)), 'the focus is not in the dialog'));
      await page.keyboard.press('Escape');
      await shown.waitFor({ state: 'detached' });
      faults.push(...unless(await link.evaluate((a) => a === document.activeElement), 'the focus does not come back'));
      await page.keyboard.press('Enter');
      await page.getByRole('button', { name: 'Close' }).click();
      const closed = await page.locator('dialog').waitFor({ state: 'detached', timeout: 5000 }).then(() => true, () => false);
      faults.push(...unless(closed, 'the button does not close it'));
      await ctx.close();
      return faults;
    });
  }
  await checks.check('pictures: without scripts each leads to its largest file, and only the first loads at once', async () => {
    const html = read(site, path);
    const links = [...html.matchAll(/<a class="zoom" href="([^"]+)"/g)].map((m) => m[1]);
    const images = [...html.matchAll(/<img [^>]*>/g)].map((m) => m[0]);
    return [...unless(links.length > 3, 'hardly any picture'), ...links.filter((l) => !existsSync(join(site, `guides/${slug}`, l))).map((l) => `no such file: ${l}`),
      ...equal(images.map((i) => i.includes('loading="lazy"')), images.map((_, at) => at > 0), 'lazy')];
  });
  await checks.check('pictures: balloons lie on the picture, and their points where the guide says', async () => {
    const ctx = await context(browser);
    const page = await ctx.newPage();
    await page.goto(bases.file + path);
    const found = await page.locator('.pic').evaluateAll((all) => all.map((pic) => {
      const frame = pic.querySelector('img').getBoundingClientRect();
      const round = [...pic.querySelectorAll('circle')].map((c) => c.getBoundingClientRect());
      const inside = round.every((r) => r.left > frame.left - 2 && r.right < frame.right + 2 && r.top > frame.top - 2 && r.bottom < frame.bottom + 2);
      const dots = [...pic.querySelectorAll('circle[r="9"]')].map((c) => c.getBoundingClientRect());
      return { inside, at: dots.map((r) => [(r.left + r.width / 2 - frame.left) / frame.width, (r.top + r.height / 2 - frame.top) / frame.height]) };
    }));
    const wanted = JSON.parse(read(site, `guides/${slug}/guide.json`)).phases.flatMap((p) => p.steps).flatMap((s) => s.pictures).filter((p) => p.callouts.length).map((p) => p.callouts.map((c) => [c.x, c.y]));
    await ctx.close();
    const near = found.length === wanted.length && found.every((one, i) => one.at.every(([x, y], j) => Math.hypot(x - wanted[i][j][0], y - wanted[i][j][1]) < 0.01));
    return [...unless(found.every((one) => one.inside), 'a balloon hangs over the edge'), ...unless(near, `found ${JSON.stringify(found)}`)];
  });
}

export async function lists(run) {
  await cells(run);
  await front(run);
  await groups(run);
  await pictures(run);
}
