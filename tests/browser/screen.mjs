// Tests of pages on the screen: nothing fails or leaves the site, the policy holds, the width fits, the
// pages are accessible, and all of it can be reached by keyboard and read without scripts.

import axe from 'axe-core';
import { context, equal, guidesOf, kindsOf, pool, unless } from './harness.mjs';

async function quiet({ checks, browser, site, bases }) {
  for (const [way, base] of Object.entries(bases)) {
    const ctx = await context(browser);
    await pool(kindsOf(site).map(({ path }) => async () => {
      const page = await ctx.newPage();
      const faults = [];
      page.on('console', (m) => ['error', 'warning'].includes(m.type()) && faults.push(`console: ${m.text()}`));
      page.on('pageerror', (e) => faults.push(`page error: ${e.message}`));
      page.on('requestfailed', (r) => faults.push(`request failed: ${r.url()}`));
      page.on('response', (r) => r.status() >= 400 && faults.push(`status ${r.status()}: ${r.url()}`));
      page.on('request', (r) => r.url().startsWith(base) || faults.push(`request outside the site: ${r.url()}`));
      await checks.check(`quiet, ${way}: ${path}`, async () => {
        await page.goto(base + path, { waitUntil: 'load' });
        // Pictures may load late, so the page is run through to its end.
        await page.evaluate(async () => {
          for (const img of document.images) { img.loading = 'eager'; await img.decode().catch(() => {}); }
        });
        const blank = await page.evaluate(() => [...document.images].filter((i) => !i.naturalWidth).map((i) => i.currentSrc));
        return [...faults, ...blank.map((src) => `picture not shown: ${src}`)];
      });
      await checks.check(`policy, ${way}: ${path}`, async () => {
        const ran = await page.evaluate(() => {
          const script = document.createElement('script');
          script.textContent = 'window.strangerRan = true';
          document.body.append(script);
          const button = document.createElement('button');
          button.setAttribute('onclick', 'window.strangerRan = true');
          document.body.append(button);
          button.click();
          const text = document.createElement('p');
          text.setAttribute('style', 'position: fixed');
          document.body.append(text);
          return { script: window.strangerRan === true, style: getComputedStyle(text).position === 'fixed' };
        });
        return [...unless(!ran.script, 'a script written into the page ran'), ...unless(!ran.style, 'a style written into the page took effect')];
      });
      await page.close();
    }));
    await ctx.close();
  }
}

export const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

// The source of the accessibility rules goes through the debugging protocol, which the policy does not bind.
export async function judge(page) {
  const protocol = await page.context().newCDPSession(page);
  await protocol.send('Runtime.evaluate', { expression: axe.source });
  return async (runOnly, least) => {
    const { result, exceptionDetails } = await protocol.send('Runtime.evaluate', {
      expression: `axe.run(document, ${JSON.stringify({ runOnly, resultTypes: ['violations'] })}).then((r) => ({
        rules: r.passes.length, faults: r.violations.flatMap((v) => v.nodes.map((n) =>
          v.id + ': ' + n.target.join(' ') + ': ' + n.failureSummary.replace(/\\s+/g, ' ').slice(0, 220))) }))`,
      awaitPromise: true,
      returnByValue: true,
    });
    if (exceptionDetails) throw new Error(exceptionDetails.exception?.description ?? exceptionDetails.text);
    // A run that applied hardly any rule has judged nothing.
    return [...result.value.faults, ...unless(result.value.rules >= least, `only ${result.value.rules} rules applied`)];
  };
}

export const overflow = (page) => page.evaluate(() => {
  const wide = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= wide) return [];
  const out = [...document.body.querySelectorAll('*')]
    .filter((e) => e.getBoundingClientRect().right > wide + 0.5 && !e.closest('.wide, .pass, pre'))
    .slice(0, 4).map((e) => `${e.tagName.toLowerCase()}.${e.className}`);
  return [`page is ${document.documentElement.scrollWidth} px wide in ${wide}: ${out.join(', ')}`];
});

async function fits({ checks, browser, site, bases }) {
  for (const width of [390, 820, 1440]) {
    const ctx = await context(browser, { viewport: { width, height: 900 }, colorScheme: 'light' });
    await pool(kindsOf(site).map(({ path }) => async () => {
      const page = await ctx.newPage();
      await page.goto(bases.file + path);
      await checks.check(`width ${width} light: ${path}`, () => overflow(page));
      let rules;
      if (width !== 820) {
        await checks.check(`accessible, ${width} light: ${path}`, async () => {
          rules = await judge(page);
          return rules({ type: 'tag', values: TAGS }, 10);
        });
      }
      await page.emulateMedia({ colorScheme: 'dark' });
      await checks.check(`width ${width} dark: ${path}`, () => overflow(page));
      // Both schemes have the same elements, so the dark one is judged by the rules that look at colours.
      if (width !== 820) {
        await checks.check(`accessible, ${width} dark: ${path}`, () => rules({ type: 'rule', values: ['color-contrast', 'link-in-text-block'] }, 1));
      }
      await page.close();
    }));
    await ctx.close();
  }
}

// Between the cards of a phone and the whole width the last column of a torque table must not be cut.
async function columns({ checks, browser, site, bases }) {
  const ctx = await context(browser);
  const page = await ctx.newPage();
  for (const path of guidesOf(site).map((slug) => `guides/${slug}/torque.html`)) {
    await checks.check(`torque table whole at every width: ${path}`, async () => {
      await page.goto(bases.file + path);
      const cut = [];
      for (const width of [940, 960, 1000, 1024, 1100, 1280]) {
        await page.setViewportSize({ width, height: 900 });
        const [inner, outer] = await page.locator('.wide').first().evaluate((box) => [box.scrollWidth, box.clientWidth]);
        if (inner > outer) cut.push(`${width} px: ${inner} in ${outer}`);
      }
      return cut;
    });
  }
  await ctx.close();
}

async function keyboard({ checks, browser, site, bases }) {
  const ctx = await context(browser);
  const guide = `guides/${guidesOf(site)[0]}`;
  const wanted = {
    [`${guide}/index.html`]: ['#q', 'a.zoom', 'input[name=first]', 'button.btn.main', 'a.btn', '.skip', '.strip nav a', '.wide'],
    [`${guide}/torque.html`]: ['#q', 'input[name=first]', 'button[data-print]'],
    [`${guide}/checklist.html`]: ['.bar a', 'button[data-print]'],
    'index.html': ['#q', '.finder nav a', '.newest a', '.register a'],
  };
  for (const [path, selectors] of Object.entries(wanted)) {
    await checks.check(`keyboard: ${path}`, async () => {
      const page = await ctx.newPage();
      await page.goto(bases.http + path);
      const seen = new Set();
      const faults = [];
      for (let i = 0; i < 200; i++) {
        await page.keyboard.press('Tab');
        const stop = await page.evaluate((all) => {
          const at = document.activeElement;
          if (!at || at === document.body) return null;
          // A choice that is drawn by its label shows the focus there.
          const shows = [at, at.nextElementSibling].filter(Boolean).some((e) => {
            const s = getComputedStyle(e);
            return s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2 && s.outlineColor !== 'rgba(0, 0, 0, 0)';
          });
          const first = at.hasAttribute('data-tested');
          at.setAttribute('data-tested', '');
          return { again: first, shows, is: all.filter((s) => at.matches(s)), name: at.outerHTML.slice(0, 90) };
        }, selectors);
        if (!stop || stop.again) break;
        stop.is.forEach((s) => seen.add(s));
        if (!stop.shows) faults.push(`no visible focus: ${stop.name}`);
      }
      await page.close();
      return [...faults, ...selectors.filter((s) => !seen.has(s)).map((s) => `Tab does not reach ${s}`)];
    });
  }
  await ctx.close();
}

async function scriptsOff({ checks, browser, site, bases }) {
  const on = await context(browser);
  const off = await context(browser, { javaScriptEnabled: false });
  const text = () => {
    // The list of options in words stands for the switch, and the switch for the list.
    document.querySelectorAll('.scripted, noscript, .on-guide .has').forEach((e) => e.remove());
    return document.querySelector('main').innerText;
  };
  await pool(kindsOf(site).map(({ kind, path }) => async () => {
    await checks.check(`scripts off: ${path}`, async () => {
      const [a, b] = [await on.newPage(), await off.newPage()];
      await a.goto(bases.file + path);
      await b.goto(bases.file + path);
      const faults = [];
      const shown = await b.evaluate(() => [...document.querySelectorAll('.scripted')].filter((e) => e.checkVisibility()).length);
      faults.push(...equal(shown, 0, 'things shown that only a script serves'));
      if (kind !== 'checklist') faults.push(...unless(await b.locator('.find noscript').isVisible(), 'search does not say that it needs scripts'));
      const [withScripts, without] = [await a.evaluate(text), await b.evaluate(text)];
      faults.push(...unless(without.length > 100, 'hardly any text'), ...unless(withScripts === without, 'the text differs from the text with scripts'));
      await a.close();
      await b.close();
      return faults;
    });
  }));
  await on.close();
  await off.close();
}

// Pictures that come in while a reader scrolls must not push the lines that are being read.
async function steady({ checks, browser, site, bases }) {
  for (const width of [390, 1440]) {
    const ctx = await context(browser, { viewport: { width, height: 800 } });
    await pool(guidesOf(site).map((slug) => async () => {
      await checks.check(`steady while scrolling, ${width}: ${slug}`, async () => {
        const page = await ctx.newPage();
        await page.goto(`${bases.http}guides/${slug}/index.html`);
        const shift = await page.evaluate(async () => {
          let sum = 0;
          new PerformanceObserver((list) => list.getEntries().forEach((e) => { sum += e.value; }))
            .observe({ type: 'layout-shift', buffered: true });
          const end = document.documentElement.scrollHeight;
          for (let y = 0; y < end; y += 600) {
            scrollTo(0, y);
            await new Promise((done) => { setTimeout(done, 20); });
          }
          await new Promise((done) => { setTimeout(done, 150); });
          return sum;
        });
        await page.close();
        return unless(shift < 0.02, `layout shift ${shift.toFixed(4)}`);
      });
    }));
    await ctx.close();
  }
}

// The page begins with the work: what stands before the first step is folded to what has to be read or chosen. In screens of the usual
// height; the aim is 1.5 and 3.
async function early({ checks, browser, bases, site }) {
  for (const [width, height, most] of [[1440, 900, 1.8], [390, 780, 4.5]]) {
    const ctx = await context(browser, { viewport: { width, height } });
    const page = await ctx.newPage();
    for (const slug of guidesOf(site)) {
      await checks.check(`early, ${width}: ${slug}`, async () => {
        await page.goto(`${bases.file}guides/${slug}/index.html`);
        const top = await page.evaluate(() => document.querySelector('article.step').getBoundingClientRect().top + scrollY);
        console.log(`first step of ${slug} at ${width}: ${Math.round(top)} px`);
        return unless(top > 300 && top <= most * height, `the first step begins at ${top} px`);
      });
    }
    await ctx.close();
  }
}

// What is folded is there on paper and in the bay, and opens by keyboard.
async function folds({ checks, browser, bases }) {
  const ctx = await context(browser);
  const page = await ctx.newPage();
  await page.goto(`${bases.file}guides/tow-bar-wiring/index.html`);
  const shown = (css) => page.evaluate((css) => Array.from(document.querySelectorAll(css), (el) => el.checkVisibility({ contentVisibilityAuto: true }) && el.getBoundingClientRect().height > 0), css);
  await checks.check('folds: closed on the screen, open by keyboard', async () => {
    const before = await shown('.r-tools li, .again p');
    await page.locator('.r-tools summary').focus();
    await page.keyboard.press('Enter');
    return [...unless(before.length > 20 && before.every((is) => !is), 'something stands open'), ...unless((await shown('.r-tools li')).every(Boolean), 'the tools do not open')];
  });
  await checks.check('folds: open on paper', async () => {
    await page.emulateMedia({ media: 'print' });
    const all = await shown('.ready li, .again p');
    await page.emulateMedia({ media: null });
    return unless(all.length > 40 && all.every(Boolean), `${all.filter((is) => !is).length} of ${all.length} are not on paper`);
  });
  await checks.check('folds: open in the bay view', async () => {
    await page.reload();
    await page.locator('#bay').click();
    await page.locator('.in-bay').waitFor();
    return unless(await page.evaluate(() => Array.from(document.querySelectorAll('.ready details, .again')).every((el) => el.open)), 'something is folded');
  });
  await ctx.close();
}

export async function screen(run) {
  await quiet(run);
  await fits(run);
  await columns(run);
  await keyboard(run);
  await scriptsOff(run);
  await steady(run);
  await early(run);
  await folds(run);
}
