// Holds the theme's scripts to the program, without a browser: replays the vectors that the program wrote against the real text of the
// scripts, and makes the vectors that the program's tests read. `node replay.mjs` compares; `node replay.mjs --make` writes scripts/*.jsonl
// anew. The exit status is 1 if anything differs or too few vectors ran.

import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import vm from 'node:vm';

process.env.TZ = 'UTC';
const here = dirname(fileURLToPath(import.meta.url));
const themes = join(here, '../../themes');
const MANY = 1000; // vectors of each file
const SHOWN = 5; // faults of each that are told

// The scripts -------------------------------------------------------------------------------------

// Stands for any element and any function: whatever is asked of it is another one.
function nothing(own = {}) {
  return new Proxy(function () {}, {
    get: (_, key) => (key in own ? own[key] : key === Symbol.toPrimitive ? () => '' : key === Symbol.iterator ? function* () {} : nothing()),
    set: () => true,
    apply: () => nothing(),
    construct: () => nothing(),
  });
}
function context(elements) {
  const window = { location: { pathname: '/guides/demonstration/', search: '', hash: '', protocol: 'file:' }, localStorage: nothing({ getItem: () => null }), addEventListener() {}, setTimeout() {}, performance: nothing(), Blob: nothing() };
  window.window = window;
  window.document = nothing({ getElementById: (id) => (id in elements ? elements[id] : nothing()) });
  return vm.createContext(window);
}
function run(window, ...names) {
  for (const name of names) vm.runInContext(readFileSync(['units.js', 'phrases.js'].includes(name) ? join(here, 'program', name) : join(themes, name), 'utf8'), window, { filename: name });
  return window;
}
const attributes = { 'data-guide': 'demonstration', 'data-document': 'TH-1', 'data-revision': 'A', 'data-print': 'ab12 cd34' };
const sheetElement = nothing({ getAttribute: (name) => attributes[name] ?? null, querySelector: () => ({ textContent: 'Demonstration' }) });
const bay = run(context({ options: null, sheet: sheetElement }), 'phrases.js', 'units.js', 'options.js', 'record-read.js', 'record.js', 'bay-judge.js', 'bay-open.js');
const search = run(context({ q: nothing({ value: '', form: nothing() }) }), 'phrases.js', 'search.js');
const judge = bay.bayleafJudge.judge;
const { solve, holds, amount } = bay.bayleafChoice;
const { seal, file, open } = bay.bayleafWork;
const twins = search.bayleaf.twins;
const { say, fill } = bay.bayleafPhrases;
const brief = (text) => seal(text).slice(0, 8);

// Vectors -----------------------------------------------------------------------------------------

const load = (name) => readFileSync(join(here, name), 'utf8').split('\n').filter(Boolean).map((line) => JSON.parse(line));
const heads = {};
let failed = 0;
const told = {};
function differ(name, what, expected, found) {
  failed++;
  told[name] = (told[name] ?? 0) + 1;
  if (told[name] <= SHOWN) console.error(`${name}: ${JSON.stringify(what)}\n  the program: ${JSON.stringify(expected)}\n  the script:  ${JSON.stringify(found)}`);
}
// Replays a file: `answer` gives what the script says of a vector, whose last entry is what the program says.
function replay(name, answer, few = false) {
  const [head, ...vectors] = load(`program/${name}.jsonl`);
  heads[name] = head;
  if (vectors.length < (few ? 80 : MANY)) { failed++; console.error(`${name}: only ${vectors.length} vectors`); }
  for (const vector of vectors) {
    const expected = vector.at(-1);
    let found;
    try { found = answer(vector, head); } catch (error) { found = String(error.stack); }
    if (JSON.stringify(found) !== JSON.stringify(expected)) differ(name, vector.slice(0, -1), expected, found);
  }
  return vectors.length;
}

const said = (entry, field) => { const found = judge(entry, field); return found.ok ? null : found.gap; };
const known = (signs, ids) => Object.fromEntries(ids.map((id, at) => [id, { '+': true, '-': false }[signs[at]]]).filter(([, value]) => value !== undefined));
const signsOf = (choices, has) => has && choices.flatMap((choice) => choice.options).map((option) => (has[option.id] === undefined ? '?' : has[option.id] ? '+' : '-')).join('');
const wordsOf = (text) => twins.fold(text).flatMap((f) => (f.pieces ?? []).concat(f.word)).join(' ');
const threadsOf = (text) => [...new Set(twins.threads(text).map((thread) => thread.term))].sort().join(' ');
const near = (a, b) => Math.abs(a - b) <= 1e-6 * Math.max(Math.abs(a), Math.abs(b), 1e-12);
// What the script reads in a value, in the dimension that was meant.
function readValue(text, dimension, from = 0) {
  const { found } = twins.values(text);
  return found.length === 1 && found[0].from === from ? found[0].meant.filter((meant) => meant.dim === dimension) : [];
}

// The page as plain data, from what a file of vectors says of a guide: for a choice, and with the units in their order.
function sheetOf(guide, has, imperial) {
  const applies = (terms) => terms === null || holds(terms, has) !== false;
  const field = (given) => given && { ...given, asked: given.asked[imperial ? 1 : 0] };
  const numbered = (id, many) => Array.from({ length: many }, (_, at) => `${id}/${at + 1}`);
  const steps = guide.steps.map((step) => {
    const shown = applies(step.terms);
    const operations = step.operations.map((op) => ({ ...op, applies: shown && applies(op.terms), torque: field(op.torque), measured: op.measured.map((m) => ({ ...m, field: field(m.field) })) }));
    const all = (some) => [...some.flatMap((op) => [op.id, ...numbered(`${op.id}/pass`, op.passes)]), ...step.checks, ...(step.wait ? [`${step.id}/wait`] : [])];
    return { ...step, applies: shown, operations, boxes: all(operations.filter((op) => op.applies)), every: all(operations) };
  });
  return { ...guide, steps, solve: (withs, without) => solve(guide.choices, withs, without), every: () => [...boxesOf({ ...guide, steps }), ...(guide.followUp ?? [])] };
}
const boxesOf = (sheet) => [...sheet.before, ...sheet.final, ...sheet.steps.flatMap((step) => [...step.every, ...(step.stop ? [`${step.id}/hold`] : [])])].sort();
// The state of some work, and the file that is saved of it. A file that was saved and opened again is the same file.
function stateOf(work, sheet, [withs, without]) {
  const pairs = (list, entry) => Object.fromEntries((list ?? []).map(entry));
  const body = {
    format: 'bayleaf-record', version: 1, guide: { slug: 'demonstration', title: 'Demonstration', document: 'TH-1', revision: 'A', fingerprint: 'ab12 cd34' },
    options: { with: withs, without }, order: { order: '', registration: work.o[0], vehicle: work.o[2], vin: '', odometer: '', technician: work.o[1], inspector: work.o[3], started: '2026-11-26', finished: work.s[0] ? '2026-11-26' : '' },
    ticks: boxesOf(sheet).filter((_, at) => work.t[at] === '1'),
    torques: (work.q ?? []).map(([operation, applied, wrench, note]) => ({ operation, applied, wrench, note })),
    measured: (work.m ?? []).map(([operation, value, measured, note]) => ({ operation, value, measured, note })),
    waits: (work.w ?? []).map(([step, started, ended, ticked]) => ({ step, started, ended, ticked })),
    notes: (work.n ?? []).map(([step, text]) => ({ step, text })),
    signed: { technician: work.s[0], inspector: work.s[1] },
  };
  const text = JSON.stringify(body, null, 2).slice(0, -2);
  const state = open(`${text},\n  "seal": "${seal(text)}"\n}\n`);
  return { state, seal: JSON.parse(file(state)).seal.slice(0, 16) };
}
function gapsOf(guide, choice, imperial, work) {
  const sheet = sheetOf(guide, solve(guide.choices, ...choice), imperial);
  const { state, seal } = stateOf(work, sheet, choice);
  return { seal, lines: [...bay.bayleafOpen.missing(sheet, state).map((gap) => gap.text), bay.bayleafOpen.complete(sheet, state)] };
}

const counts = {};
counts.phrases = replay('phrases', ([key, given]) => fill(say[key], given));
counts.torque = replay('torque', ([at, text], head) => said(text, head.fields[at]));
counts.measured = replay('measured', ([at, text], head) => said(text, head.fields[at]));
counts.conditions = replay('conditions', ([terms, signs], head) => holds(terms, known(signs, head.ids)));
counts.amounts = replay('amounts', ([amounts, signs], head) => amount(amounts, known(signs, head.ids)));
counts.choices = replay('choices', ([at, withs, without], head) => signsOf(head.guides[at], solve(head.guides[at], withs, without)));
counts.fold = replay('fold', ([text]) => wordsOf(text));
counts.threads = replay('threads', ([text]) => threadsOf(text));
counts.codes = replay('codes', ([code, kind]) => (kind === 'numbers' ? twins.numbers(code) : ((d) => [...d.docs].map((doc, at) => [doc, d.weights[at]]))(twins.decode(code))));
counts.seal = replay('seal', ([text, times]) => seal(text.repeat(times)).slice(0, 16));
counts.values = replay('values', (vector, head) => {
  twins.units(head.units);
  const [text, filed] = vector;
  const met = filed.every(([first, last, low, high, room]) => readValue(text, first[1]).some((v) => near(v.low, low) && near(v.high, high) && near(v.room, room) && [v.low, v.high].map((end) => twins.drawer(v.dim, end)).sort().join() === [first, last].join()));
  return met ? filed : twins.values(text).found;
});
// Files of records, in which something was set or taken away and whose text was treated after it was sealed.
function fileOf(body, place, set, treated) {
  const copy = JSON.parse(JSON.stringify(body)), keys = place.split('/').slice(1), last = keys.pop();
  const parent = keys.reduce((value, key) => value[key], copy);
  if (set) [parent[last]] = set;
  else if (Array.isArray(parent)) parent.splice(Number(last), 1);
  else delete parent[last];
  const text = JSON.stringify(copy, null, 2).slice(0, -2), sealed = `${text},\n  "seal": "${seal(text)}"\n}\n`;
  const treat = { crlf: () => sealed.replace(/\n/g, '\r\n'), bom: () => `\ufeff${sealed}`, 'two boms': () => `\ufeff\ufeff${sealed}`, line: () => JSON.stringify(JSON.parse(sealed)), unsealed: () => `${text}\n}\n`,
    cut: () => { const chars = Array.from(sealed); return chars.slice(0, Math.floor(chars.length / 2)).join(''); }, changed: () => sealed.replace('TH 0001', 'TH 0002'), spaced: () => sealed.replace(',\n  "seal"', ',\n   "seal"') };
  return treat[treated] ? treat[treated]() : sealed;
}
const OF_GUIDE = ['guide', 'stranger'];
counts.files = replay('files', ([place, set, treated], head) => {
  // Of another guide it is for the program too, which asks that later.
  try { open(fileOf(head.body, place, set, treated)); return 'taken'; } catch (error) { return OF_GUIDE.includes(error.name) ? 'taken' : error.name; }
});
// The table of refusals, word by word.
counts.refusals = replay('refusals', ([, text], head) => {
  const given = typeof text === 'string' ? text : text[1] === '[' ? '['.repeat(text[0] / 2) + ']'.repeat(text[0] / 2) : `{${'x'.repeat(text[0])}`;
  try { open(given, sheetOf(head.sheet, {}, false)); return null; } catch (error) { return error.message.replace(/^This record is not taken: /, '').replace(/\.$/, ''); }
}, true);
counts.gaps = replay('gaps', ([at, choice, imperial, work, sealed], head) => {
  const { seal, lines } = gapsOf(head.guides[at], head.chosen[choice], imperial, work);
  if (seal !== sealed) differ('gaps', [at, choice, work], sealed, seal);
  return lines.map((line) => { const number = head.sentences.indexOf(line); return number < 0 ? line : number; });
});

// The other way -----------------------------------------------------------------------------------

// Mulberry32: the same numbers on every machine.
function dice(seed) {
  const roll = () => { seed = (seed + 0x6d2b79f5) | 0; let t = Math.imul(seed ^ (seed >>> 15), 1 | seed); t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t; return ((t ^ (t >>> 14)) >>> 0) / 4294967296; };
  const below = (n) => Math.floor(roll() * n);
  return { below, of: (list) => list[below(list.length)], often: (percent) => below(100) < percent };
}
const make = (seed, one) => { const d = dice(seed); return Array.from({ length: MANY }, () => one(d)); };
// A few characters of a text changed, doubled, taken away, or put elsewhere.
function slips(d, text, signs) {
  const chars = Array.from(text);
  for (let n = d.below(3); n > 0; n--) {
    const at = d.below(chars.length + 1);
    chars.splice(at, d.below(2), ...(d.often(80) ? [d.of(signs)] : []));
  }
  return chars.join('');
}
const SIGNS = Array.from('0123456789.,-−–+/ NmLbftinVv·⋅*° \u00a0\u2009\ufeff²ΩμµНν٤½e^%#″"\'😀');
const entry = (name) => ([seed]) => make(seed, (d) => {
  const { fields } = heads[name];
  const at = d.below(fields.length);
  const { printed } = fields[at];
  const one = printed.length ? d.of(printed) : { unit: 'N·m', low: '5', high: null };
  const end = Number((one.low ?? one.high).replace('−', '-'));
  const number = d.often(50) ? String(end) : (end + d.of([0, 1e-6, -1e-6, 2e-6, 0.05, -0.05, 2, -2])).toFixed(d.of([0, 1, 2, 6, 7]));
  const row = bay.bayleafUnits.units.find(([symbol]) => symbol === one.unit);
  const unit = d.of([...row[2], ...row[3]]).split('·').join(d.of(['·', '', ' ', '-', '.']));
  const text = slips(d, `${number}${d.of(['', ' ', ' ', '\u00a0'])}${unit}`, SIGNS);
  const answer = said(text, fields[at]);
  return [at, text, answer && brief(answer)];
});
const LETTERS = Array.from('abXx019 .,-/#×ßéÅøﬁ½²№ΩΣςЙ漢ガﾞ한\u0301\u0308\u094d\u3099\u2010\u00ad\u00a0\u0085कि𝐌Ⅷ″');
const terms = (d, ids) => Array.from({ length: 1 + d.below(3) }, () => Array.from({ length: 1 + d.below(3) }, () => d.of(['', '!']) + d.of(ids)).join(' ')).join('|');
const signs = (d, ids) => ids.map(() => d.of(['+', '-', '?'])).join('');
const made = {
  phrases: Object.keys(say).filter((key) => say[key].includes('{')).flatMap((key) => Array.from({ length: 6 }, (_, at) => {
    const d = dice(Array.from(key).reduce((seed, letter) => (seed * 31 + letter.charCodeAt(0)) % 1000003, 112 + at)), places = [...new Set([...say[key].matchAll(/\{(\w+)/g)].map((place) => place[1]))];
    const given = Object.fromEntries(places.map((place) => [place, d.often(50) ? String(d.below(30)) : slips(d, d.of(['1', 'A, B', '{count}', '{count:x|y}', "$' $& $1"]), SIGNS)]));
    return [key, given, fill(say[key], given)];
  })),
  torque: entry('torque')([101]),
  measured: entry('measured')([102]),
  conditions: make(103, (d) => { const { ids } = heads.conditions, t = terms(d, ids), s = signs(d, ids); return [t, s, holds(t, known(s, ids))]; }),
  amounts: make(104, (d) => {
    const { ids } = heads.amounts, s = signs(d, ids);
    const text = Array.from({ length: 1 + d.below(3) }, () => `${d.below(20) - 6}@${d.often(40) ? '' : terms(d, ids).replace(/ /g, '+')}`).join(' ');
    return [text, s, amount(text, known(s, ids))];
  }),
  choices: make(105, (d) => {
    const at = d.below(heads.choices.guides.length), choices = heads.choices.guides[at], withs = [], without = [];
    choices.flatMap((choice) => choice.options).forEach((option) => { const n = d.below(6); if (n === 0) withs.unshift(option.id); else if (n === 1) without.push(option.id); });
    return [at, withs, without, signsOf(choices, solve(choices, withs, without))];
  }),
  fold: make(106, (d) => { const text = Array.from({ length: 1 + d.below(14) }, () => d.of(LETTERS)).join(''); return [text, wordsOf(text)]; }),
  threads: make(107, (d) => { const text = slips(d, d.of(['M8x1.25', 'bolt M 10 × 1,5 × 30', '1/4-20 UNC', '3/8"-16', '5/16-08', '#10-32', 'M6x1.0, M8 x 1.25', '(m12X1.75)']), Array.from('Mm#x×0123456789.,/-"″ \u00a0\u2011\ufeff\u0085é𝐌')); return [text, threadsOf(text)]; }),
  values: make(108, (d) => {
    const [dimension, factor, offset, spellings] = d.of(heads.values.units), unit = d.of(spellings.split(' ')), low = d.of([String(d.below(500)), `${d.below(90)}.${d.below(10)}`, `${1 + d.below(9)} ${d.of(['1/2', '3/8', '5/16'])}`, `${d.below(90)}00`]);
    const text = `${low}${d.of([' ', '\u00a0', ''])}${unit}`, [v] = readValue(text, dimension);
    return [text, dimension, v ? [v.low, v.high, v.room, twins.drawer(dimension, v.low), factor, offset] : null];
  }),
  codes: make(109, (d) => {
    const code = Array.from({ length: 1 + d.below(6) }, () => d.of(Array.from("!#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[]^_`abcdefghijklmnopqrstuvwxyz{|}~"))).join('').replace(/[`-~a-z]+$/, '') + '0', found = twins.decode(code);
    return [code, Array.from(found.docs).map((doc, at) => [doc, found.weights[at]])];
  }),
  gaps: make(111, (d) => {
    const { guides, chosen } = heads.gaps, at = d.below(guides.length), guide = guides[at], choice = d.below(chosen.length), imperial = d.often(50), care = 40 + d.below(60);
    const sheet = sheetOf(guide, solve(guide.choices, ...chosen[choice]), imperial), operations = sheet.steps.flatMap((step) => step.operations);
    const note = () => d.of(['', '', '', 'told', ' ', '\u2003', '\ufeff']);
    const work = { t: boxesOf(sheet).map(() => (d.often(care) ? '1' : '0')).join(''), o: [d.of(['TH 7', '', '\u0085']), d.of(['S. Invented', ' ']), d.of(['', 'Whimbrel']), d.of(['', 'S. INVENTED\u00a0', 'Q'])], s: [d.often(60), d.often(20)] };
    work.q = operations.filter((op) => op.torque && d.often(care)).map((op) => [op.id, d.of(['45 N·m', '44 lb·in', '22 lb·ft', '30 Nm', '45 N.m', '33', '400 N·m', '4 kgf·m', '45 Nm ok']), d.of(['', 'TW-04', 'TW-05', '\u2003tw-5', 'TW-1']), note()]);
    work.m = operations.flatMap((op) => op.measured).filter(() => d.often(care)).map((m) => [m.key.slice(0, m.key.lastIndexOf('#')), Number(m.key.slice(m.key.lastIndexOf('#') + 1)), d.of(['14.4 V', '14.60001 V', '200 mm', '7.9 in', '−20 °C', '-4 F', 'warm', '1 1/8 in']), note()]);
    work.w = sheet.steps.filter((step) => step.wait && d.often(care)).map((step) => [step.id, '2026-11-26 23:58', '2026-11-27 00:01', d.of(['', '2026-11-27 00:00', '2026-11-27 00:01', '2026-11-28 00:00'])]);
    work.n = sheet.steps.filter((step) => step.stop && d.often(care)).map((step) => [step.id, `Signed at the stop: ${d.of(['S. Invented', ' ', '\ufeff', 'A, B', 'S. Invented, 2026-11-26 09:00'])}`]);
    work.q.sort((a, b) => (a[0] < b[0] ? -1 : 1));
    work.m.sort((a, b) => (`${a[0]}#${a[1]}` < `${b[0]}#${b[1]}` ? -1 : 1));
    for (const key of ['q', 'm', 'w', 'n']) if (!work[key].length) delete work[key];
    const { seal, lines } = gapsOf(guide, chosen[choice], imperial, work);
    return [at, choice, imperial, work, seal, brief(lines.join('\n'))];
  }),
};
for (const [name, vectors] of Object.entries(made)) {
  const path = join(here, 'scripts', `${name}.jsonl`);
  const text = vectors.map((vector) => `${JSON.stringify(vector)}\n`).join('');
  if (process.argv.includes('--make')) writeFileSync(path, text);
  else if (!existsSync(path) || readFileSync(path, 'utf8') !== text) {
    const old = existsSync(path) ? readFileSync(path, 'utf8').split('\n') : [];
    const at = text.split('\n').findIndex((line, at) => line !== old[at]);
    failed++;
    console.error(`scripts/${name}.jsonl is not what the scripts say, line ${at + 1}:\n  committed: ${old[at]}\n  now:       ${text.split('\n')[at]}\nnode tests/vectors/replay.mjs --make writes it anew; then the program's tests judge it.`);
  }
}
for (const [name, many] of Object.entries(told)) if (many > SHOWN) console.error(`${name}: ${many} differ`);
console.log(`${Object.values(counts).reduce((a, b) => a + b, 0)} vectors of the program replayed (${Object.keys(counts).join(', ')}), ${Object.values(made).reduce((sum, list) => sum + list.length, 0)} made; ${failed} faults`);
process.exitCode = failed ? 1 : 0;
