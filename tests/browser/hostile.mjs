// Guides full of what could run, fetch or lead astray, published as they are and opened under the pages' own content-security policy:
// no script of a guide runs, no request leaves, no address of another kind stands in a page. Each payload stands in every place that
// takes words: title, summary, names, notes, cautions, prose, links, pictures, code, drawings.

import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { built, context, equal, everyPage, serve, unless } from './harness.mjs';

const RUN = 'window.pwned=1';
const OUT = 'https://stranger.invalid/x';

// Payloads ----------------------------------------------------------------------------------------

function payloads() {
  const list = [];
  const add = (...texts) => list.push(...texts);
  for (const close of ['', '"', "'", '">', "'>", '-->', ']]>', '</title>', '</textarea>', '</style>', '</script>', '</noscript>', '</svg>', '`', '&quot;>', '\\">']) add(`${close}<script>${RUN}</script>`);
  for (const tag of ['script', 'SCRIPT', 'scr\u0131pt', 'script/x', 'script\n', 'script\t', 'svg:script', 'x:script']) add(`<${tag} src="${OUT}.js"></${tag}>`, `<${tag}>${RUN}</${tag}>`);
  add(`<script type="module">${RUN}</script>`, `<script nonce="">${RUN}</script>`, `<script type="application/ld+json">{"a":"</script><script>${RUN}</script>"}</script>`, `<script>${RUN}//`, `<<script>${RUN}//<</script>`, `<scr<script>ipt>${RUN}</scr</script>ipt>`, '<script x=">" src="data:text/javascript,window.pwned=1"></script>');
  const events = [['img', 'src=x', 'onerror'], ['svg', '', 'onload'], ['body', '', 'onload'], ['input', 'autofocus', 'onfocus'], ['select', 'autofocus', 'onfocus'], ['textarea', 'autofocus', 'onfocus'], ['details', 'open', 'ontoggle'], ['video', 'src=x', 'onerror'], ['audio', 'src=x', 'onerror'], ['marquee', '', 'onstart'],
    ['iframe', `src="${OUT}"`, 'onload'], ['object', 'data=x', 'onerror'], ['embed', 'src=x', 'onerror'], ['link', `rel=stylesheet href="${OUT}.css"`, 'onerror'], ['style', '', 'onload'], ['p', 'style="animation:x"', 'onanimationstart'], ['b', '', 'onmouseover'], ['a', 'href="#"', 'onclick'], ['math', '', 'onclick'], ['dialog', 'open', 'onclose']];
  for (const [tag, more, event] of events) add(`<${tag} ${more} ${event}="${RUN}">`, `<${tag}/${more.replace(/ /g, '/')}/${event.toUpperCase()}=${RUN}>`, `"><${tag} ${more} ${event}=${RUN} x="`);
  for (const scheme of ['javascript:', 'JaVaScRiPt:', 'java\tscript:', 'java\nscript:', ' javascript:', '\u0001javascript:', 'javascript&colon;', '&#106;avascript:', '&#x6A;avascript:', 'javascript&#58;', 'java&#9;script:', 'java&Tab;script:', 'java&NewLine;script:', 'vbscript:', 'data:text/html,<script>', 'data:text/html;base64,PHNjcmlwdD4=', 'data:image/svg+xml,<svg onload=', 'blob:', 'filesystem:', 'view-source:javascript:', 'javascript%3A', 'JAVASCRIPT:/*x*/', 'jav\u00ADascript:', '\u200Bjavascript:', 'file:///etc/passwd#', 'livescript:', 'mocha:', 'feed:javascript:']) add(`[go](${scheme}${RUN})`, `[go](<${scheme}${RUN}>)`, `<a href="${scheme}${RUN}">go</a>`, `![go](${scheme}${RUN})`);
  add(`<${'javascript'}:${RUN}>`, `[r]\n\n[r]: javascript:${RUN}`, `![r]\n\n[r]: ${OUT}.png`, `![x](${OUT}.png)`, `![x](//stranger.invalid/x.png)`, '![x](../../../etc/passwd)', '![x](/etc/passwd)', '![x](..\\..\\x.png)', '![x](file:///etc/passwd)', `[x](//stranger.invalid/)`, '[x](\\\\stranger.invalid\\x)');
  add(`<base href="${OUT}/">`, `<meta http-equiv="refresh" content="0;url=${OUT}">`, `<meta http-equiv="Content-Security-Policy" content="default-src *">`, `<form action="${OUT}"><button>go</button></form>`, `<button formaction="javascript:${RUN}">go</button>`, `<iframe srcdoc="<script>parent.pwned=1</script>"></iframe>`, `<object data="data:text/html,<script>${RUN}</script>"></object>`, `<portal src="${OUT}"></portal>`, `<template><script>${RUN}</script></template>`, `<img srcset="${OUT} 1x">`, `<picture><source srcset="${OUT}"><img></picture>`, `<a ping="${OUT}" href="#">x</a>`, `<link rel="prefetch" href="${OUT}">`, `<link rel="dns-prefetch" href="//stranger.invalid">`, `<video poster="${OUT}"></video>`, `<table background="${OUT}">`, `<input type="image" src="${OUT}">`, `<frameset onload=${RUN}>`, `<isindex action=javascript:${RUN}>`, `<bgsound src="${OUT}">`, `<svg><use href="${OUT}#x"/></svg>`, `<svg><image href="${OUT}"/></svg>`, `<svg><a xlink:href="javascript:${RUN}"><text y="9">x</text></a></svg>`, `<svg><animate attributeName="href" values="javascript:${RUN}"/></svg>`, `<svg><foreignObject><script>${RUN}</script></foreignObject></svg>`, `<math><maction actiontype="statusline#${OUT}">x</maction></math>`);
  for (const css of [`@import url(${OUT});`, `*{background:url(${OUT})}`, `*{background:u\\72l(${OUT})}`, `*{background:image-set('${OUT}' 1x)}`, `@font-face{font-family:x;src:url(${OUT})}`, `@\\69mport '${OUT}';`, `x{-moz-binding:url(${OUT})}`, `x{behavior:url(${OUT})}`, `x{width:expression(${RUN})}`]) add(`<style>${css}</style>`, `<p style="${css.replace(/"/g, '')}">x</p>`);
  for (const text of ['{{ 7 * 7 }}', '{% include "base.html" %}', '{% raw %}', '{% endraw %}{{ site }}', '{# x #}', '${window.pwned=1}', '#{7*7}', '<%= 7*7 %>', '{{ site.policy | safe }}', '{% for x in y %}', '{{"</script><script>window.pwned=1</script>" | safe}}', '@{x}', '[[${7*7}]]', '{{constructor.constructor("window.pwned=1")()}}']) add(text);
  add(`# x {#id onclick=${RUN}}`, `## y {.c onmouseover=${RUN}}`, `x {: onclick=${RUN}}`, '\u202egnp.x\u202c', 'a\u200b\u200d\u2060b', '\u2028window.pwned=1\u2029', '&lt;script&gt;window.pwned=1&lt;/script&gt;', '&#60;script&#62;window.pwned=1&#60;/script&#62;', '\\<script>window.pwned=1\\</script>', '+ADw-script+AD4-window.pwned=1+ADw-/script+AD4-', '<!-- --!><script>window.pwned=1</script>', '<![CDATA[<script>window.pwned=1</script>]]>', '<?xml-stylesheet href="x"?>', '<!DOCTYPE x [<!ENTITY a SYSTEM "file:///etc/passwd">]>', '`<script>window.pwned=1</script>`', '```html\n<script>window.pwned=1</script>\n```', '~~~ "><script>window.pwned=1</script>\nx\n~~~', '| <script>window.pwned=1</script> | b |\n|---|---|\n| "onx=1 | c |');
  return [...new Set(list)];
}

const drawings = () => [`<script>${RUN}</script>`, `<rect onload="${RUN}" width="1" height="1"/>`, `<a href="javascript:${RUN}"><rect width="9" height="9"/></a>`, `<image href="${OUT}"/>`, `<use href="${OUT}#x"/>`, `<foreignObject><body xmlns="http://www.w3.org/1999/xhtml" onload="${RUN}"/></foreignObject>`, `<style>@import '${OUT}';</style>`, `<style>rect{fill:u\\72l(${OUT})}</style>`, `<style>rect{mask:image-set('${OUT}' 1x)}</style>`, `<style><g/>@\\69mport '${OUT}';</style>`, `<animate attributeName="x" values="0;1"/>`, `<html:script xmlns:html="http://www.w3.org/1999/xhtml">${RUN}</html:script>`, `<html:img xmlns:html="http://www.w3.org/1999/xhtml" src="${OUT}"/>`, `<handler>${RUN}</handler>`, `<rect fill="url(${OUT}#a)" width="1" height="1"/>`, `<g xml:base="${OUT}"><use href="#a"/></g>`];

// Guides with them --------------------------------------------------------------------------------

const quoted = (text) => JSON.stringify(text).replace(/[\u007f-\u009f\u2028\u2029]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`).replace(/\\u[dD][89a-fA-F]../g, '');
// In the middle of a guide a payload may not end the step it stands in.
const inWords = (text) => text.replace(/^\+\+\+$/gm, '+ + +');

function guide(some, at) {
  const items = some.map((text, i) => `\n[[item]]\nid = "i${i}"\nname = ${quoted(`Cover ${text}`.slice(0, 190))}\n`).join('');
  const cautions = some.map((text, i) => `\n[[caution]]\nid = "c${i}"\nsignal = "warning"\nhazard = ${quoted(text)}\nresult = ${quoted(text)}\navoid = ${quoted(text)}\n`).join('');
  const tools = some.map((text, i) => `\n[[tool]]\nid = "t${i}"\nname = ${quoted(`Lever ${text}`.slice(0, 190))}\nnumber = ${quoted(text)}\nnote = ${quoted(text)}\n`).join('');
  const steps = some.map((text, i) => `\n## ${text.replace(/\s+/g, ' ').slice(0, 180)}\n\n+++\nid = "s${i}"\ncautions = ["c${i}"]\ntools = ["t${i}"]\ndo = [{ remove = "i${i}", note = ${quoted(text)} }, { fit = "i${i}" }]\ncheck = [${quoted(text)}]\nhold_point = ${quoted(text)}\n+++\n\n${inWords(text)}\n\n- ${inWords(text).replace(/\n/g, ' ')}\n\n> ${inWords(text).replace(/\n/g, ' ')}\n`).join('');
  return `+++\ntitle = ${quoted(`Hostile ${at} ${some[0]}`.slice(0, 190))}\ndocument = ${quoted(some[0].slice(0, 100))}\nrevision = ${quoted(some[0].slice(0, 50))}\nissued = 2026-09-14\nsummary = ${quoted(some[0])}\nsystem = ${quoted(some[0].slice(0, 100))}\nfits = ["marlin"]\nbefore = [${some.map(quoted).join(', ')}]\nnot_for = [${quoted(some[0])}]\nfinal_check = [${some.map(quoted).join(', ')}]\nfollow_up = [${some.map(quoted).join(', ')}]\nsources = { sheet = ${quoted(some[0])} }\n${items}${cautions}${tools}+++\n\n${inWords(some[0])}\n${steps}`;
}

export async function hostile({ checks, browser, project }) {
  const program = built(project);
  if (!program) {
    checks.skip('hostile', 'the program is not built');
    return;
  }
  const home = mkdtempSync(join(tmpdir(), 'hostile-'));
  const all = payloads();
  try {
    mkdirSync(join(home, 'guides'));
    writeFileSync(join(home, 'guides/shop.toml'), `name = ${quoted(`Shop ${all[0]}`)}\nlanguage = "en"\nunits = "metric"\nnotice = ${quoted(all[30])}\n\n[[vehicle]]\nid = "marlin"\nname = ${quoted(`Marlin ${all[1]}`)}\nnote = ${quoted(all[2])}\n`);
    const SOME = 12;
    for (let at = 0; at * SOME < all.length; at++) {
      mkdirSync(join(home, `guides/h${at}`));
      writeFileSync(join(home, `guides/h${at}/guide.md`), guide(all.slice(at * SOME, (at + 1) * SOME), at));
    }
    mkdirSync(join(home, 'guides/drawn'));
    const words = drawings().map((inner, i) => {
      writeFileSync(join(home, `guides/drawn/d${i}.svg`), `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="20" height="20">${inner}<rect width="9" height="9"/></svg>`);
      return `![Drawing ${i}](d${i}.svg)\n`;
    });
    writeFileSync(join(home, 'guides/drawn/guide.md'), `+++\ntitle = "Drawings"\ndocument = "TH-1"\nrevision = "A"\nissued = 2026-09-14\nfits = ["marlin"]\n+++\n\n## Look\n\n+++\n+++\n\n${words.join('\n')}`);
    const made = spawnSync(program, ['-C', home, 'publish', '--unreleased', '--no-sheets'], { encoding: 'utf8', maxBuffer: 1 << 28 });
    await checks.check(`hostile: ${all.length} payloads and ${words.length} drawings are published or refused with findings`, () =>
      [...unless(all.length >= 200, `${all.length} payloads`), ...unless(made.status === 0 || made.status === 1, `exit status ${made.status}: ${(made.stderr.match(/panicked[^]{0,400}/) ?? [made.stderr.slice(-400)])[0]}`), ...unless(!/[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200b\u202e]/.test(made.stderr), 'a control character reaches the terminal')]);
    const site = join(home, 'site'), server = await serve(site);
    const ctx = await context(browser);
    const requests = [], ran = [], dialogs = [], faults = [];
    await ctx.addInitScript(() => { Object.defineProperty(window, 'pwned', { set() { window.ranHere = true; console.log('PWNED'); }, get() { return undefined; } }); });
    ctx.on('request', (r) => { if (!r.url().startsWith(server.base) && !r.url().startsWith('data:image/') && !/favicon\.ico$/.test(r.url())) requests.push(`${r.frame()?.url() ?? ''}: ${r.url().slice(0, 120)}`); });
    const page = await ctx.newPage();
    page.on('dialog', (d) => { dialogs.push(d.message()); d.dismiss(); });
    page.on('console', (m) => { if (m.text() === 'PWNED') ran.push(page.url()); });
    const pages = everyPage(site);
    for (const path of pages) {
      await page.goto(server.base + path.split('/').map(encodeURIComponent).join('/'));
      faults.push(...await page.evaluate(() => {
        const bad = [];
        for (const el of document.querySelectorAll('*')) for (const a of el.attributes) {
          if (/^on/i.test(a.name)) bad.push(`${el.nodeName} ${a.name}`);
          if (/^(href|src|action|formaction|data|srcset|poster|ping|xlink:href)$/i.test(a.name)) {
            const value = a.value.replace(/[\u0000-\u0020]/g, '');
            if (/^[a-z][a-z0-9+.-]*:/i.test(value) && !/^(https?|mailto|tel):/i.test(value) && !/^data:image\/(png|svg)/.test(value)) bad.push(`${el.nodeName} ${a.name}=${a.value.slice(0, 60)}`);
            if (/^\/\//.test(value)) bad.push(`${el.nodeName} ${a.name}=${a.value.slice(0, 60)}`);
          }
        }
        if (document.querySelector('iframe,object,embed,base,form[action]:not(.find),main script,main style,main link,main meta:not([itemprop])')) bad.push(`an element that may not be there: ${document.querySelector('iframe,object,embed,base,form[action]:not(.find),main script,main style,main link,main meta:not([itemprop])').outerHTML.slice(0, 100)}`);
        return bad.map((b) => `${location.pathname.slice(-40)}: ${b}`);
      }));
    }
    // The bay view makes elements of words, and the search shows them.
    for (let at = 0; at < 3; at++) {
      await page.goto(`${server.base}guides/h${at}/index.html?bay`);
      await page.waitForSelector('.bay-foot');
      for (let n = 0; n < 5; n++) await page.evaluate(() => document.querySelector('.bay-bar select').dispatchEvent(new Event('change')));
      await page.evaluate(() => { const s = document.querySelector('.bay-bar select'); s.value = String(s.options.length - 1); s.dispatchEvent(new Event('change')); });
    }
    for (const words of ['script', 'onerror', 'javascript', '"><img src=x onerror=window.pwned=1>']) {
      await page.goto(`${server.base}index.html?q=${encodeURIComponent(words)}`);
      await page.waitForTimeout(300);
    }
    // A drawing that is opened by itself has no page around it.
    for (let at = 0; at < words.length; at++) await page.goto(`${server.base}guides/drawn/d${at}.svg`).catch(() => {});
    await page.waitForTimeout(300);
    await checks.check(`hostile: on ${pages.length} pages no script of a guide ran and no request left`, () => [...ran.map((r) => `ran on ${r}`), ...dialogs.map((d) => `dialog: ${d}`), ...requests.map((r) => `request from ${r}`), ...faults]);
    await checks.check('hostile: every guide has its page', () => equal(pages.filter((p) => /^guides\/[^/]+\/index\.html$/.test(p)).length, Math.ceil(all.length / SOME) + 1, 'guides'));
    await ctx.close();
    server.close();
  } finally {
    rmSync(home, { recursive: true, force: true });
  }
}
