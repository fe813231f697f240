/* Reading the file of a record: whether it is one, whether it is as it was saved, and whether it fits the guide. Why one is refused and what
   one holds come with units.js from the program, which refuses the same files in the same words when it prints a record. What becomes of a
   record that is taken is left to record.js.
   Needs: units.js */
/** @type {BayleafReading} */
window.bayleafReading = (function (/** @type {BayleafUnits} */ table) {
  "use strict";
  const { say, fill } = window.bayleafPhrases;
  const list = table.record, BEFORE_SEAL = ',\n  "seal": "';
  /** @type {(name: string, what?: string) => Error} */
  function refusal(name, what) {
    const chars = Array.from(what || ""), told = chars.slice(0, list.told).join("") + (chars.length > list.told ? "…" : "");
    return Object.assign(new Error(fill(say.record_not_taken, { why: list.words[name].split("{what}").join(told) })), { name });
  }
  /* How deep lists and objects stand in one another; the parser is not asked, since another may refuse what it takes. */
  function isDeep(/** @type {string} */ text) {
    let depth = 0, inside = false, escaped = false;
    for (let i = 0; i < text.length; i++) {
      const c = text[i];
      if (escaped) escaped = false;
      else if (c === "\\" && inside) escaped = true;
      else if (c === "\"") inside = !inside;
      else if (!inside && (c === "{" || c === "[")) depth++;
      else if (!inside && (c === "}" || c === "]")) depth = Math.max(0, depth - 1);
      if (depth > list.deepest) return true;
    }
    return false;
  }
  /* Keys that stand twice in one object, of which the parser keeps one, numbers that parsers read differently, and halves of letters. The
     text is JSON. */
  function loose(/** @type {string} */ text) {
    /** @type {(Set<string> | null)[]} */
    const around = [];
    let keyFollows = false;
    const parts = /"(?:[^"\\]|\\[^])*"|[{}[\],:]|[-0-9][-+.eE0-9]*/g;
    for (let part = parts.exec(text); part; part = parts.exec(text)) {
      const token = part[0], keys = around[around.length - 1];
      if (token[0] === "\"") {
        const words = token.indexOf("\\") < 0 ? token.slice(1, -1) : JSON.parse(token);
        if (/\p{Surrogate}/u.test(words)) throw refusal("json");
        if (!keyFollows || !keys) continue;
        if (keys.has(words)) throw refusal("key-twice", words);
        keys.add(words);
      } else if (token === "{" || token === "[") {
        keyFollows = token === "{";
        around.push(keyFollows ? new Set() : null);
      } else if (token === "}" || token === "]") {
        around.pop();
        keyFollows = false;
      } else if (token === ",") keyFollows = !!keys;
      else if (token === ":") keyFollows = false;
      else if (token.length > 10 || !/^[0-9]+$/.test(token)) throw refusal("number", token);
    }
  }
  function isDay(/** @type {string} */ text) {
    const part = /^([0-9]{4})-([0-9]{2})-([0-9]{2})$/.exec(text);
    if (!part) return false;
    const year = Number(part[1]), month = Number(part[2]), day = Number(part[3]), leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
    const last = month === 2 ? (leap ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : month >= 1 && month <= 12 ? 31 : 0;
    return year > 0 && day >= 1 && day <= last;
  }
  const isMinute = (/** @type {string} */ text) => /^.{10} (?:[01][0-9]|2[0-3]):[0-5][0-9]$/.test(text) && isDay(text.slice(0, 10));
  /** @type {Record<string, (given: any) => boolean>} */
  const KINDS = {
    text: (given) => typeof given === "string",
    "text or nothing": (given) => given === undefined || given === null || typeof given === "string",
    id: (given) => typeof given === "string" && given !== "" && given.slice(0, 2) !== "__",
    "yes or no": (given) => typeof given === "boolean",
    count: (given) => Number.isInteger(given) && given >= 1 && given < 4294967296,
    "day or nothing": (given) => given === "" || typeof given === "string" && isDay(given),
    "minute or nothing": (given) => given === "" || typeof given === "string" && isMinute(given),
    minute: (given) => typeof given === "string" && isMinute(given)
  };
  /** The place of the first field that is not as it should be.
      @type {(given: any, shape: any, place: string) => string | null} */
  function misfit(given, shape, place) {
    const below = (/** @type {string | number} */ key) => place ? place + "/" + key : String(key);
    if (typeof shape === "string") return KINDS[shape](given) ? null : place;
    if (Array.isArray(shape) !== Array.isArray(given) || !given || typeof given !== "object") return place;
    if (Array.isArray(shape)) {
      for (let i = 0; i < given.length; i++) { const at = misfit(given[i], shape[0], below(i)); if (at !== null) return at; }
      return null;
    }
    for (const key of Object.keys(shape)) {
      const name = key.replace("?", ""), there = Object.prototype.hasOwnProperty.call(given, name);
      const at = !there && name !== key ? null : misfit(there ? given[name] : undefined, shape[key], below(name));
      if (at !== null) return at;
    }
    return null;
  }
  /** Who signed at a stop and when, where a note says it.
      @type {BayleafReading["heldIn"]} */
  function heldIn(text) {
    const held = /^Signed at the stop: ([^]*?)(?:, ([^,]{16}))?$/.exec(text);
    return held && (held[2] === undefined || isMinute(held[2]) ? { name: held[1], time: held[2] || "" } : { name: text.slice(20), time: "" });
  }
  /* What contradicts itself, whatever the guide. */
  function contradiction(/** @type {any} */ found) {
    const wait = (found.waits || []).find((/** @type {any} */ w) => w.started > w.ended);
    if (wait) throw refusal("wait", wait.step);
    const seen = new Set();
    /** @type {(kind: string, what: string) => void} */
    const once = (kind, what) => {
      if (seen.has(kind + " " + what)) throw refusal("twice", what);
      seen.add(kind + " " + what);
    };
    found.options["with"].forEach((/** @type {string} */ id) => { once("with", id); });
    found.options.without.forEach((/** @type {string} */ id) => { once("without", id); });
    found.ticks.forEach((/** @type {string} */ id) => { once("tick", id); });
    found.torques.forEach((/** @type {any} */ t) => { once("torque", t.operation); });
    (found.measured || []).forEach((/** @type {any} */ m) => { once("measured", fill(say.value_of, { operation: m.operation, value: m.value })); });
    (found.waits || []).forEach((/** @type {any} */ w) => { once("wait", w.step); });
    found.notes.forEach((/** @type {any} */ n) => { once(stands(n.text) ? "stop" : "note", n.step); });
    const both = found.options["with"].find((/** @type {string} */ id) => found.options.without.includes(id));
    if (both !== undefined) throw refusal("both", both);
  }
  /* Whether a note is a name at a stop; one of spaces is none. */
  const stands = (/** @type {string} */ text) => { const held = heldIn(text); return !!held && /[^\p{White_Space}]/u.test(held.name); };

  /** What a file holds, or an error whose message says why it is not taken.
      @type {BayleafReading["read"]} */
  function read(text, seal) {
    if (text.length > list.largest || text.length * 3 > list.largest && unescape(encodeURIComponent(text)).length > list.largest) throw refusal("large");
    text = text.replace(/^\uFEFF+/, "").replace(/\r\n/g, "\n");
    if (isDeep(text)) throw refusal("deep");
    let found;
    try { found = JSON.parse(text); } catch (e) { throw refusal("json"); }
    loose(text);
    const of = (/** @type {string} */ name) => found && typeof found === "object" && Object.prototype.hasOwnProperty.call(found, name) ? found[name] : undefined;
    if (of("format") !== "bayleaf-record") throw refusal("format");
    if (typeof of("version") !== "number") throw refusal("no-version");
    if (found.version !== 1) throw refusal("version", String(found.version));
    if (typeof of("seal") !== "string" || !found.seal) throw refusal("no-seal");
    const at = text.lastIndexOf(BEFORE_SEAL), behind = text.slice(at + BEFORE_SEAL.length);
    if (at < 0 || seal(text.slice(0, at)) !== found.seal || behind.slice(0, found.seal.length) !== found.seal) throw refusal("changed");
    /* The file ends at the seal, so nothing stands in it that the seal does not cover. */
    if (behind.replace(/[ \t\r\n]+$/, "") !== found.seal + "\"\n}") throw refusal("behind");
    const place = misfit(found, list.shape, "");
    if (place !== null) throw refusal("field", place);
    contradiction(found);
    return found;
  }
  /** Refuses what a record has that the guide it was made with does not have.
      @type {BayleafReading["fit"]} */
  function fit(found, sheet) {
    const withs = found.options["with"], without = found.options.without, known = new Set(sheet.choices.flatMap((c) => c.options.map((o) => o.id)));
    const strange = withs.concat(without).find((/** @type {string} */ id) => !known.has(id));
    if (strange !== undefined) throw refusal("option", strange);
    if (!sheet.solve(withs, without)) throw refusal("together");
    if (found.order.vehicle && !sheet.vehicles.includes(found.order.vehicle)) throw refusal("vehicle", found.order.vehicle);
    const boxes = new Set(sheet.every()), operations = sheet.steps.flatMap((step) => step.operations);
    /** @type {(what: string, there: unknown) => void} */
    const need = (what, there) => { if (!there) throw refusal("stranger", what); };
    const stepOf = (/** @type {string} */ id) => sheet.steps.find((step) => step.id === id);
    found.ticks.forEach((/** @type {string} */ id) => { need(id, boxes.has(id)); });
    found.torques.forEach((/** @type {any} */ t) => { need(t.operation, operations.some((op) => op.id === t.operation && op.torque)); });
    (found.measured || []).forEach((/** @type {any} */ m) => { need(fill(say.value_of, { operation: m.operation, value: m.value }), operations.some((op) => op.measured.some((own) => own.key === m.operation + "#" + m.value))); });
    (found.waits || []).forEach((/** @type {any} */ w) => { const step = stepOf(w.step); need(w.step, step && step.wait); });
    found.notes.forEach((/** @type {any} */ n) => { const step = stepOf(n.step); need(n.step, step && (step.stop || !stands(n.text))); });
  }
  return { read, fit, refusal, heldIn, largest: list.largest };
})(window.bayleafUnits);
