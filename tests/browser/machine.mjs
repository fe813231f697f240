// Tests of what other programs read: the map of the site against the protocol's own schema, the feed by an independent parser and
// by what RFC 4287 asks for, the marked-up steps against schema.org's vocabulary, addresses, and the JSON of each guide.

import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { parseAtomFeed } from 'feedsmith';
import { validateXML } from 'xmllint-wasm';
import { context, equal, everyPage, guidesOf, read, unless } from './harness.mjs';

const require = createRequire(import.meta.url);
const beside = (pack, file) => join(dirname(require.resolve(`${pack}/package.json`)), file);
const unescape = (text) => text.replace(/&lt;/g, '<').replace(/&gt;/g, '>').replace(/&quot;/g, '"').replace(/&#39;/g, "'").replace(/&amp;/g, '&');
const attribute = (html, start, name) => {
  const tag = [...html.matchAll(/<(?:link|meta)\b[^>]*>/g)].map((m) => m[0]).find((t) => t.includes(start));
  return tag && unescape(new RegExp(`\\s${name}="([^"]*)"`).exec(tag)?.[1] ?? '');
};

// The schema of the protocol, as the package that carries it has it: https://www.sitemaps.org/schemas/sitemap/0.9/sitemap.xsd
async function map({ checks, site }) {
  await checks.check('map of the site: valid by the schema of sitemaps.org', async () => {
    const schema = readFileSync(beside('sitemap', 'schema/sitemap.xsd'), 'utf8');
    const contents = read(site, 'sitemap.xml');
    const judge = (text) => validateXML({ xml: [{ fileName: 'sitemap.xml', contents: text }], schema: [schema] });
    const [good, bad] = [await judge(contents), await judge(contents.replace('<loc>', '<lok>').replace('</loc>', '</lok>'))];
    return [...good.errors.map((e) => e.message), ...unless(bad.errors.length > 0, 'the schema lets a wrong map pass')];
  });
  await checks.check('map of the site: every address is a page of the site, with its day', () => {
    const address = attribute(read(site, 'index.html'), 'rel="canonical"', 'href').replace(/index\.html$/, '');
    const pages = new Set(everyPage(site));
    const rows = [...read(site, 'sitemap.xml').matchAll(/<url><loc>([^<]*)<\/loc>(?:<lastmod>([^<]*)<\/lastmod>)?<\/url>/g)];
    const faults = rows.flatMap(([, loc]) => unless(loc.startsWith(address) && pages.has(unescape(loc).slice(address.length)), `no page: ${loc}`));
    for (const slug of guidesOf(site)) {
      const row = rows.find(([, loc]) => loc === `${address}guides/${slug}/index.html`);
      const issued = JSON.parse(read(site, `guides/${slug}/guide.json`)).issued;
      faults.push(...equal(row?.[2], issued, `day of ${slug}`));
    }
    return [...faults, ...unless(rows.length > 100, `only ${rows.length} addresses`)];
  });
}

async function feed({ checks, browser, site }) {
  const text = read(site, 'feed.xml');
  await checks.check('feed: an independent reader takes it', () => {
    const read = parseAtomFeed(text);
    return [...unless(read.entries.length >= 4, 'hardly any entry'), ...read.entries.flatMap((e) =>
      unless(e.id && e.title && e.updated && e.links?.length && e.summary, `lacks something: ${JSON.stringify(e).slice(0, 120)}`))];
  });
  // RFC 4287, 4.1.1 and 4.1.2: what must be there, once; 3.3: dates as RFC 3339; 4.2.6: ids are addresses and unique.
  await checks.check('feed: what RFC 4287 asks for', async () => {
    const ctx = await context(browser);
    const page = await ctx.newPage();
    const found = await page.evaluate((xml) => {
      const doc = new DOMParser().parseFromString(xml, 'application/xml');
      const direct = (node, name) => [...node.children].filter((c) => c.localName === name).map((c) => c.textContent);
      const root = doc.documentElement;
      const of = (node) => ({ id: direct(node, 'id'), title: direct(node, 'title'), updated: direct(node, 'updated'), author: direct(node, 'author').length,
        alternate: [...node.children].filter((c) => c.localName === 'link' && c.getAttribute('rel') === 'alternate').map((c) => c.getAttribute('href')),
        self: [...node.children].filter((c) => c.localName === 'link' && c.getAttribute('rel') === 'self').length });
      return { broken: doc.querySelector('parsererror')?.textContent, root: `${root.namespaceURI} ${root.localName}`, feed: of(root),
        entries: [...root.children].filter((c) => c.localName === 'entry').map(of) };
    }, text);
    await ctx.close();
    const all = [found.feed, ...found.entries];
    const ids = all.flatMap((one) => one.id);
    const site_ = new Set(everyPage(site));
    const base = attribute(read(site, 'index.html'), 'rel="canonical"', 'href').replace(/index\.html$/, '');
    return [...unless(!found.broken, found.broken), ...equal(found.root, 'http://www.w3.org/2005/Atom feed', 'root'),
      ...all.flatMap((one) => [...equal([one.id.length, one.title.length, one.updated.length, one.alternate.length], [1, 1, 1, 1], `parts of ${one.title}`),
        ...unless(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ$/.test(one.updated[0]), `no date: ${one.updated}`), ...unless(/^urn:uuid:[0-9a-f-]{36}$/.test(one.id[0]), `no id: ${one.id}`),
        ...unless(site_.has(one.alternate[0].replace(base, '')), `leads to no page: ${one.alternate}`)]),
      ...equal(new Set(ids).size, ids.length, 'ids that differ'), ...equal([found.feed.author, found.feed.self], [1, 1], 'author and self'),
      ...equal(found.feed.updated[0], found.entries.map((e) => e.updated[0]).sort().at(-1), 'the feed is as new as its newest entry')];
  });
}

// Terms of the vocabulary from the package `schema-dts`, which is made from https://schema.org/version/latest/schemaorg-all-https.ttl
function vocabulary() {
  const text = readFileSync(beside('schema-dts', 'dist/schema.d.ts'), 'utf8');
  const types = new Map([...text.matchAll(/^interface (\w+)Base extends ([^{]+)\{\n([\s\S]*?)^\}/gm)].map((m) =>
    [m[1], { parents: m[2].split(',').map((p) => p.trim().replace(/^Partial<(.*)>$/, '$1').replace(/Base$/, '')), properties: [...m[3].matchAll(/^\s+"(\w+)"\?:/gm)].map((p) => p[1]) }]));
  // A type without properties of its own stands only as the leaf of its parents.
  for (const [, type, parents] of text.matchAll(/^(?:export )?interface (\w+)Leaf extends ([^{]+)\{/gm)) {
    if (!types.has(type)) types.set(type, { parents: parents.split(',').map((p) => p.trim().replace(/Base$/, '')), properties: [] });
  }
  const all = (type) => (types.has(type) ? [...types.get(type).properties, ...types.get(type).parents.flatMap(all)] : []);
  return all;
}

async function marked({ checks, browser, site, bases }) {
  const propertiesOf = vocabulary();
  const ctx = await context(browser);
  const page = await ctx.newPage();
  for (const slug of guidesOf(site)) {
    await checks.check(`vocabulary: ${slug}`, async () => {
      await page.goto(`${bases.file}guides/${slug}/index.html`);
      const items = await page.evaluate(() => [...document.querySelectorAll('[itemscope]')].map((item) => ({
        type: item.getAttribute('itemtype').replace('https://schema.org/', ''),
        properties: [...item.querySelectorAll('[itemprop]')].filter((p) => p.parentElement.closest('[itemscope]') === item)
          .map((p) => [p.getAttribute('itemprop'), (p.getAttribute('content') ?? p.getAttribute('datetime') ?? p.getAttribute('src') ?? p.textContent).trim()]),
      })));
      const job = items.find((item) => item.type === 'HowTo');
      const has = new Set(job.properties.map(([name]) => name));
      return [...items.flatMap(({ type, properties }) => {
        const known = propertiesOf(type);
        return [...unless(known.length > 10, `schema.org has no ${type}`), ...properties.flatMap(([name, value]) =>
          [...unless(known.includes(name), `${type} has no ${name}`), ...unless(value.length > 0, `${type}.${name} is empty`)])];
      }), ...['name', 'description', 'totalTime', 'tool', 'supply', 'step', 'version', 'dateModified', 'identifier', 'inLanguage'].filter((n) => !has.has(n)).map((n) => `no ${n}`),
        ...items.filter((i) => ['HowToTool', 'HowToSupply'].includes(i.type) && !i.properties.some(([n]) => n === 'name')).map((i) => `a ${i.type} without a name`)];
    });
  }
  await ctx.close();
}

async function addresses({ checks, site }) {
  const base = attribute(read(site, 'index.html'), 'rel="canonical"', 'href').replace(/index\.html$/, '');
  for (const path of everyPage(site)) {
    await checks.check(`own address: ${path}`, () => equal(attribute(read(site, path), 'rel="canonical"', 'href'), base + path, 'canonical'));
  }
  // The four properties that https://ogp.me requires of every page that has any, and the picture.
  for (const slug of guidesOf(site)) {
    await checks.check(`preview: ${slug}`, () => {
      const html = read(site, `guides/${slug}/index.html`);
      const og = (name) => attribute(html, `property="og:${name}"`, 'content');
      const image = og('image').replace(base, '');
      const bytes = readFileSync(join(site, image));
      return [...['title', 'type', 'image', 'url', 'description', 'image:alt'].filter((n) => !og(n)).map((n) => `no og:${n}`),
        ...equal(og('url'), `${base}guides/${slug}/index.html`, 'address'), ...unless(bytes.length > 1000, 'the picture is empty'),
        ...equal(attribute(html, 'name="description"', 'content'), og('description'), 'description')];
    });
  }
  // OpenSearch 1.1, draft 6: the elements that must be there, the most characters of each, and the template.
  await checks.check('search description', () => {
    const xml = read(site, 'opensearch.xml');
    const text = (name) => unescape(new RegExp(`<${name}>([^<]*)</${name}>`).exec(xml)?.[1] ?? '');
    const template = unescape(/template="([^"]*)"/.exec(xml)?.[1] ?? '');
    return [...unless(text('ShortName').length > 0 && text('ShortName').length <= 16, 'short name'), ...unless(text('Description').length > 0 && text('Description').length <= 1024, 'description'),
      ...equal(template, `${base}index.html?q={searchTerms}`, 'template'), ...unless(read(site, 'index.html').includes('type="application/opensearchdescription+xml"'), 'the front page does not lead to it')];
  });
}

async function json({ checks, browser, site, bases }) {
  const list = JSON.parse(read(site, 'guides/index.json'));
  await checks.check('JSON: the list names every guide', () => [...equal([list.format, list.version], ['bayleaf-guides', 1], 'format'), ...equal(list.guides.map((g) => g.slug).sort(), guidesOf(site), 'guides')]);
  const ctx = await context(browser);
  const page = await ctx.newPage();
  for (const slug of guidesOf(site)) {
    await checks.check(`JSON: ${slug} says what its page says`, async () => {
      const guide = JSON.parse(read(site, `guides/${slug}/guide.json`));
      await page.goto(`${bases.file}guides/${slug}/index.html`);
      const shown = await page.evaluate(() => ({
        print: document.querySelector('.block .print').textContent,
        steps: [...document.querySelectorAll('.step')].map((s) => [s.id, s.querySelector('h3 [itemprop=name]').textContent]),
        torques: [...document.querySelectorAll('.facts .tq')].map((t) => [...t.querySelectorAll('.val > *')].map((e) => e.textContent)),
        callouts: document.querySelectorAll('.called li').length,
      }));
      const steps = guide.phases.flatMap((p) => p.steps);
      const operations = steps.flatMap((s) => s.operations);
      const torques = operations.filter((o) => o.torque).map((o) => [o.torque.value.first, o.torque.value.second].filter(Boolean));
      const ids = [...steps.map((s) => s.id), ...operations.map((o) => o.id)];
      // A torque in newton-metres is its own base unit: the number printed and the exact one must be one.
      const exact = operations.filter((o) => /^\d+(\.\d+)? N·m$/.test(o.torque?.value.first ?? '')).flatMap(({ torque: { value } }) =>
        equal([value.unit, Number(value.low), Number(value.nominal)], ['N·m', parseFloat(value.first), parseFloat(value.first)], 'exact value'));
      const terms = [...steps, ...operations].map((x) => x.when_terms).filter(Boolean).join(' ').split(/[ |]/).filter(Boolean);
      const options = guide.options.map((o) => o.id);
      return [...equal([guide.format, guide.version, guide.fingerprint, guide.released], ['bayleaf-guide', 1, shown.print, true], 'head'),
        ...equal(steps.map((s) => [s.id, s.title]), shown.steps, 'steps'), ...equal(torques, shown.torques, 'torques'), ...exact,
        ...equal(new Set(ids).size, ids.length, 'ids that differ'), ...terms.filter((t) => !options.includes(t.replace('!', ''))).map((t) => `no option: ${t}`),
        ...equal(steps.flatMap((s) => s.pictures).flatMap((p) => p.callouts).length, shown.callouts, 'callouts')];
    });
  }
  await ctx.close();
}

export async function machine(run) {
  await map(run);
  await feed(run);
  await marked(run);
  await addresses(run);
  await json(run);
}
