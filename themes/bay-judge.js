/* The judging of what was entered: a torque or a measured value as text, against what is asked for. What may be entered, and the words
   of a refusal, come with units.js from the program, which judges a record in the same way. It keeps nothing and shows nothing: fields
   are left to bay-entry.js, the list of what is missing to bay-open.js.
   Needs: units.js */
/** @type {BayleafJudge} */
window.bayleafJudge = (function (/** @type {BayleafUnits} */ table) {
  "use strict";
  const { say, fill } = window.bayleafPhrases;
  const UNITS = table.units.map(([symbol, torque, exact, folded]) => ({ symbol, torque: torque && torque.map(BigInt), exact, folded }));
  const ROOM = { over: BigInt(table.room[0]), under: BigInt(table.room[1]) };
  const isSpace = (/** @type {string} */ c) => table.spaces.includes(c), joins = (/** @type {string} */ c) => isSpace(c) || table.joiners.includes(c);
  const small = (/** @type {string} */ c) => c >= "A" && c <= "Z" ? c.toLowerCase() : c;
  const alike = (/** @type {string} */ c) => Object.prototype.hasOwnProperty.call(table.alike, c) ? table.alike[c] : c;

  /* Exact numbers: fractions of whole numbers of any length. */
  /** @type {(text: string) => Fraction} */
  function decimal(text) {
    const negative = /^[-\u2212]/.test(text), [whole, part] = text.replace(/^[-\u2212]/, "").split(".");
    const over = BigInt(whole + (part || "")), under = BigInt("1" + "0".repeat((part || "").length));
    return { over: negative ? -over : over, under };
  }
  const times = (/** @type {Fraction} */ a, /** @type {Fraction} */ b) => ({ over: a.over * b.over, under: a.under * b.under });
  const plus = (/** @type {Fraction} */ a, /** @type {Fraction} */ b) => ({ over: a.over * b.under + b.over * a.under, under: a.under * b.under });
  const less = (/** @type {Fraction} */ a, /** @type {Fraction} */ b) => a.over * b.under < b.over * a.under;

  /* Reading ------------------------------------------------------------------------------------- */
  /** A phrase of the table with what belongs into it.
      @type {(what: string, told?: Record<string, string>) => string} */
  function refusal(what, told) {
    /** @type {Record<string, string>} */
    const given = told || {};
    let text = table.words[what];
    /* What was typed comes last, so that nothing in it is taken for a place to fill. */
    Object.keys(given).filter((name) => name !== "entry" && name !== "rest").forEach((name) => { text = text.split("{" + name + "}").join(given[name]); });
    return text.replace(/\{(\w*)\}/g, (_, name) => given[name] || "");
  }
  function trim(/** @type {string} */ text) {
    const chars = Array.from(text);
    while (chars.length && isSpace(chars[0])) chars.shift();
    while (chars.length && isSpace(chars[chars.length - 1])) chars.pop();
    return chars.join("");
  }
  /* Whether a text is a spelling: where that has a dot, up to three spaces, dots and hyphens may stand or nothing; a full stop may follow. */
  /** @type {(text: string, spelling: string, folded: boolean) => boolean} */
  function isSpelled(text, spelling, folded) {
    const chars = Array.from(text.replace(/\.$/, ""));
    let at = 0;
    for (const expected of spelling) {
      if (expected === "·" || expected === " ") {
        for (let n = 0; n < 3 && at < chars.length && joins(chars[at]); n++) at++;
        continue;
      }
      if (/[0-9]/.test(expected) && chars[at] === "^") at++;
      if (at === chars.length) return false;
      const found = alike(chars[at++]);
      if (found !== expected && !(folded && small(found) === expected)) return false;
    }
    return at === chars.length;
  }
  /** @type {(text: string, field: BayleafField) => (typeof UNITS)[0] | undefined} */
  function unitOf(text, field) {
    const counts = UNITS.filter((unit) => field.torque ? unit.torque : field.printed.some((printed) => printed.unit === unit.symbol));
    return counts.find((unit) => unit.exact.some((spelling) => isSpelled(text, spelling, false)) || unit.folded.some((spelling) => isSpelled(text, spelling, true)));
  }
  /** An entry read by the grammar: its number and unit, or why it is refused.
      @type {(entry: string, field: BayleafField) => { written: string, number: Fraction, unit: (typeof UNITS)[0] } | { why: string }} */
  function read(entry, field) {
    const units = field.torque ? refusal("units") : field.printed.map((printed) => printed.unit).join(" or ");
    /** @type {(what: string, more?: Record<string, string>) => { why: string }} */
    const refuse = (what, more) => ({ why: refusal(what, Object.assign({ entry, enter: refusal("enter", { units }), kind: refusal(field.torque ? "torque" : "value") }, more)) });
    const part = /^([-\u2212]?)([0-9]+)(?:([.,])([0-9]+))?([^]*)$/.exec(trim(entry));
    if (!part) return refuse("number");
    const [, sign, whole, mark = "", decimals = "", behind] = part, rest = trim(behind);
    if (whole.length + decimals.length > table.digits) return refuse("digits");
    if (mark === "," && decimals.length === 3 && whole.length <= 3 && whole[0] !== "0") return refuse("comma", { whole: whole + decimals, decimal: whole + "." + decimals });
    if (!rest.replace(/\.$/, "")) return refuse("unit");
    const unit = unitOf(rest, field);
    if (!unit) return refuse(/(?:^|[^A-Za-z0-9^])[0-9]/.test(rest) ? "several" : "other", { rest });
    return { written: sign + whole + (mark && mark + decimals), number: decimal(sign + whole + "." + decimals), unit };
  }

  /* Judging ------------------------------------------------------------------------------------- */
  /* On which side of what is asked for a number in a unit lies. In a unit that the guide prints, the number it prints counts; in any
     other, what either of them lets pass. */
  /** @type {(number: Fraction, unit: (typeof UNITS)[0], field: BayleafField) => "nothing" | "below" | "above" | ""} */
  function side(number, unit, field) {
    const printed = field.printed.find((p) => p.unit === unit.symbol), own = printed || field.torque || { low: null, high: null };
    if (field.torque && own.low === null && own.high === null) return "nothing";
    const y = printed || !unit.torque ? number : times(number, { over: unit.torque[0], under: unit.torque[1] });
    if (own.low !== null && less(y, plus(decimal(own.low), { over: -ROOM.over, under: ROOM.under }))) return "below";
    return own.high !== null && less(plus(decimal(own.high), ROOM), y) ? "above" : "";
  }
  /** What was entered against what is asked for: whether it is that, what the field says, and what the list of gaps says, as the command
      says it that prints the record.
      @type {BayleafJudge["judge"]} */
  function judge(entry, field) {
    const found = read(entry, field);
    if ("why" in found) return { ok: false, say: found.why + ".", gap: found.why };
    const off = side(found.number, found.unit, field);
    if (!off) return { ok: true, say: say.as_asked, gap: "" };
    const gap = refusal(off, { entry, asked: field.asked });
    if (off === "nothing") return { ok: false, say: gap[0].toUpperCase() + gap.slice(1) + ".", gap };
    const torque = found.unit.torque, inNewtonMetres = torque && torque[0] !== torque[1];
    const given = { entry: found.written + "\u00a0" + found.unit.symbol, asked: field.asked, torque: "" };
    if (inNewtonMetres) given.torque = Number((number(found.number) * Number(torque[0]) / Number(torque[1])).toPrecision(3)) + "\u00a0N·m";
    const below = inNewtonMetres ? say.entry_below_in : say.entry_below, above = inNewtonMetres ? say.entry_above_in : say.entry_above;
    const text = fill(off === "below" ? below : above, given);
    const other = torque && UNITS.find((u) => u !== found.unit && ["N·m", "lb·ft", "lb·in"].includes(u.symbol) && !side(found.number, u, field));
    return { ok: false, say: text + (other ? " " + fill(say.other_unit, { unit: other.symbol }) : ""), then: " " + say.put_it_right, gap };
  }
  const number = (/** @type {Fraction} */ f) => Number(f.over) / Number(f.under);

  /* What may be entered ------------------------------------------------------------------------- */
  /** What counts in the unit that is chosen, or in the one that is typed.
      @type {BayleafJudge["band"]} */
  function band(field, chosen, text) {
    const found = read(text, field), unit = "unit" in found ? found.unit.symbol : chosen;
    const own = field.printed.find((printed) => printed.unit === unit), plain = (/** @type {string | null} */ end) => end === null ? null : number(decimal(end));
    if (own) return within(plain(own.low), plain(own.high), unit);
    const known = field.torque && UNITS.find((u) => u.symbol === unit && u.torque);
    if (field.torque && known && known.torque) {
      const factor = Number(known.torque[0]) / Number(known.torque[1]);
      return within(inward(plain(field.torque.low), factor, Math.ceil), inward(plain(field.torque.high), factor, Math.floor), unit);
    }
    const first = field.printed[0];
    return first ? within(plain(first.low), plain(first.high), first.unit) : "";
  }
  /* An end of the band in another unit, with four digits that lie inside of it. */
  /** @type {(newtonMetres: number | null, factor: number, round: (x: number) => number) => number | null} */
  function inward(newtonMetres, factor, round) {
    if (newtonMetres === null) return null;
    const x = newtonMetres / factor, places = Math.min(6, Math.max(0, 3 - Math.floor(Math.log(Math.abs(x) || 1) / Math.LN10)));
    return Number((round(x * Math.pow(10, places)) / Math.pow(10, places)).toFixed(places));
  }
  /** @type {(low: number | null, high: number | null, unit: string) => string} */
  function within(low, high, unit) {
    if (low === null && high === null) return "";
    const one = low === null ? fill(say.up_to, { high: String(high) }) : high === null ? fill(say.from_up, { low }) : low === high ? low : fill(say.from_to, { first: low, last: high });
    return fill(say.counts_as_asked, { range: one + "\u00a0" + unit });
  }

  /** Whether an entry can be read at all.
      @type {BayleafJudge["reads"]} */
  const reads = (entry, field) => !("why" in read(entry, field));

  return { judge, band, reads };
})(window.bayleafUnits);
