// Tests of what the script adds: search, the order of units, and the register of one vehicle. Expected
// results are chosen from the source of the guides, not from the index.

import { readFileSync } from 'node:fs';
import MiniSearch from 'minisearch';
import { context, equal, guidesOf, unless } from './harness.mjs';

const ORIGIN = 'guides/second-battery-charger/index.html';

// Each place must be among the results, the first one on top where `top` says so.
const QUERIES = [
  { what: 'part number', query: 'TB-35-01', places: ['tow-bar-wiring#crossbar'], top: true },
  { what: 'part number without dashes', query: 'tb3501', places: ['tow-bar-wiring#crossbar'], top: true },
  { what: 'value in the other unit order', query: '18 ft lb', places: ['swivel-seat-base#base-tight'], top: true },
  { what: 'value near the one asked for', query: '24.5 Nm', places: ['swivel-seat-base#base-tight'], top: true },
  { what: 'drive size', query: '21 mm', places: ['tow-bar-wiring#cross-tight', 'transmission-cooler#fill'] },
  { what: 'a letter too few', query: 'crosbar', places: ['tow-bar-wiring#crossbar'], top: true },
  { what: 'two letters swapped', query: 'rleease handle', places: ['swivel-seat-base#handle'], top: true },
  { what: 'thread', query: 'M10', places: ['tow-bar-wiring#beam-off', 'swivel-seat-base#rail-bolts-out', 'swivel-seat-base#rail-bolts-tight'] },
  { what: 'prefix', query: 'gromm', places: ['tow-bar-wiring#grommet', 'tow-bar-wiring'] },
  { what: 'capitals and accent', query: 'CRÓSSBAR', places: ['tow-bar-wiring#crossbar', 'tow-bar-wiring#cross-tight'] },
  { what: 'two words', query: 'ball neck', places: ['tow-bar-wiring#neck'], top: true },
  { what: 'two words in another order', query: 'seat clean', places: ['swivel-seat-base#clean-faces'] },
  { what: 'document number', query: 'TH-0171', places: ['tow-bar-wiring'], top: true },
  { what: 'words of a heading', query: 'hang the cooler', places: ['transmission-cooler#cooler-on'], top: true },
  { what: 'words of a guide', query: 'swivel base', places: ['swivel-seat-base'], top: true },
];

async function answers(page) {
  await page.waitForFunction(() => !document.getElementById('hits').hidden && document.getElementById('said').textContent);
  return page.evaluate(() => ({
    said: document.getElementById('said').textContent,
    places: [...document.querySelectorAll('#hits a')].map((a) =>
      a.href.replace(/^.*\/guides\//, '').replace('/index.html', '')),
  }));
}

async function ask(page, query) {
  await page.keyboard.press('Escape');
  await page.locator('#q').fill(query);
  return answers(page);
}

async function finds({ checks, browser, bases }) {
  for (const [way, base] of Object.entries(bases)) {
    const ctx = await context(browser);
    const page = await ctx.newPage();
    const errors = [];
    page.on('pageerror', (e) => errors.push(`page error: ${e.message}`));
    page.on('console', (m) => m.type() === 'error' && errors.push(`console: ${m.text()}`));

    await checks.check(`search, ${way}: the slash key leads to it`, async () => {
      await page.goto(base + ORIGIN);
      await page.keyboard.press('/');
      const at = await page.evaluate(() => [document.activeElement.id, document.activeElement.value]);
      return equal(at, ['q', ''], 'focus and value');
    });
    for (const { what, query, places, top } of QUERIES) {
      await checks.check(`search, ${way}: ${what} “${query}”`, async () => {
        const found = await ask(page, query);
        const missing = places.filter((p) => !found.places.includes(p)).map((p) => `not found: ${p} in ${found.places.join(' ') || found.said}`);
        return [...missing, ...(top ? equal(found.places[0], places[0], 'first result') : [])];
      });
    }
    await checks.check(`search, ${way}: a word that is nowhere`, async () => {
      const found = await ask(page, 'zzqxv');
      return [...equal(found.places, [], 'results'), ...unless(/nothing found/i.test(found.said) && found.said.includes('zzqxv'), `said: ${found.said}`),
        ...unless(await page.locator('#hits .count').isVisible(), 'the message is not visible')];
    });
    await checks.check(`search, ${way}: words that stand apart are found when joined, and joined ones when they stand apart`, async () => {
      const places = (query) => page.evaluate((query) => window.bayleaf.places(query), query);
      const [apart, joined, hitch, tray, under, bar, cross] = await Promise.all(['tow bar ', 'towbar ', 'hitch', 'undertray ', 'under tray ', 'crossbar ', 'cross bar '].map(places));
      const found = await ask(page, 'towbar');
      const slipped = await ask(page, 'crosbar');
      return [...unless(apart.length > 5 && tray.length > 2 && bar.length > 2, 'hardly any place'), ...apart.filter((place) => !joined.includes(place)).map((place) => `towbar: ${place} is not found`),
        ...unless(hitch[0] === 'tow-bar-wiring', `hitch leads to ${hitch[0]}`),
        ...tray.filter((place) => !under.includes(place)).map((place) => `under tray: ${place} is not found`),
        ...bar.filter((place) => !cross.includes(place)).map((place) => `cross bar: ${place} is not found`),
        ...unless(found.said.includes('“towbar” is nowhere; read as “tow bar”'), `said: ${found.said}`),
        ...unless(slipped.said.includes('“crosbar” is nowhere; read as “crossbar”'), `said: ${slipped.said}`)];
    });
    await checks.check(`search, ${way}: a slip is told as the word that the first hit has`, async () => {
      const faults = [];
      for (const [query, word] of [['secnd', 'second'], ['secnd battery', 'second'], ['rleease', 'release']]) {
        const found = await ask(page, query);
        const first = await page.locator('#answers a').first().innerText();
        faults.push(...unless(found.said.includes(`read as “${word}”`) && first.toLowerCase().includes(word), `${query}: ${found.said} First: ${first}`));
      }
      return faults;
    });
    for (const signs of ['€', '"', ' -- ×']) {
      await checks.check(`search, ${way}: only signs (${signs}) are answered`, async () => {
        const found = await ask(page, signs);
        const seen = await page.locator('#hits .count').isVisible();
        await page.keyboard.press('Enter');
        return [...equal(found, { said: 'Nothing was searched: a word, a number or a value is needed.', places: [] }, 'answer'), ...unless(seen, 'the message is not visible')];
      });
    }
    await checks.check(`search, ${way}: arrows and Enter open the step`, async () => {
      const found = await ask(page, 'ball neck');
      await page.keyboard.press('ArrowDown');
      await page.keyboard.press('ArrowDown');
      await page.keyboard.press('ArrowUp');
      const chosen = await page.evaluate(() => document.getElementById(document.activeElement.getAttribute('aria-activedescendant')).href);
      await page.keyboard.press('Enter');
      await page.waitForURL(/tow-bar-wiring\/index\.html#neck$/);
      // The browser goes to the place only after the first layout.
      const there = await page.waitForFunction(() => Math.abs(document.getElementById('neck').getBoundingClientRect().top - 50) < 100, null, { timeout: 3000 })
        .then(() => true, () => false);
      return [...equal(chosen, `${base}guides/tow-bar-wiring/index.html#neck`, 'chosen'), ...equal(found.places[0], 'tow-bar-wiring#neck', 'first'),
        ...unless(there, 'the step is not at the top of the window')];
    });
    await checks.check(`search, ${way}: a hit in the page that is open jumps to its place at once`, async () => {
      await page.goto(`${base}guides/tow-bar-wiring/index.html`);
      await ask(page, 'ball neck');
      const far = await page.evaluate(() => document.getElementById('neck').getBoundingClientRect().top);
      await page.keyboard.press('Enter');
      await page.waitForURL(/#neck$/);
      const top = await page.evaluate(() => new Promise((done) => {
        requestAnimationFrame(() => requestAnimationFrame(() => done(document.getElementById('neck').getBoundingClientRect().top)));
      }));
      return [...unless(far > 3000, 'the step is near anyhow'), ...unless(Math.abs(top) < 100, `the step is ${top} px away`)];
    });
    await checks.check(`search, ${way}: Enter in the field opens the first result`, async () => {
      await page.goto(base + 'index.html');
      await ask(page, 'ball neck');
      await page.locator('#q').press('Enter');
      await page.waitForURL(/tow-bar-wiring\/index\.html#neck$/);
      return [];
    });
    await checks.check(`search, ${way}: Escape clears it`, async () => {
      await page.goto(base + ORIGIN);
      await ask(page, 'crossbar');
      await page.keyboard.press('ArrowDown');
      await page.keyboard.press('Escape');
      const left = await page.evaluate(() => [document.getElementById('q').value, document.getElementById('hits').hidden, document.activeElement.id]);
      return equal(left, ['', true, 'q'], 'value, hidden, focus');
    });
    await checks.check(`search, ${way}: ten thousand characters are cut, and that is told`, async () => {
      const faults = [];
      for (const long of ['x'.repeat(10000), 'ball '.repeat(2000), '<b>"\'\\'.repeat(1700), '__proto__ constructor '.repeat(480), '25 '.repeat(3300) + 'nm'.repeat(60)]) {
        await page.keyboard.press('Escape');
        await page.locator('#q').fill(long);
        const found = await answers(page);
        faults.push(...unless(/first 200 of 10,0|first 200 of 10,|first 200 of [0-9,]+ characters/.test(found.said), `said: ${found.said.slice(0, 200)}`));
      }
      const wide = await page.evaluate(() => document.documentElement.scrollWidth <= document.documentElement.clientWidth);
      const many = await ask(page, 'one two three four five six seven eight nine ten eleven');
      const found = await ask(page, 'ball neck');
      return [...faults, ...unless(wide, 'the page became wider'), ...unless(/first 8 of 11/.test(many.said), `said: ${many.said}`),
        ...equal(found.places[0], 'tow-bar-wiring#neck', 'the next search')];
    });
    await checks.check(`search, ${way}: a result shows step, value, guide and picture`, async () => {
      await ask(page, '18 lb ft');
      const first = await page.evaluate(() => {
        const a = document.querySelector('#answers [role=option]');
        return { text: a.innerText.replace(/\s+/g, ' '), marks: [...a.querySelectorAll('mark')].map((m) => m.textContent), draft: /DRAFT/.test(a.textContent) };
      });
      await ask(page, 'ball neck');
      const picture = await page.waitForFunction(() => {
        const img = document.querySelector('#answers img');
        return img && img.complete && img.naturalWidth > 0;
      }).then(() => true, () => false);
      return [...unless(/^Step ?\d+ Tighten the base bolts .*25 N·m \(18 lb·ft\).*Fit the swivel base under the front passenger seat · TH-0142/.test(first.text), first.text),
        ...unless(first.marks.some((m) => /18/.test(m) || /25/.test(m)), `marked: ${first.marks}`), ...equal(first.draft, false, 'draft'),
        ...unless(picture, 'the picture of the step is not there')];
    });
    await checks.check(`search, ${way}: the field says what is chosen, and the list what is in it`, async () => {
      await ask(page, 'battery');
      const state = () => page.evaluate(() => {
        const q = document.getElementById('q');
        const options = [...document.querySelectorAll('#answers [role=option]')];
        return [q.getAttribute('aria-expanded'), options.findIndex((o) => o.id === q.getAttribute('aria-activedescendant')),
          options.filter((o) => o.getAttribute('aria-selected') === 'true').length, document.activeElement.id];
      });
      const states = [await state()];
      for (const key of ['ArrowDown', 'ArrowDown', 'ArrowUp', 'ArrowUp']) {
        await page.keyboard.press(key);
        states.push(await state());
      }
      await page.keyboard.press('Escape');
      states.push(await state());
      return equal(states, [['true', -1, 0, 'q'], ['true', 0, 1, 'q'], ['true', 1, 1, 'q'], ['true', 0, 1, 'q'], ['true', -1, 0, 'q'], ['false', -1, 0, 'q']],
        'expanded, chosen, how many are marked so, focus');
    });
    await checks.check(`search, ${way}: more results are shown when asked for, and the first new one is chosen`, async () => {
      await ask(page, 'battery');
      const before = await page.locator('#answers a').count();
      await page.locator('#hits button').click();
      await page.waitForFunction((n) => document.querySelectorAll('#answers a').length > n, before);
      const chosen = await page.locator('#q').getAttribute('aria-activedescendant');
      return [...equal(before, 10, 'at first'), ...equal(chosen, 'answer-10', 'chosen')];
    });
    await checks.check(`search, ${way}: from a page at another depth`, async () => {
      await page.goto(`${base}handbook/index.html`);
      const found = await ask(page, 'torque cross bar');
      const first = await page.locator('#hits a').first();
      const href = await first.evaluate((a) => a.href);
      await first.click();
      const there = await page.locator('article.step:target').count();
      return [...unless(found.places.length > 3, `only ${found.places.length} places for “torque”`),
        ...unless(href.startsWith(`${base}guides/`), `leads to ${href}`),
        ...unless(there === 1 || !href.includes('#'), 'the step is not there')];
    });
    await checks.check(`search, ${way}: a query handed over in the address`, async () => {
      await page.goto(`${base}index.html?q=b%C3%A0ll+neck`);
      return equal((await answers(page)).places[0], 'tow-bar-wiring#neck', 'first result');
    });
    await checks.check(`search, ${way}: no error in all of it`, () => errors);
    await ctx.close();
  }
}

// Sixty questions with the answer that must come first, written before the engine was. Three may miss.
async function relevance({ checks, browser, bases }) {
  const ctx = await context(browser);
  const page = await ctx.newPage();
  await page.goto(bases.file + ORIGIN);
  await page.locator('#q').focus();
  const questions = JSON.parse(readFileSync(new URL('relevance.json', import.meta.url)));
  await checks.check('relevance: at least 57 of 60 questions have the right first answer', async () => {
    const wrong = [];
    for (const { query, first } of questions) {
      const found = await ask(page, query);
      if (found.places[0] !== first) wrong.push(`“${query}”: ${found.places[0]} instead of ${first}`);
    }
    console.log(`relevance: ${questions.length - wrong.length} of ${questions.length} right${wrong.map((w) => `\n    ${w}`).join('')}`);
    return [...equal(questions.length, 60, 'questions'), ...(questions.length - wrong.length < 57 ? wrong : [])];
  });
  await ctx.close();
}

// Questions as they are asked at a counter and in a bay, each set written from the guides alone by somebody who had not seen the ranking. The
// floors stand a little under what was reached; how many answers were right before anything was built for them stands in DEVELOPERS.md.
const COUNTER = [
  { file: 'relevance-counter.json', first: 0.83, three: 0.92 },
  { file: 'relevance-shop.json', first: 0.63, three: 0.74 },
];

async function counter({ checks, browser, bases }) {
  const ctx = await context(browser);
  const page = await ctx.newPage();
  await page.goto(bases.file + ORIGIN);
  await page.locator('#q').focus();
  await page.waitForFunction(() => window.bayleaf?.places);
  for (const { file, first, three } of COUNTER) {
    await checks.check(`relevance: ${file}`, async () => {
      const questions = JSON.parse(readFileSync(new URL(file, import.meta.url)));
      const found = await page.evaluate(async (queries) => {
        const all = [];
        for (const query of queries) all.push((await window.bayleaf.places(query)).slice(0, 3));
        return all;
      }, questions.map((question) => question.query));
      // `page:tools` is the list or a row of it, `page:vehicle` the list or the page of a vehicle.
      const is = (place, wanted) => place === wanted || (wanted.startsWith('page:') && new RegExp(`^${wanted.slice(5).replace(/s$/, '')}s?[./]`).test(place ?? ''));
      const right = questions.map((question, i) => found[i].map((place) => [question.first, ...(question.also ?? [])].some((wanted) => is(place, wanted))));
      const firsts = right.filter((places) => places[0]).length, threes = right.filter((places) => places.includes(true)).length, n = questions.length;
      console.log(`relevance, ${file}: ${firsts} of ${n} first (${(100 * firsts / n).toFixed(1)} %), ${threes} in the first three (${(100 * threes / n).toFixed(1)} %)`);
      return [...unless(n > 200, 'questions are missing'), ...unless(firsts >= first * n, `only ${firsts} of ${n} are first`), ...unless(threes >= three * n, `only ${threes} of ${n} are among the first three`)];
    });
  }
  await ctx.close();
}

// A second engine over the words of the published pages: minisearch 7.2.0 (MIT, from npm), all words whole and none
// guessed. Each step that it finds for a word must be found here too.
async function second({ checks, browser, bases, site }) {
  const ctx = await context(browser);
  const page = await ctx.newPage();
  const docs = [];
  for (const slug of guidesOf(site)) {
    await page.goto(`${bases.file}guides/${slug}/index.html`);
    // A value is found by its number and unit together, as other tests ask; its unit alone is a word of ours, and so is the mark of a change.
    await page.evaluate(() => document.querySelectorAll('.val, .was-changed').forEach((value) => value.remove()));
    docs.push(...await page.evaluate((slug) => [...document.querySelectorAll('article.step[id]')].map((step) => ({
      id: `${slug}#${step.id}`,
      text: [step.querySelector('h3')?.innerText, ...[...step.querySelectorAll('p:not(.stop), li')].map((e) => e.innerText)].join('\n'),
    })), slug));
  }
  const split = (text) => text.toLowerCase().normalize('NFC').match(/[a-z]{3,}/g) ?? [];
  const other = new MiniSearch({ fields: ['text'], tokenize: split, processTerm: (term) => term });
  other.addAll(docs);
  const words = [...new Set(docs.flatMap((doc) => split(doc.text)))].sort();
  await page.locator('#q').focus();
  await page.waitForFunction(() => window.bayleaf?.places);
  await checks.check('second engine: every step that minisearch finds for a word is found', async () => {
    const ours = await page.evaluate(async (words) => {
      const found = {};
      // A space at the end says that the word is whole.
      for (const word of words) found[word] = await window.bayleaf.places(`${word} `);
      return found;
    }, words);
    const faults = [];
    let compared = 0;
    for (const word of words) {
      for (const { id } of other.search(word, { combineWith: 'AND', prefix: false, fuzzy: false })) {
        compared++;
        if (!ours[word].includes(id)) faults.push(`${word}: not in ${id}`);
      }
    }
    console.log(`second engine: ${words.length} words, ${compared} places compared`);
    return [...unless(docs.length > 90 && compared > 3000, `only ${docs.length} steps and ${compared} places`), ...faults];
  });
  await ctx.close();
}

// A size and a pitch have to belong to one thread. What should be found is read from the published pages.
async function threads({ checks, browser, bases, site }) {
  const ctx = await context(browser);
  const page = await ctx.newPage();
  const steps = [];
  for (const slug of guidesOf(site)) {
    await page.goto(`${bases.file}guides/${slug}/index.html`);
    steps.push(...await page.evaluate((slug) => [...document.querySelectorAll('article.step[id]')].map((step) => ({ id: `${slug}#${step.id}`, text: step.innerText })), slug));
  }
  await page.locator('#q').focus();
  await page.waitForFunction(() => window.bayleaf?.places);
  const places = (query) => page.evaluate((query) => window.bayleaf.places(query), query);
  for (const [queries, text] of [
    [['m8x1.25', 'M8 × 1,25', 'M8X1.250'], /\bM8 × 1\.25\b/],
    [['M10x1.25'], /\bM10 × 1\.25\b/],
    [['M6 x 1', 'M6x1.0'], /\bM6 × 1(\.0)?(?![.\d])/],
    [['1/4-20', '¼-20', '1/4"-20 UNC'], /\b1\/4-20\b/],
  ]) {
    const wanted = steps.filter((step) => text.test(step.text.replace(/\s/g, ' '))).map((step) => step.id).sort();
    for (const query of queries) {
      await checks.check(`threads: “${query}” finds the steps that have this thread and no others`, async () => {
        const found = (await places(query)).filter((place) => place.includes('#')).sort();
        return [...unless(wanted.length > 0, 'no step has it'), ...equal(found, wanted, 'steps')];
      });
    }
  }
  await checks.check('threads: a length behind the thread is a number by itself', async () => {
    const found = await places('M8x1.25x30 ');
    const wanted = steps.filter((step) => /\bM8 × 1\.25 × 30\b/.test(step.text.replace(/\s/g, ' '))).map((step) => step.id);
    return [...unless(wanted.length > 0, 'no step has it'), ...wanted.filter((id) => !found.includes(id)).map((id) => `${id} is not found`)];
  });
  await checks.check('threads: only the whole designation is marked', async () => {
    await ask(page, 'm8x1.25');
    const marks = await page.locator('#answers mark').allInnerTexts();
    return [...unless(marks.length > 0, 'nothing is marked'), ...marks.filter((mark) => !/^M8(?:\s×\s|x)1\.25$/.test(mark)).map((mark) => `marked: ${mark}`)];
  });
  await checks.check('threads: one that nobody uses is told, and its numbers are searched by themselves', async () => {
    const found = await ask(page, 'M8x1.75');
    return [...unless(found.said.includes('No thread is called “M8x1.75”'), `said: ${found.said}`), ...unless(found.places.length > 0, 'nothing found')];
  });
  await ctx.close();
}

// A page that nobody searches on does not pay for the search.
async function lazy({ checks, browser, bases }) {
  const ctx = await context(browser);
  const page = await ctx.newPage();
  const asked = [];
  page.on('request', (request) => asked.push(request.url().replace(bases.http, '').replace(/[?].*/, '')));
  await checks.check('search: nothing of it is loaded before its field is used', async () => {
    await page.goto(bases.http + ORIGIN);
    await page.waitForTimeout(100);
    const before = asked.filter((url) => /search/.test(url));
    await page.keyboard.press('/');
    await page.waitForFunction(() => window.bayleaf?.ask);
    return [...equal(before, [], 'loaded before'), ...unless(asked.some((url) => /assets\/search\.[0-9a-f]+\.js/.test(url)), `loaded then: ${asked}`)];
  });
  await ctx.close();
}

// Which unit a reader sees first is a matter of place, not of markup.
const leading = (page) => page.evaluate(() => {
  const val = [...document.querySelectorAll('main .val')].find((v) => v.querySelector('.m') && v.querySelector('.u') && v.checkVisibility());
  const [m, u] = ['.m', '.u'].map((s) => val.querySelector(s).getBoundingClientRect());
  return m.top < u.top - 3 || (Math.abs(m.top - u.top) <= 3 && m.left < u.left) ? 'metric' : 'imperial';
});

async function units({ checks, browser, bases }) {
  for (const [way, base] of Object.entries(bases)) {
    const ctx = await context(browser);
    const page = await ctx.newPage();
    const folder = 'guides/tow-bar-wiring/';
    await checks.check(`units, ${way}: the other unit leads and stays`, async () => {
      await page.goto(base + folder + 'index.html');
      const before = await leading(page);
      await page.locator('.units label:has(input[value=imperial])').click();
      const after = await leading(page);
      const kept = [];
      for (const next of ['torque.html', 'checklist.html', 'index.html']) {
        await page.goto(base + folder + next);
        kept.push(await leading(page));
      }
      await page.goto(base + folder + 'torque.html');
      const checked = await page.locator('input[name=first]:checked').getAttribute('value');
      await page.locator('.units label:has(input[value=metric])').click();
      return equal([before, after, ...kept, checked, await leading(page)],
        ['metric', 'imperial', 'imperial', 'imperial', 'imperial', 'imperial', 'metric'], 'leading units');
    });
    await ctx.close();
  }
}

export async function search(run) {
  await finds(run);
  await relevance(run);
  await counter(run);
  await second(run);
  await threads(run);
  await lazy(run);
  await units(run);
}
