window.bayleafPhrases = (function (before) {const say = Object.assign(before ? before.say : {}, {procedure: "Procedure",step_numbered: "Step {number}",characters_searched: "Only the first {count} of {all} characters were searched.",words_searched: "Only the first {count} of {all} words were searched.",no_thread_called: "No thread is called “{thread}”; its numbers were searched by themselves.",read_as: "“{text}” is nowhere; read as “{read}”.",draft_mark: "DRAFT",nothing_found_for: "Nothing found for “{query}”. Fewer or shorter words may find it.",first_places: "The first {count} of {all} places.",count_places: "{count} {count:place|places}.",places_have: "No place has all of it; these have {found} of {all}.",near_values: "Nothing says {text}; these are near it.",nothing_searched: "Nothing was searched: a word, a number or a value is needed.",search_no_files: "Search could not read its files. They belong in the folder “search” beside the pages.",search_offline: "Search could not load what it needs: there is no network, or the server does not have it. Without a network it finds what was searched for here before; procedures that were opened here are on the page “Kept on this device”.",search_passes_over: "a an and are at by can do does for from have how i if in is it long many much my need nm of on or should stay stays the to was what when where which who why with",});const form = (n) => n === "1" ? 0 : 1;const fill = (phrase, given) => phrase.replace(/\{(\w+)(?::([^}]*))?\}/g, (_, place, forms) => forms === undefined ? String(given[place]) : forms.split("|")[form(String(given[place]))]);return { say, fill };})(window.bayleafPhrases);
(function () {
"use strict";
const { say, fill } = window.bayleafPhrases;
const element = (id) => (document.getElementById(id));
const field = (element("q")), form = (field.form), base = document.documentElement.getAttribute("data-root") || "";
const panel = element("hits"), list = element("answers"), count = (panel.querySelector(".count"));
const more = (panel.querySelector("button")), said = element("said");
const LONGEST = 200;   /* characters of a query that are read */
const ITEMS = 8;       /* words and values of a query that are searched */
const SHOWN = 10;      /* results at first, and with each “more” */
const MOST_HALVES = 2; /* pieces that may be loaded for either half of a word */
const EXERCISES = 6;
const REQUESTS = 8;    /* pieces that a query may load */
const NEAR = 0.05;     /* a value this share away is near */
const WORTH = [0, 1, 2.2, 5];   /* told, done, named */
const STOP = new Set(say.search_passes_over.split(" "));
const SAME = 0.85;     /* what another word for the same is worth */
const FEWER = 0.65;    /* what a place is worth for each word that it lacks */
const LACK = 2;        /* words that a place may lack which another has */
let head = null;
let units = null;
let mark = "", loaded = 0;
const terms = {}, words = {}, rows = {}, waiting = {}, decoded = new Map();
let starts, guideOf, chunkOf, beginnings;
const same = new Map();
const SYMBOLS = "!#$%&'()*+,-./0123456789:;<=>?@ABCDEFGHIJKLMNOPQRSTUVWXYZ[]^_`abcdefghijklmnopqrstuvwxyz{|}~";
const CODE = new Uint8Array(128);
for (let i = 0; i < SYMBOLS.length; i++) CODE[SYMBOLS.charCodeAt(i)] = i;
function numbers(text, take) {
let add = 0, times = 1;
for (let i = 0; i < text.length; i++) {
const s = CODE[text.charCodeAt(i)];
add += times * s;
if (s >= 64) times *= 28;
else { take(add); add = 0; times = 1; }
}
}
window.bayleaf = {
index: (given) => {
head = given;
mark = "?v=" + head.mark;
const sizes = [], chunks = [];
numbers(head.steps, (n) => sizes.push(n));
numbers(head.chunks, (n) => chunks.push(n));
starts = new Uint32Array(sizes.length + 1);
sizes.forEach((n, g) => { starts[g + 1] = starts[g] + n + 1; });
guideOf = new Uint32Array(starts[sizes.length]);
sizes.forEach((n, g) => guideOf.fill(g, starts[g], starts[g + 1]));
chunkOf = [];
chunks.forEach((n, c) => { for (; n > 0; n--) chunkOf.push(c); });
beginnings = new Set(head.s.split(" "));
units = unitTable(head.units);
(head.same ? head.same.split(";") : []).forEach((group) => {
const members = group.split("=").map((m) => m.split(" "));
members.forEach((words) => same.set(words[0], (same.get(words[0]) || []).concat({ words, others: members.filter((m) => m !== words) })));
});
},
terms: (name, text) => { terms[name] = text.split(" "); },
words: (name, text) => { words[name] = text.split(" "); },
rows: (n, given) => { rows[n] = given; },
ask
};
function unitTable(rows) {
const table = new Map();
rows.forEach((u) => u[3].split(" ").forEach((s) => table.set(s, (table.get(s) || []).concat({ dim: u[0], factor: u[1], offset: u[2] }))));
return table;
}
function load(name) {
return waiting[name] || (waiting[name] = new Promise((done, fail) => {
const s = document.createElement("script");
loaded++;
s.src = base + "search/" + name + ".js" + mark;
s.onload = done;
s.onerror = () => { delete waiting[name]; s.remove(); fail(new Error(name)); };
document.head.appendChild(s);
}));
}
const all = (names) => Promise.all(names.map(load));
function pieceOf(firsts, key) {
let low = 0, high = firsts.length;
while (low < high) { const mid = (low + high) >> 1; if (firsts[mid] <= key) low = mid + 1; else high = mid; }
return Math.max(low - 1, 0);
}
function span(name, firsts, from, to) {
const out = [];
if (firsts.length) for (let i = pieceOf(firsts, from); i <= pieceOf(firsts, to); i++) out.push(name + i);
return out;
}
function each(names, from, to, take) {
names.forEach((name) => {
const piece = terms[name];
if (!piece) return;
let low = 0, high = piece.length >> 1;
while (low < high) { const mid = (low + high) >> 1; if (piece[2 * mid] < from) low = mid + 1; else high = mid; }
for (; 2 * low < piece.length && piece[2 * low] < to; low++) take(piece[2 * low], piece[2 * low + 1]);
});
}
function places(term, code) {
const known = decoded.get(term);
if (known) return known;
const found = decode(code);
decoded.set(term, found);
return found;
}
function decode(code) {
const docs = new Uint32Array(code.length), weights = new Uint8Array(code.length);
let n = 0, next = 0, add = 0, times = 1;
for (let i = 0; i < code.length; i++) {
const s = CODE[code.charCodeAt(i)];
add += times * s;
if (s >= 64) { times *= 28; continue; }
weights[n] = add % 3 + 1;
next += (add - add % 3) / 3;
docs[n++] = next++;
add = 0;
times = 1;
}
return { docs: docs.subarray(0, n), weights: weights.subarray(0, n) };
}
const LETTER = /[\p{Alphabetic}\p{N}]/u, JOINED = /[\p{Alphabetic}\p{N}\p{M}]/u, ACCENT = /[\u0300-\u036f]/, LONG = 40;
const digit = (c) => c >= "0" && c <= "9";
const cut = (word) => Array.from(word).slice(0, LONG).join("");
function fold(text) {
const out = [], chars = Array.from(text);
let word = "", pieces = [];
const piece = () => { if (word) pieces.push(cut(word)); word = ""; };
const close = () => {
piece();
if (pieces.length > 1 && !pieces.some((p) => /[./]/.test(p))) out.push({ word: cut(pieces.join("")), pieces });
else pieces.forEach((p) => out.push({ word: p }));
pieces = [];
};
chars.forEach((c, i) => {
const next = chars[i + 1] || " ", number = digit(word.slice(-1)) && digit(next);
if (number && /x/i.test(c)) close();
else if (number && /[.,/]/.test(c)) { if (c === "/") word += c; else if (word.indexOf(".") >= 0) close(); else word += "."; }
else if (word && /[-\u2010\u2011]/.test(c) && LETTER.test(next)) piece();
else if (JOINED.test(c)) {
const parts = c.normalize("NFKD");
if (parts.includes("\u2044") && digit(word.slice(-1))) close();
Array.from(parts).forEach((part) => Array.from(part.toLowerCase()).forEach((l) => {
if (l === "\u2044") word += "/"; else if (!ACCENT.test(l) && JOINED.test(l)) word += l;
}));
} else if (c !== "\u00ad") close();
});
close();
return out;
}
const DESIGNATION = /m\p{White_Space}?(\d+(?:[.,]\d+)?)\p{White_Space}*[x×]\p{White_Space}*(\d+(?:[.,]\d+)?)(?![\d/]|[.,]\d)|(#\d{1,2}|\d{1,2}\/\d{1,2})["″]?[-\u2010\u2011](\d{1,2})(?![\d/]|[.,]\d)/iuy;
function threads(text) {
const out = [], decimal = (number) => +number.replace(",", ".");
for (let at = 0; at < text.length; at++) {
if (!/[m#\d]/i.test(text[at])) continue;
DESIGNATION.lastIndex = at;
const m = DESIGNATION.exec(text), before = Array.from(text.slice(Math.max(0, at - 2), at)).pop() || " ";
if (!m || LETTER.test(before) || (m[3] && m[3][0] !== "#" && /[.,/-]/.test(before))) continue;
if (m[1] && (m[1].length > 8 || m[2].length > 8)) continue;
const inch = m[3] && (m[3][0] === "#" ? (60 + 13 * Number(m[3].slice(1))) / 1000 : m[3].split("/").map(Number).reduce((a, b) => a / b));
const share = m[3] ? 1 / (Number(m[4]) * Number(inch)) : decimal(m[2]) / decimal(m[1]);
if (!(share >= 0.02 && share < 0.34) || decimal(m[2] || "0") > 6) continue;
const size = m[3] && m[3].replace(/\d+/g, (n) => String(Number(n)));
out.push({ from: at, end: at + m[0].length, term: m[3] ? size + "-" + +m[4] : "m" + decimal(m[1]) + "x" + decimal(m[2]) });
at += m[0].length - 1;
}
return out;
}
const wordsOf = (text) => fold(text).reduce((all, f) => all.concat(f.word, f.pieces || []), []).concat(threads(text).map((t) => t.term));
function forms(word) {
if (!/^[a-z]{3,}$/.test(word)) return [];
const out = ["s", "es", "d", "ed", "ing"].map((end) => word + end);
["s", "es", "ed", "d", "ing"].forEach((end) => { if (word.endsWith(end) && word.length - end.length >= 3) out.push(word.slice(0, -end.length)); });
if (word.endsWith("e")) out.push(word.slice(0, -1) + "ing");
if (word.endsWith("ing")) out.push(word.slice(0, -3) + "e");
return out;
}
function slip(a, b) {
const d = a.length - b.length;
if (d > 1 || d < -1) return false;
let i = 0;
while (i < a.length && a[i] === b[i]) i++;
const rest = (n, m) => a.slice(i + n) === b.slice(i + m);
if (d === 1) return rest(1, 0);
if (d === -1) return rest(0, 1);
return rest(1, 1) || (a[i] === b[i + 1] && a[i + 1] === b[i] && rest(2, 2));
}
function slipsBetween(a, b) {
if (Math.abs(a.length - b.length) > 2) return 3;
let old = [], row = Array.from({ length: b.length + 1 }, (_, j) => j);
for (let i = 1; i <= a.length; i++) {
const next = [i];
for (let j = 1; j <= b.length; j++) {
next[j] = Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1));
if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) next[j] = Math.min(next[j], old[j - 2] + 1);
}
old = row;
row = next;
}
return row[b.length];
}
const FRACTION = { "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8" };
const NUMBER = "(?:\\d+[ \\u00a0]+)?\\d+/\\d+|[1-9]\\d{0,2}(?:[ \\u00a0\\u2009\\u202f]\\d{3}(?![\\d/]))+(?:[.,]\\d+)?|\\d+(?:[.,]\\d+)?";
const STATED = new RegExp("(^|[\\s(±=<>≤≥~:;])([-−]?)(" + NUMBER + ")(?:[ \\u00a0]*(?:\\.\\.|–|-|to )[ \\u00a0]*(" + NUMBER + "))?", "g");
function numberOf(text) {
const part = /^(?:(\d+)[ \u00a0]+)?(\d+)\/(\d+)$/.exec(text);
if (part) return { value: Number(part[1] || 0) + Number(part[2]) / Number(part[3]), room: 1 / (2 * Number(part[3])) };
text = text.replace(/[ \u00a0\u2009\u202f]/g, "");
const value = +text.replace(",", "."), decimals = (/[.,](\d+)/.exec(text) || ["", ""])[1].length;
let room = 0.5 / Math.pow(10, decimals);
if (!decimals && value >= 100) {
const wide = 0.5 * Math.pow(10, text.length - text.replace(/0+$/, "").length);
if (wide <= value * 0.015) room = wide;
}
return { value, room };
}
function values(text) {
const out = [], plain = text.replace(/[¼½¾⅛⅜⅝⅞]/g, (c) => " " + FRACTION[c]).replace(/µ/g, "μ");
let found;
STATED.lastIndex = 0;
while (units && (found = STATED.exec(plain))) {
const after = /([\s\u00a0·⋅*.\-\u2212⁻/^(]*)([^\s\u00a0\d·⋅*.,;()\-\u2212⁻/^]+[23²³₂]?|1(?![\d.,]))/y;
let end = STATED.lastIndex, key = "", part;
let best = null;
for (let n = 0; n < 4; n++) {
after.lastIndex = end;
if (!(part = after.exec(plain))) break;
end = after.lastIndex;
if (!key && part[2] === "1" && plain[end] === "/") continue;
key += (key || !part[1].includes("/") ? "" : "/") + part[2].toLowerCase().replace("²", "2").replace("³", "3").replace("₂", "2").replace("~", "");
const next = plain[end];
if (units.has(key) && !(next && LETTER.test(next))) best = { units: units.get(key), end };
}
if (!best) { STATED.lastIndex = found.index + found[0].length; continue; }
const sign = found[2] ? -1 : 1, one = numberOf(found[3]), two = found[4] ? numberOf(found[4]) : one;
const from = found.index + found[1].length;
out.push({
from, end: best.end, text: plain.slice(from, best.end),
meant: best.units.map((u) => ({
dim: u.dim, low: sign * one.value * u.factor + u.offset, high: (found[4] ? two.value : sign * one.value) * u.factor + u.offset,
room: Math.max(one.room, two.room) * u.factor
}))
});
STATED.lastIndex = best.end;
}
return { found: out, plain };
}
const TEMPERATURE = "c";   /* as the index names that dimension */
const near = (v) => v.dim === TEMPERATURE ? 2 : Math.max(NEAR * Math.max(Math.abs(v.low), Math.abs(v.high)), v.room);
function fit(v, low, high, room) {
const slack = 1e-6 * Math.max(Math.abs(v.low), Math.abs(v.high), 1e-12), away = Math.max(Math.abs(v.low - low), Math.abs(v.high - high));
if (away <= slack) return 1;
if ((v.low === v.high) === (low === high) && away <= Math.max(room, v.room) + slack) return 0.9;
if (v.low <= high + slack && low <= v.high + slack) return 0.7;
const gap = Math.max(v.low - high, low - v.high);
return gap <= near(v) ? 0.5 - 0.2 * gap / near(v) : 0;
}
const drawer = (v) => v === 0 ? 0 : Math.min(Math.max(Math.floor(Math.log10(Math.abs(v)) * 50) + 500, 1), 999);
const drawerKey = (dim, n) => "=" + dim + String(n).padStart(3, "0");
function synonyms(found) {
const out = [], is = (asked, word) => asked && !asked.pieces && (asked.word === word || forms(asked.word).includes(word));
for (let i = 0; i < found.length; i++) {
let best;
const starts = found[i].pieces ? [] : [found[i].word].concat(forms(found[i].word));
for (const m of starts.flatMap((w) => same.get(w) || [])) {
if (m.words.every((word, k) => is(found[i + k], word)) && (!best || m.words.length > best.words.length)) best = m;
}
const next = found[i + 1], one = !best && next && !next.pieces && !found[i].pieces && (same.get(found[i].word + next.word) || []).find((m) => m.words.length === 1);
if (one) {
out.push({ word: one.words[0], others: one.others, apart: [found[i], next], text: found[i].word + " " + next.word });
i++;
continue;
}
if (!best) { out.push(found[i]); continue; }
const apart = found.slice(i, i + best.words.length);
if (apart.length === 1) apart[0].others = best.others;
out.push(apart.length === 1 ? apart[0] : { word: cut(best.words.join("")), pieces: best.words, others: best.others, apart, text: apart.map((f) => f.word).join(" ") });
i += apart.length - 1;
}
return out;
}
function read(query) {
let text = query.slice(0, LONGEST).replace(/[¼½¾⅛⅜⅝⅞]/g, (c) => " " + FRACTION[c]);
const out = { items: [], told: [] }, asked = text;
if (query.length > LONGEST) out.told.push(fill(say.characters_searched, { count: LONGEST, all: grouped(query.length) }));
threads(text).forEach((t) => {
const end = t.end + (/^(?:\s*[x×](?=\s*\d)|\s*un(?:c|f|ef)(?![^\s,;.)]))/i.exec(text.slice(t.end)) || [""])[0].length;
text = text.slice(0, t.from) + " ".repeat(end - t.from) + text.slice(end);
const written = asked.slice(t.from, t.end);
if (!out.items.some((i) => i.word === t.term)) out.items.push({ word: t.term, thread: written, open: end === asked.length, text: written });
});
const stated = values(text);
let rest = "", at = 0;
stated.found.forEach((v) => { rest += stated.plain.slice(at, v.from) + " "; at = v.end; out.items.push({ value: v, text: v.text }); });
rest += stated.plain.slice(at);
let found = fold(rest);
found = found.filter((f, i) => !(f.word === "x" && i && found[i + 1] && /\d$/.test(found[i - 1].word) && digit(found[i + 1].word[0])));
for (let i = 0; i + 1 < found.length; i++) {
if (/^[mt]$/.test(found[i].word) && /^\d/.test(found[i + 1].word)) found.splice(i, 2, { word: found[i].word + found[i + 1].word });
}
const last = found[found.length - 1], typing = /[\p{Alphabetic}\p{N}]$/u.test(stated.plain) && at < stated.plain.length;
found.forEach((f, i) => {
const next = found[i + 1], joins = (w) => !w.pieces && /^\p{Alphabetic}{3,}$/u.test(w.word) && !STOP.has(w.word);
const number = next && !f.pieces && !next.pieces && /^\p{Alphabetic}{2,4}$/u.test(f.word) && /^\d{1,4}$/.test(next.word);
if (!next || !(number || (joins(f) && joins(next)))) return;
const one = { word: cut(f.word + next.word), open: typing && next === last };
[f, next].forEach((w) => { w.joined = (w.joined || []).concat(one); });
});
found = synonyms(found);
const real = found.filter((f) => !STOP.has(f.word));
if (real.length || out.items.length) found = real;
const seen = new Set();
found.forEach((f) => {
if (seen.has(f.word)) return;
seen.add(f.word);
out.items.push({ word: f.word, pieces: f.pieces, joined: f.joined, others: f.others, apart: f.apart, open: typing && f === last, text: f.text || f.word });
});
if (out.items.length > ITEMS) {
out.told.push(fill(say.words_searched, { count: ITEMS, all: out.items.length }));
out.items.length = ITEMS;
}
return out;
}
function wordPieces(word, open) {
if (!open) return { names: span("t", head.t, word, word) };
const names = span("t", head.t, word, word + "\uffff");
return names.length > 2 && beginnings.has(word) ? { names: names.slice(0, 1), all: span("b", head.b, word, word) } : { names };
}
function wordAlternatives(word, open, got) {
const out = [], taken = new Set();
const add = (w, q, names) => each(names, w, w + "\u0000", (term, code) => {
if (taken.has(term)) return;
taken.add(term);
out.push({ places: places(term, code), q, word: term });
});
add(word, 1, got.names);
forms(word).forEach((w) => add(w, 0.9, span("t", head.t, w, w)));
if (open && got.all) each(got.all, word, word + "\u0000", (term, code) => out.push({ places: places("…" + term, code), q: 0.7, word, open: true }));
else if (open) each(got.names, word, word + "\uffff", (term, code) => {
if (!taken.has(term)) { taken.add(term); out.push({ places: places(term, code), q: 0.55 + 0.3 * word.length / term.length, word: term }); }
});
return out;
}
function halves(word) {
let ways = [];
for (let i = 3; i <= word.length - 3; i++) ways.push([word.slice(0, i), word.slice(i)].map((w) => ({ word: w })));
ways = ways.filter((way) => way.every((half) => !STOP.has(half.word)));
const look = (n) => {
const names = new Set();
ways.forEach((way) => span("t", head.t, way[n].word, way[n].word).forEach((name) => names.add(name)));
const fresh = Array.from(names).filter((name) => !terms[name]).slice(-MOST_HALVES);
return all(fresh).then(() => {
ways = ways.filter((way) => {
const half = way[n];
half.text = half.word;
half.alternatives = wordAlternatives(half.word, false, { names: span("t", head.t, half.word, half.word) });
if (!n && !half.alternatives.some((a) => a.word === half.word)) return false;
half.count = half.alternatives.reduce((sum, a) => sum + a.places.docs.length, 0);
return half.count;
});
});
};
return look(0).then(() => look(1)).then(() => {
const rarer = (way) => Math.min(way[0].count, way[1].count);
const meet = (way) => {
const first = new Set();
way[0].alternatives.forEach((a) => a.places.docs.forEach((d) => first.add(d)));
return way[1].alternatives.some((a) => a.places.docs.some((d) => first.has(d)));
};
return ways.filter(meet).sort((a, b) => rarer(b) - rarer(a))[0];
});
}
function slips(word, open) {
const letters = Array.from(word), length = letters.length, first = Math.floor((length - 1) / 2), end = letters.slice(first + 1).reverse().join("");
const start = letters.slice(0, first).join("");
const names = span("f", head.f, start, start + "\uffff").concat(span("r", head.r, end, end + "\uffff"));
return all(names).then(() => {
const found = new Map();
names.forEach((name) => words[name].forEach((w) => {
if (slip(word, w)) found.set(w, w[0] === word[0] ? 0.6 : 0.5);
else if (open && length > 4 && w.length > length && [0, 1, -1].some((d) => slip(word, w.slice(0, length + d)))) {
if (!found.has(w)) found.set(w, 0.4);
}
}));
if (!found.size && length >= 7) names.forEach((name) => words[name].forEach((w) => { if (slipsBetween(word, w) === 2) found.set(w, w[0] === word[0] ? 0.4 : 0.3); }));
const best = Array.from(found).sort((a, b) => b[1] - a[1] || a[0].length - b[0].length).slice(0, 4);
const pieces = new Set();
best.forEach((f) => span("t", head.t, f[0], f[0]).forEach((n) => pieces.add(n)));
return all(Array.from(pieces).slice(0, 3)).then(() => {
const out = [];
best.forEach((f) => each(span("t", head.t, f[0], f[0]), f[0], f[0] + "\u0000", (term, code) => {
out.push({ places: places(term, code), q: f[1], word: term });
}));
return out;
});
});
}
const nothing = (alternatives) => !alternatives.some((a) => a.places.docs.length);
function resolve(item) {
if (item.value) {
const wanted = item.value.meant.map((v) => {
const away = near(v), a = drawer(v.low - away), b = drawer(v.high + away), ends = [Math.min(a, b), Math.max(a, b)];
if (v.low - away < 0 && v.high + away > 0) ends[0] = 0;
const from = drawerKey(v.dim, ends[0]), to = drawerKey(v.dim, Math.min(ends[1], ends[0] + 40)) + "~";
return { v, from, to, names: span("t", head.t, from, to).slice(0, 4) };
});
return all([].concat.apply([], wanted.map((w) => w.names))).then(() => {
item.alternatives = [];
wanted.forEach((w) => each(w.names, w.from, w.to, (term, code) => {
const part = term.split("_"), q = fit(w.v, +part[1], +part[2], +part[3]);
if (q) item.alternatives.push({ places: places(term, code), q });
}));
item.best = item.alternatives.reduce((best, a) => Math.max(best, a.q), 0);
if (!nothing(item.alternatives)) return null;
item.pieces = fold(item.value.text).map((f) => f.word);
item.word = item.pieces.join("");
item.value = null;
return resolve(item);
});
}
if (item.thread) {
const got = wordPieces(item.word, item.open);
return all(got.names.concat(got.all || [])).then(() => {
item.alternatives = wordAlternatives(item.word, false, got);
if (nothing(item.alternatives) && item.open) item.alternatives = wordAlternatives(item.word, true, got);
if (!nothing(item.alternatives)) return null;
item.instead = fold(item.thread).map((f) => ({ word: f.word, pieces: f.pieces, text: f.word }));
return Promise.all(item.instead.map(resolve));
});
}
const joined = (item.joined || []).map((j) => ({ word: j.word, open: j.open, got: wordPieces(j.word, j.open) }));
const got = wordPieces(item.word, item.open), parts = (item.pieces || []).map((w) => ({ word: w, got: wordPieces(w, false) }));
const others = (item.others || []).map((words) => words.map((w) => ({ word: w, got: wordPieces(w, false) })));
const names = [got, ...parts.map((p) => p.got), ...joined.map((j) => j.got), ...others.reduce((sum, o) => sum.concat(o), []).map((o) => o.got)].reduce((sum, g) => sum.concat(g.names, g.all || []), []);
return all(Array.from(new Set(names))).then(() => {
item.alternatives = wordAlternatives(item.word, item.open, got);
item.parts = parts.map((p) => wordAlternatives(p.word, false, p.got));
if (item.parts.some(nothing)) item.parts = [];
joined.forEach((j) => wordAlternatives(j.word, j.open, j.got).forEach((a) => { a.q *= 0.9; item.alternatives.push(a); }));
item.same = [];
others.forEach((words) => {
const found = words.map((w) => wordAlternatives(w.word, false, w.got));
if (found.length === 1) found[0].forEach((a) => { a.q *= SAME; item.alternatives.push(a); });
else if (!found.some(nothing)) item.same.push(found);
});
if (item.apart && nothing(item.alternatives) && !item.parts.length && !item.same.length) {
item.instead = item.apart.map((f) => ({ word: f.word, text: f.word }));
item.silent = true;
return Promise.all(item.instead.map(resolve)).then(() => null);
}
if (!nothing(item.alternatives) || item.parts.length || item.same.length || item.word.length < 4 || !/^\p{Alphabetic}+$/u.test(item.word)) return null;
return (item.pieces ? Promise.resolve() : halves(item.word)).then((two) => {
if (two) {
const one = synonyms(two.map((half) => ({ word: half.word })));
if (one.length > 1) { item.instead = two; return null; }
item.instead = [{ text: one[0].text, word: one[0].word, pieces: one[0].pieces, others: one[0].others }];
return Promise.all(item.instead.map(resolve)).then(() => null);
}
return slips(item.word, item.open).then((found) => { item.alternatives = found; item.slipped = found.length > 0; });
});
});
}
const lanes = [];
function worths(alternatives, into) {
const worth = lanes[into] || (lanes[into] = new Float32Array(guideOf.length));
let count = 0;
worth.fill(0);
alternatives.forEach((a) => {
const docs = a.places.docs, weights = a.places.weights, by = WORTH.map((w) => w * a.q);
for (let i = 0; i < docs.length; i++) {
const d = docs[i], s = by[weights[i]];
if (worth[d] === 0) count++;
if (worth[d] < s) worth[d] = s;
}
});
return { worth, count };
}
function together(whole, parts, by) {
const worth = whole.worth, given = parts.map((alternatives, i) => worths(alternatives, ITEMS + i).worth);
for (let d = 0; d < worth.length; d++) {
let s = given[0][d];
for (let i = 1; i < given.length; i++) if (given[i][d] < s) s = given[i][d];
if (s > 0 && worth[d] === 0) whole.count++;
if (by * s > worth[d]) worth[d] = by * s;
}
}
function rank(items, room) {
const total = guideOf.length, all = items.length, rare = new Float32Array(all), lent = new Float32Array(all);
const found = items.map((item, i) => {
const worth = worths(item.alternatives, i);
if (item.parts && item.parts.length) together(worth, item.parts, 0.9);
(item.same || []).forEach((parts) => together(worth, parts, 0.9 * SAME));
return worth;
});
found.sort((a, b) => a.count - b.count);
const own = found.map((f) => f.worth);
found.forEach((f, i) => { rare[i] = Math.log(1 + total / (f.count + 1)); });
const TOP = Math.max(120, room);
let most = 1, whole = 0, top = [];
for (let g = 0; g + 1 < starts.length; g++) {
const head = starts[g], end = starts[g + 1];
for (let i = 0; i < all; i++) lent[i] = own[i][head] * rare[i] * 0.25;
for (let d = head; d < end; d++) {
let n = all, s = 0, has = false, faint = false;
for (let i = 0; i < all && n + LACK >= most; i++) {
const w = own[i][d];
if (w > 0) {
has = true;
if (d !== head) s += w * rare[i];
else if (w >= 1.5) s += w * rare[i] * (w >= 3 || end - head > 1 ? 1.25 : 0.9);
else { s += w * rare[i] * 0.6; faint = true; }
}
else if (lent[i] > 0) s += lent[i];
else n--;
}
if (faint) s *= 0.5;
if (!has || n < Math.max(1, most - LACK)) continue;
if (n > most) {
most = n;
whole = 0;
top = top.filter((p) => p.has + LACK >= n);
}
if (n === most) whole++;
s *= Math.pow(FEWER, all - n);
if (top.length === TOP && s <= top[TOP - 1].s) continue;
let at = top.length;
while (at && top[at - 1].s < s) at--;
top.splice(at, 0, { d, s, has: n });
if (top.length > TOP) top.pop();
}
}
return { top, total: whole, most, partial: whole && most < all ? most : 0 };
}
function meets(item, word) {
if (item.value || !word) return false;
if (item.word === word || (item.open && word.startsWith(item.word)) || (item.pieces && item.pieces.includes(word))) return true;
return item.alternatives.some((a) => a.word === word);
}
function titleWorth(items, title) {
const folded = fold(title).concat(threads(title).map((t) => ({ word: t.term }))), met = folded.filter((f) => items.some((item) => meets(item, f.word) || (f.pieces && f.pieces.some((p) => meets(item, p)))));
if (!met.length) return 1;
const asked = items.filter((i) => i.word).map((i) => i.word).join(" ");
const phrase = items.length > 1 && (" " + folded.map((f) => f.word).filter((w) => !STOP.has(w)).join(" ")).includes(" " + asked);
return 1 + 0.15 * met.length / folded.length + (phrase ? 0.15 : 0);
}
function wordMet(item, hits) {
const has = (a, d) => { const i = pieceOf(a.places.docs, d); return a.places.docs[i] === d ? a.q * WORTH[a.places.weights[i]] : 0; };
for (const p of hits) {
for (const d of [p.d, starts[guideOf[p.d]]]) {
const best = item.alternatives.reduce((one, a) => has(a, d) > (one ? has(one, d) : 0) ? a : one, null);
if (best) return best.word;
}
}
return item.alternatives[0].word;
}
function factOf(items, facts) {
let best = facts[0] || "", most = 0;
facts.forEach((fact) => {
const folded = wordsOf(fact), stated = /[:×]/.test(fact) ? values(fact).found : [];
const worth = items.reduce((n, item) => n + (item.value
? 3 * stated.reduce((q, s) => s.meant.reduce((q2, b) => item.value.meant.reduce((q3, a) => a.dim === b.dim ? Math.max(q3, fit(a, b.low, b.high, b.room)) : q3, q2), q), 0)
: folded.some((w) => meets(item, w)) ? 1 : 0), 0);
if (worth > most) { most = worth; best = fact; }
});
return best;
}
function ask(query, shown) {
shown = shown || SHOWN;
const before = loaded;
return load("index").then(() => {
const asked = read(query);
return Promise.all(asked.items.map(resolve)).then(() => asked);
}).then((asked) => {
asked.items.forEach((i) => {
if (i.instead && !i.silent) asked.told.push(i.thread
? fill(say.no_thread_called, { thread: i.thread })
: fill(say.read_as, { text: i.text, read: i.instead.map((half) => half.text).join(" ") }));
});
asked.items = asked.items.reduce((sum, i) => sum.concat(i.instead || i), []).slice(0, ITEMS);
const items = asked.items, ranked = items.length ? rank(items, Math.min(shown * 2, 1e5)) : { top: [], total: 0, most: 0, partial: 0 };
const wanted = new Set(), near = [], left = Math.max(2, REQUESTS - (loaded - before)) * Math.ceil(shown / SHOWN);
let fresh = 0, level = null, late = [];
const admit = (p) => {
const c = chunkOf[guideOf[p.d]];
if (!wanted.has(c)) {
if (!rows[c]) { if (fresh === Math.min(left, 3 * Math.ceil(shown / SHOWN)) || near.length >= shown) return; fresh++; }
wanted.add(c);
}
near.push(p);
};
const flush = () => { late.forEach(admit); late = []; };
ranked.top.forEach((p) => {
if (p.s !== level) { flush(); level = p.s; }
const c = chunkOf[guideOf[p.d]];
if (wanted.has(c) || rows[c]) admit(p); else late.push(p);
});
flush();
return all(Array.from(wanted, (c) => "g" + c)).then(() => {
near.forEach((p) => {
const g = guideOf[p.d], c = chunkOf[g];
p.guide = rows[c][g - chunkOf.indexOf(c)];
p.n = p.d - starts[g];
p.step = p.n ? p.guide[5][p.n - 1] : null;
p.s *= titleWorth(items, p.step ? p.step[1] : p.guide[1]);
});
near.sort((a, b) => b.s - a.s || a.d - b.d);
const hits = near.slice(0, shown);
hits.forEach((p) => { p.fact = p.step ? factOf(items, p.step.slice(3)) : ""; p.page = p.guide[6] ? p.guide[0] : ""; });
items.forEach((i) => { if (i.slipped) i.read = wordMet(i, hits); });
return { hits, total: ranked.total + hits.filter((p) => p.has < ranked.most).length, partial: ranked.partial, items, told: asked.told };
});
});
}
window.bayleaf.twins = {
fold, threads, values, drawer: (dim, value) => drawerKey(dim, drawer(value)), decode,
numbers: (text) => { const out = []; numbers(text, (n) => out.push(n)); return out; },
units: (rows) => { units = unitTable(rows); }
};
window.bayleaf.places = (query) => ask(query, 1e6).then((answer) => answer.hits.map((p) => p.page || p.guide[0] + (p.step ? "#" + anchor(p.step) : "")));
let turn = 0, active = -1, shown = SHOWN, scrolled = false;
const anchor = (step) => step[0] || step[1].toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "");
function make(tag, name, text) {
const e = document.createElement(tag);
if (name) e.className = name;
if (text) e.textContent = text;
return e;
}
function marked(text, items) {
const out = document.createDocumentFragment(), stated = values(text), spans = [];
if (stated.plain === text) stated.found.forEach((v) => {
if (items.some((i) => i.value && i.value.meant.some((a) => v.meant.some((b) => a.dim === b.dim && fit(a, b.low, b.high, b.room) >= 0.9)))) spans.push([v.from, v.end]);
});
threads(text).forEach((t) => { if (items.some((i) => meets(i, t.term))) spans.push([t.from, t.end]); });
const word = /[\p{Alphabetic}\p{M}\p{N}./-]+/gu;
let m, at = 0;
while ((m = word.exec(text))) {
const folded = fold(m[0]);
if (folded.some((f) => items.some((i) => meets(i, f.word) || (f.pieces || []).some((p) => meets(i, p))))) spans.push([m.index, m.index + m[0].length]);
}
spans.sort((a, b) => a[0] - b[0]).forEach((s) => {
if (s[0] < at) return;
out.appendChild(document.createTextNode(text.slice(at, s[0])));
out.appendChild(make("mark", "", text.slice(s[0], s[1])));
at = s[1];
});
out.appendChild(document.createTextNode(text.slice(at)));
return out;
}
function option(p, i, items) {
const a = make("a"), text = make("span", "what"), where = make("small");
a.id = "answer-" + i;
a.setAttribute("role", "option");
a.setAttribute("aria-selected", "false");
a.tabIndex = -1;
a.href = base + (p.page || "guides/" + p.guide[0] + "/index.html" + (p.step ? "#" + encodeURIComponent(anchor(p.step)) : ""));
if (p.step) {
const dot = make("span", "dot"), [before, behind] = fill(say.step_numbered, { number: "\n" }).split("\n");
dot.appendChild(make("span", "unseen", before));
dot.appendChild(document.createTextNode(p.n));
if (behind) dot.appendChild(make("span", "unseen", behind));
a.appendChild(dot);
} else a.appendChild(make("span", "sort", p.guide[6] || say.procedure));
text.appendChild(marked(p.step ? p.step[1] : p.guide[1], items));
if (p.guide[3]) { text.appendChild(document.createTextNode(" ")); text.appendChild(make("b", "not", say.draft_mark)); }
if (p.fact) {
const fact = make("span", "fact"), at = p.fact.lastIndexOf(": "), figure = at > 0 && /\d/.test(p.fact.slice(at)) ? make("b") : null;
fact.appendChild(marked(figure ? p.fact.slice(0, at + 2) : p.fact, items));
if (figure) { figure.appendChild(marked(p.fact.slice(at + 2).replace(/(\d) (?=[^\s(])/g, "$1\u00a0"), items)); fact.appendChild(figure); }
text.appendChild(fact);
}
where.appendChild(p.step ? marked(p.guide[1], items) : document.createTextNode(p.guide[4]));
if (p.guide[2]) { where.appendChild(document.createTextNode(" · ")); where.appendChild(marked(p.guide[2], items)); }
text.appendChild(where);
a.appendChild(text);
if (p.step && p.step[2]) {
const img = make("img");
img.src = base + "guides/" + p.guide[0] + "/" + p.step[2];
img.alt = "";
img.width = 72;
img.height = 54;
img.loading = "lazy";
a.appendChild(img);
}
return a;
}
const grouped = (n) => String(n).replace(/\B(?=(\d{3})+$)/g, ",");
function wordsFor(query, answer) {
const n = answer.hits.length, total = answer.total, told = answer.told.slice();
const short = query.trim().length > 40 ? query.trim().slice(0, 40) + "…" : query.trim();
if (!n) told.unshift(fill(say.nothing_found_for, { query: short }));
else {
told.unshift(total > n ? fill(say.first_places, { count: n, all: grouped(total) }) : fill(say.count_places, { count: total }));
if (answer.partial) told.push(fill(say.places_have, { found: answer.partial, all: answer.items.length }));
answer.items.forEach((i) => {
if (i.slipped) told.push(fill(say.read_as, { text: i.text, read: i.read }));
if (i.value && i.best < 0.7) told.push(fill(say.near_values, { text: i.text }));
});
}
return told.join(" ");
}
function show(query, answer) {
const text = wordsFor(query, answer);
list.replaceChildren(...answer.hits.map((p, i) => option(p, i, answer.items)));
list.hidden = !answer.hits.length;
more.hidden = answer.total <= answer.hits.length || answer.hits.length < shown || shown >= 100;
count.textContent = text;
said.textContent = text;
choose(-1);
open(true);
if (scrolled && shown === SHOWN) { panel.scrollTop = 0; scrolled = false; }
}
function open(on) {
panel.hidden = !on;
field.setAttribute("aria-expanded", String(on && !list.hidden));
if (!on) choose(-1);
}
function choose(n) {
const options = list.children;
if (options[active]) options[active].setAttribute("aria-selected", "false");
active = n;
if (n < 0 || !options[n]) { active = -1; field.removeAttribute("aria-activedescendant"); return; }
options[n].setAttribute("aria-selected", "true");
options[n].scrollIntoView({ block: "nearest" });
field.setAttribute("aria-activedescendant", options[n].id);
}
function tell(words) {
list.textContent = "";
list.hidden = more.hidden = true;
count.textContent = said.textContent = words;
open(true);
}
function answer() {
const mine = ++turn, query = field.value;
clearTimeout(pause);
if (!LETTER.test(query)) {
close();
if (query.trim()) tell(say.nothing_searched);
return Promise.resolve();
}
const from = performance.now(), had = loaded;
return ask(query, shown).then((found) => {
if (mine !== turn) return;
show(query, found);
performance.measure("bayleaf-search", { start: from, end: performance.now(), detail: { query, loaded: loaded - had } });
}, () => {
if (mine !== turn) return;
tell(location.protocol === "file:"
? say.search_no_files
: say.search_offline);
});
}
function close() {
turn++;
clearTimeout(pause);
list.textContent = "";
said.textContent = "";
open(false);
}
let pause = 0;
field.addEventListener("input", () => { clearTimeout(pause); shown = SHOWN; pause = setTimeout(answer, 50); });
field.addEventListener("focus", () => { if (field.value.trim() && panel.hidden) answer(); });
form.addEventListener("submit", (e) => {
e.preventDefault();
const waits = panel.hidden || pause ? answer() : Promise.resolve();
waits.then(() => { const a = list.children[Math.max(active, 0)]; if (a && !panel.hidden) (a).click(); });
});
form.addEventListener("keydown", (e) => {
if (e.key === "Escape") {
e.preventDefault();
field.value = "";
close();
field.focus();
} else if ((e.key === "ArrowDown" || e.key === "ArrowUp") && e.target === field && list.children.length && !e.altKey) {
e.preventDefault();
const n = list.children.length;
if (panel.hidden) open(true);
choose(e.key === "ArrowDown" ? (active + 1 === n ? -1 : active + 1) : active < 0 ? n - 1 : active - 1);
}
});
more.addEventListener("click", () => { shown += SHOWN; const n = list.children.length; answer().then(() => { field.focus(); choose(n); }); });
panel.addEventListener("scroll", () => { scrolled = true; }, { passive: true });
document.addEventListener("click", (e) => { if (!form.contains((e.target))) open(false); });
form.addEventListener("focusout", (e) => { if (e.relatedTarget && !form.contains((e.relatedTarget))) open(false); });
list.addEventListener("mousedown", (e) => { if (e.button === 0) e.preventDefault(); });
list.addEventListener("click", (e) => { if ((e.target).closest("a")) open(false); });
function exercise(times) {
const items = read("bolt 8 N·m").items, hit = { guide: ["", "", "", 0, ""], step: ["", "Bolt: 8 N·m", "", "Bolt: 8 N·m"], n: 1 };
items.forEach((item) => { item.alternatives = [{ places: decode(SYMBOLS[times].repeat(guideOf.length / (1 + times) | 0)), q: 1, word: "bolt" }]; });
rank(items, SHOWN);
titleWorth(items, hit.step[1]);
hit.fact = factOf(items, hit.step.slice(3));
option(hit, 0, items);
if (times && !turn) idle(() => exercise(times - 1));
}
const idle = window.requestIdleCallback || ((task) => setTimeout(task, 20));
load("index").then(() => idle(() => exercise(EXERCISES))).catch(() => {});
if (field.value) answer();
})();
