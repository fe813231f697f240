// Tests of a guide with a history: a record that was made to an older issue is printed against that issue, paper of an older revision
// leads to what has changed since, and the pages of older revisions can be read by everybody. The site is published for this test,
// because a new revision is issued while a record is kept.

import { execFileSync, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { built, context, equal, serve, unless } from './harness.mjs';
import { enter, fill, go, saved } from './record.mjs';
import { TAGS, judge, overflow } from './screen.mjs';

const SLUG = 'swivel-seat-base';
const GUIDE = `guides/${SLUG}/index.html`;

export async function history({ checks, browser, project }) {
  const program = built(project);
  if (!program) {
    checks.skip('the history of a guide', 'the program is not built');
    return;
  }
  const home = mkdtempSync(join(tmpdir(), 'history-'));
  cpSync(join(project, 'guides'), join(home, 'guides'), { recursive: true });
  const run = (...words) => execFileSync(program, ['-C', home, ...words], { stdio: ['ignore', 'ignore', 'pipe'] });
  const file = join(home, 'guides', SLUG, 'guide.md');
  const revision = /^revision = "([A-Z])"/m.exec(readFileSync(file, 'utf8'))[1];
  const next = String.fromCharCode(revision.charCodeAt(0) + 1);
  if (!existsSync(join(home, 'guides', SLUG, 'issued', `${revision}.issue`))) run('issue', SLUG);
  run('publish', '--no-sheets');
  const server = await serve(join(home, 'site'));
  const ctx = await context(browser, { acceptDownloads: true });
  const page = await ctx.newPage();
  try {
    let text = '';
    await checks.check('history: a record is made to the revision of today', async () => {
      await enter(page, server.base + GUIDE);
      await page.evaluate(() => window.bayleafOptions.choose({ with: [], without: ['heated-seat'] }));
      await fill(page);
      await go(page, 'Record');
      text = await saved(page);
      return equal(JSON.parse(text).guide.revision, revision, 'the revision in the record');
    });
    // The next revision: one torque is another one, and told.
    const guide = readFileSync(file, 'utf8').replace(/^revision = ".*"/m, `revision = "${next}"`).replace(/^issued   = .*/m, 'issued   = 2027-03-01')
      .replace('spec.seat-bolt = "45 N·m (33 lb·ft);', 'spec.seat-bolt = "46 N·m (34 lb·ft);')
      .replace(/(what     = "Looms are led[^\n]*\n(?:anew[^\n]*\n)?)/, `$1\n[change.${next}]\nissued   = 2027-03-01\nwhat     = "Torque 46 N·m"\n`);
    writeFileSync(file, guide);
    run('publish', '--no-sheets');
    await checks.check('history: the record is printed against the revision that it names', async () => {
      writeFileSync(join(home, 'record.json'), text);
      const made = spawnSync(program, ['-C', home, 'print', '--record', join(home, 'record.json'), '--to', '-', '--form', 'short'], { maxBuffer: 1 << 26 });
      const told = made.stderr.toString();
      const sheet = execFileSync('pdftotext', ['-raw', '-', '-'], { input: made.stdout }).toString().replace(/\s+/g, ' ');
      return [...equal(made.status, 0, `exit status (${told})`), ...unless(told.includes(`printed against revision ${revision}`), told),
        ...unless(sheet.includes(`revision ${revision} ·`) && !sheet.includes('46 N·m') && sheet.includes('45 N·m'), sheet.slice(0, 400))];
    });
    await checks.check('history: paper of an older revision leads to what has changed since', async () => {
      await page.goto(`${server.base}${GUIDE}?without=heated-seat&rev=${revision}`);
      const note = page.locator('#of-paper');
      await note.waitFor();
      const said = await note.innerText();
      await note.locator('a').click();
      await page.waitForURL(/rev-[a-z]\.html#since$/);
      const since = await page.locator('#since').innerText();
      const held = await page.locator('.held').innerText();
      return [...unless(said.includes(`Your paper is of revision ${revision}.`) && said.includes(`at revision ${next} now`) || said.includes(`at revision ${next}.`), said),
        ...unless(since.includes('45 N·m') && since.includes('46 N·m') && since.includes('+1 N·m'), since.slice(0, 400)), ...unless(held.includes('SUPERSEDED'), held)];
    });
    await checks.check('history: paper of the present revision is not doubted', async () => {
      await page.goto(`${server.base}${GUIDE}?rev=${next}`);
      await page.goto(`${server.base}${GUIDE}?rev=${next}`);
      return unless(await page.locator('#of-paper').isHidden(), 'the note is shown');
    });
    await checks.check('history: the steps that changed have a bar and say so', async () => {
      await page.goto(server.base + GUIDE);
      const changed = await page.$$eval('.step.changed', (all) => all.map((step) => [step.id, step.querySelector('.was-changed')?.textContent]));
      const lines = await page.$$eval('#since li', (all) => all.map((li) => li.textContent));
      return [...unless(changed.length > 0 && changed.length < 5 && changed.every(([, words]) => words === `changed since ${revision}`), JSON.stringify(changed)),
        ...unless(lines.some((line) => line.includes('46 N·m')), JSON.stringify(lines))];
    });
    for (const width of [390, 1280]) {
      await checks.check(`history: an older revision can be read by everybody at ${width}`, async () => {
        await page.setViewportSize({ width, height: 900 });
        await page.goto(`${server.base}guides/${SLUG}/rev-${revision.toLowerCase()}.html`);
        const rules = await judge(page);
        return [...await rules({ type: 'tag', values: TAGS }, 10), ...await overflow(page)];
      });
    }
    await checks.check('history: an old name leads on with what stands behind its address', async () => {
      writeFileSync(file, guide.replace('document = ', 'was      = ["seat-turner"]\ndocument = '));
      run('publish', '--no-sheets');
      await page.goto(`${server.base}guides/seat-turner/index.html?without=heated-seat&rev=${revision}`);
      await page.waitForURL(new RegExp(`guides/${SLUG}/index\\.html\\?`));
      return unless((await page.locator('#of-paper').innerText()).includes(`revision ${revision}`), 'the note is not shown');
    });
  } finally {
    await ctx.close();
    server.close();
    rmSync(home, { recursive: true });
  }
}
