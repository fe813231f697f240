// Tests of the published files: valid markup, links that lead somewhere, marked-up steps, weight, and
// colours that can be read.

import { HtmlValidate, StaticConfigLoader } from 'html-validate';
import { existsSync, readdirSync } from 'node:fs';
import { join, posix } from 'node:path';
import { gzipSync } from 'node:zlib';
import { context, equal, everyPage, guidesOf, read, unless } from './harness.mjs';

// Style, scripts and the frame of a page, and each step with the rows of its sentences, its facts and drawings of order.
// The frame holds the panel of what changed since the revision before, and the words beside its bars.
const FRAME_WEIGHT = 17_000, STEP_WEIGHT = 670;

const validator = new HtmlValidate(new StaticConfigLoader({
  root: true,
  extends: ['html-validate:recommended'],
  rules: {
    // The standard takes the word in either case, and the pages write it small.
    'doctype-style': 'off',
    // Length of a title is taste; the words of a job are not cut.
    'long-title': 'off',
    // The search goes off with Enter, and the choice of units or vehicle takes effect at once.
    'wcag/h32': 'off',
    // A table that scrolls stands in a plain box with a role, which tells a reader the same as a section.
    'prefer-native-element': 'off',
    // An aside inside an article is no landmark unless it is named, which this rule does not know; the
    // accessibility checks on the screen judge landmarks as the browser exposes them.
    'unique-landmark': 'off',
    // A list may be named, as the standard says; the stricter default is advice only.
    'aria-label-misuse': ['error', { allowAnyNamable: true }],
  },
}));

async function valid({ checks, site }) {
  for (const path of everyPage(site)) {
    await checks.check(`valid: ${path}`, async () => {
      const report = await validator.validateString(read(site, path), path);
      return report.results.flatMap((r) => r.messages).map((m) => `${m.line}:${m.column} ${m.ruleId}: ${m.message}`);
    });
  }
}

const unescape = (text) => text.replace(/&amp;/g, '&').replace(/&#39;/g, "'").replace(/&quot;/g, '"');

async function linked({ checks, site }) {
  const anchors = new Map();
  const anchorsOf = (path) => {
    if (!anchors.has(path)) anchors.set(path, new Set([...read(site, path).matchAll(/\sid="([^"]+)"/g)].map((m) => unescape(m[1]))));
    return anchors.get(path);
  };
  for (const path of everyPage(site)) {
    await checks.check(`links: ${path}`, () => {
      // A page names its own whole address, and none but its own (tested in machine.mjs).
      const html = read(site, path).replace(/<link rel="canonical"[^>]*>/, '');
      const faults = [];
      const targets = [...html.matchAll(/\s(?:href|src|action)="([^"]*)"/g)].map((m) => unescape(m[1]));
      for (const m of html.matchAll(/\ssrcset="([^"]*)"/g)) targets.push(...m[1].split(',').map((s) => s.trim().split(/\s/)[0]));
      for (const target of targets) {
        const [file, anchor] = target.split('#');
        // Readers open pages from a folder or a stick, so each target is a file named in full.
        if (/^([a-z]+:|\/)/i.test(target)) { faults.push(`leaves the site: ${target}`); continue; }
        const to = file ? posix.join(posix.dirname(path), decodeURIComponent(file)) : path;
        if (to.startsWith('..') || !existsSync(join(site, to)) || to.endsWith('/')) faults.push(`no such file: ${target}`);
        else if (anchor && !anchorsOf(to).has(decodeURIComponent(anchor))) faults.push(`no such place: ${target}`);
      }
      return faults;
    });
  }
}

async function marked({ checks, browser, site, bases }) {
  const ctx = await context(browser);
  const page = await ctx.newPage();
  for (const slug of guidesOf(site)) {
    await checks.check(`marked-up steps: ${slug}`, async () => {
      await page.goto(bases.file + 'index.html');
      const listed = await page.locator(`.register li:has(a[href="guides/${slug}/index.html"]) .how-long span`).first().innerText();
      await page.goto(`${bases.file}guides/${slug}/index.html`);
      const found = await page.evaluate(() => {
        const all = (s) => [...document.querySelectorAll(s)];
        const job = document.querySelector('[itemtype="https://schema.org/HowTo"]');
        return {
          marked: all('[itemprop="step"][itemtype="https://schema.org/HowToStep"]').filter((e) => job.contains(e)).length,
          shown: all('.step .ball').filter((e) => e.checkVisibility()).length,
          index: all('nav.index a').length,
          named: all('[itemprop="step"]').filter((s) => s.querySelector('[itemprop=name]')?.textContent.trim()
            && s.querySelector('[itemprop=text]')?.textContent.trim() && s.querySelector('[itemprop=url]')).length,
          numbers: all('.step .ball').every((e, i) => e.textContent === String(i + 1)),
          name: job.querySelector(':scope > header [itemprop=name]')?.textContent.length > 0,
        };
      });
      const n = found.shown;
      return [...unless(n > 0, 'no steps'), ...equal(found, { marked: n, shown: n, index: n, named: n, numbers: true, name: true }, 'steps'),
        ...unless(new RegExp(`^${n} steps?$`).test(listed), `the register says ${listed}, the guide shows ${n}`)];
    });
  }
  await ctx.close();
}

async function light({ checks, site }) {
  for (const slug of guidesOf(site)) {
    await checks.check(`weight: ${slug}`, () => {
      const path = `guides/${slug}/index.html`;
      const html = read(site, path);
      const parts = [...html.matchAll(/<(?:link rel="stylesheet" href|script src)="([^"]+)"/g)]
        .map((m) => read(site, posix.join(posix.dirname(path), m[1])));
      const sum = [html, ...parts].reduce((all, text) => all + gzipSync(text).length, 0);
      const steps = [...html.matchAll(/ class="step[ "]/g)].length, most = FRAME_WEIGHT + steps * STEP_WEIGHT;
      return [...unless(parts.length >= 2, 'style or script not found'), ...unless(steps > 5, 'hardly any step'), ...unless(sum <= most, `${sum} bytes packed for ${steps} steps, at most ${most}`)];
    });
  }
}

// Contrast as WCAG 2.2 defines it: relative luminance of both colours, each with 0.05 of glare.
function luminance(hex) {
  const full = hex.length === 4 ? hex.replace(/[0-9a-f]/gi, '$&$&') : hex;
  const [r, g, b] = [1, 3, 5].map((i) => parseInt(full.slice(i, i + 2), 16) / 255)
    .map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a, b) {
  const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x);
  return (high + 0.05) / (low + 0.05);
}

const colours = (block) => Object.fromEntries([...block.matchAll(/--([\w-]+):(#[0-9a-f]{3,6})\b/gi)].map((m) => [m[1], m[2]]));

async function legible({ checks, site }) {
  await checks.check('contrast formula', () => [
    ...equal(contrast('#767676', '#ffffff').toFixed(3), '4.542', '#767676 on white'),
    ...equal(contrast('#777', '#fff').toFixed(3), '4.478', '#777777 on white'),
    ...equal(contrast('#000', '#fff'), 21, 'black on white'),
  ]);
  const css = read(site, `assets/${readdirSync(join(site, 'assets')).find((f) => /^sheet\..*css$/.test(f))}`);
  const day = colours(/:root\s*\{([^}]*)\}/.exec(css)[1]);
  const night = { ...day, ...colours(/prefers-color-scheme:\s*dark\)\s*\{\s*:root\s*\{([^}]*)\}/.exec(css)[1]) };
  for (const [scheme, set] of Object.entries({ light: day, dark: night })) {
    const pairs = ['ink', 'soft', 'blue'].flatMap((text) => ['paper', 'sheet', 'tint'].map((ground) => [text, ground]));
    for (const [text, ground] of [...pairs, ['on-blue', 'blue'], ['sheet', 'ink']]) {
      await checks.check(`contrast, ${scheme}: ${text} on ${ground}`, () => {
        if (!set[text] || !set[ground]) return ['the style has no such colour'];
        const found = contrast(set[text], set[ground]);
        return unless(found >= 4.5, `${set[text]} on ${set[ground]} gives ${found.toFixed(3)}`);
      });
    }
  }
  await checks.check('contrast: the dark scheme differs', () => unless(day.ink !== night.ink && day.sheet !== night.sheet, 'both schemes have the same colours'));
}

export async function still(run) {
  await valid(run);
  await linked(run);
  await marked(run);
  await light(run);
  await legible(run);
}
