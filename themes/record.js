/* The work on one vehicle: kept on this device until it is cleared, saved as a sealed file, opened again from one. What is entered on
   the page is left to bay-entry.js, what is shown of it to bay.js and bay-record.js, why a file is no record to record-read.js. Nothing
   is sent anywhere.
   Needs: record-read.js */
(function (/** @type {BayleafReading} */ reading) {
  "use strict";
  const { say, fill } = window.bayleafPhrases;
  const main = /** @type {HTMLElement} */ (document.getElementById("sheet"));
  const guide = {
    slug: main.getAttribute("data-guide"),
    title: /** @type {Element} */ (main.querySelector("h1")).textContent,
    document: main.getAttribute("data-document") || null,
    revision: main.getAttribute("data-revision") || null,
    fingerprint: main.getAttribute("data-print")
  };
  const KEY = "bayleaf.work:" + location.pathname.replace(/[^/]*$/, "");
  /** @type {BayleafListener[]} */
  const listeners = [];
  let refused = "";
  /** @type {BayleafState | null} */
  let memory = null;
  /* The text as this page last found or kept it. */
  /** @type {string | null} */
  let last = null;

  /* Local time to the minute, as it stands in the record; and back again. */
  function minute(/** @type {number} */ time) {
    const d = new Date(time), two = function (/** @type {number} */ n) { return (n < 10 ? "0" : "") + n; };
    return d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate()) + " " + two(d.getHours()) + ":" + two(d.getMinutes());
  }
  function today() { return minute(Date.now()).slice(0, 10); }
  function timeOf(/** @type {string} */ text) {
    const part = /^(\d{4})-(\d\d)-(\d\d) (\d\d):(\d\d)$/.exec(text);
    return part ? new Date(Number(part[1]), Number(part[2]) - 1, Number(part[3]), Number(part[4]), Number(part[5])).getTime() : NaN;
  }
  /** @type {() => BayleafState} */
  function blank() {
    return { version: 1, revision: guide.revision, fingerprint: guide.fingerprint, options: { "with": [], without: [] }, ticks: {}, torques: {},
      measured: {}, notes: {}, holds: {}, heldAt: {}, waits: {}, order: {}, signed: {}, at: "", touched: false };
  }
  /* What another hand put into the storage is not trusted to have every part. */
  /** @type {(found: any) => BayleafState} */
  function whole(found) {
    const state = blank();
    if (!found || typeof found !== "object") return state;
    const own = /** @type {Record<string, any>} */ (/** @type {unknown} */ (state));
    Object.keys(own).forEach((k) => {
      if (found[k] !== undefined && found[k] !== null && typeof found[k] === typeof own[k] || k === "revision") own[k] = found[k];
    });
    [state.notes, state.holds, state.heldAt, state.order].forEach(texts);
    /* Each entry is one of texts, and what is none is no entry. */
    [state.torques, state.measured].forEach((/** @type {Record<string, any>} */ kept) => {
      Object.keys(kept).forEach((t) => { if (kept[t] && typeof kept[t] === "object") texts(kept[t]); else delete kept[t]; });
    });
    Object.keys(state.waits).forEach((s) => {
      const wait = state.waits[s];
      if (!wait || !(wait.started <= wait.ended)) delete state.waits[s];
    });
    const ids = function (/** @type {any} */ list) { return Array.isArray(list) ? list.filter((id) => typeof id === "string") : []; };
    state.options = { "with": ids(state.options["with"]), without: ids(state.options.without) };
    return state;
  }
  function texts(/** @type {Record<string, any>} */ kept) {
    Object.keys(kept).forEach((k) => { if (typeof kept[k] !== "string") delete kept[k]; });
  }
  function read() {
    if (memory) return memory;
    let text = null;
    try { text = localStorage.getItem(KEY); } catch (e) {
      refused = refused || say.nothing_can_be_kept;
      memory = blank();
      return memory;
    }
    /* Clearing the work leaves a text too, so where there is none the browser or another hand took it. */
    if (text === null && last !== null && !isBlank(last)) {
      text = last;
      refused = say.work_was_taken_away;
      keep(text);
      if (memory) return memory;
    }
    last = text;
    try { return whole(JSON.parse(text || "null")); } catch (e) {
      /* It is put aside as it is, for whoever can read it, and what is entered from here on is kept. */
      refused = say.work_was_damaged;
      try { localStorage.setItem(KEY + "damaged", String(text)); } catch (e2) { /* no room for it */ }
      keep(JSON.stringify(blank()));
      return memory || blank();
    }
  }
  /* Whether a text says that nothing was begun. */
  function isBlank(/** @type {string} */ text) { return text.indexOf('"touched":true') < 0; }
  /* Keeps a text on this device, or what it says in this page where there is no room. */
  function keep(/** @type {string} */ text) {
    try {
      localStorage.setItem(KEY, text);
      last = text;
    } catch (e) {
      refused = say.no_room_for_work;
      memory = whole(JSON.parse(text));
    }
  }
  function write(/** @type {BayleafState} */ state) {
    if (memory) memory = state;
    else keep(JSON.stringify(state));
  }
  /* Another tab may have written in between, so each change is made to what is kept now. */
  /** @type {BayleafWork["change"]} */
  function change(make) {
    const state = read();
    if (!state.touched) {
      state.touched = true;
      state.revision = guide.revision;
      state.fingerprint = guide.fingerprint;
      state.order.started = state.order.started || today();
      /* What was chosen on the page before the first entry. */
      if (window.bayleafOptions) state.options = window.bayleafOptions.chosen();
    }
    /* A signature stands under what was there when it was given. */
    const signed = JSON.stringify(state.signed), before = entries(state);
    /** @type {Record<string, [string, string]>} */
    const under = {};
    /** @type {string[] | null} */
    let lapsed = null;
    Object.keys(state.holds).forEach((s) => { if (state.holds[s]) under[s] = [state.holds[s], entriesOf(state, s)]; });
    make(state);
    /* So does the one at a stop, under what was there of its step. */
    const stops = Object.keys(under).filter((s) => state.holds[s] === under[s][0] && entriesOf(state, s) !== under[s][1]);
    stops.forEach((s) => {
      delete state.holds[s];
      delete state.heldAt[s];
      delete state.ticks[s + "/hold"];
    });
    if ((state.signed.technician || state.signed.inspector) && JSON.stringify(state.signed) === signed && entries(state) !== before) {
      lapsed = ["technician", "inspector"].filter((who) => state.signed[who]);
      state.signed = {};
      state.order.finished = "";
    }
    write(state);
    tell(lapsed || stops.length ? "lapsed" : "here", lapsed || [], stops);
  }
  /* What was ticked and entered of a step, but for the name at its stop. */
  /** @type {(state: BayleafState, step: string) => string} */
  function entriesOf(state, step) {
    const of = function (/** @type {Record<string, unknown>} */ kept) { return Object.keys(kept).filter((k) => k.indexOf(step + "/") === 0 && k !== step + "/hold").sort().map((k) => [k, kept[k]]); };
    return JSON.stringify([of(state.ticks), of(state.torques), of(state.measured)]);
  }
  function entries(/** @type {BayleafState} */ state) {
    /* The inspector comes after the technician has signed. */
    const order = Object.keys(state.order).filter((k) => k !== "inspector").map((k) => [k, state.order[k]]);
    return JSON.stringify([state.ticks, state.torques, state.measured, state.notes, state.holds, state.waits, state.options, order]);
  }
  /** @type {(from: string, lapsed?: string[], stops?: string[]) => void} */
  function tell(from, lapsed, stops) { listeners.forEach((f) => { f(from, lapsed || [], stops || []); }); }
  window.addEventListener("storage", (e) => { if (!memory && (e.key === KEY || e.key === null)) tell("elsewhere"); });
  window.addEventListener("beforeunload", (e) => {
    if (memory && memory.touched) { e.preventDefault(); e.returnValue = ""; }
  });

  /* SHA-256 by FIPS 180-4. The browser's own is not there on plain http. */
  function seal(/** @type {string} */ text) {
    const bytes = unescape(encodeURIComponent(text));
    /** @type {number[]} */
    const words = [], /** @type {number[]} */ h = [], /** @type {number[]} */ k = [];
    let i, j, n = 2;
    const frac = function (/** @type {number} */ x) { return (x - Math.floor(x)) * 4294967296 | 0; };
    for (; k.length < 64; n++) {
      for (i = 2; i * i <= n && n % i; i++);
      if (i * i <= n) continue;
      if (h.length < 8) h.push(frac(Math.sqrt(n)));
      k.push(frac(Math.cbrt(n)));
    }
    for (i = 0; i < bytes.length; i++) words[i >> 2] |= bytes.charCodeAt(i) << (24 - i % 4 * 8);
    words[bytes.length >> 2] |= 0x80 << (24 - bytes.length % 4 * 8);
    const blocks = ((bytes.length + 8 >> 6) + 1) * 16;
    words[blocks - 1] = bytes.length * 8 | 0;
    words[blocks - 2] = Math.floor(bytes.length / 536870912);
    const turn = function (/** @type {number} */ x, /** @type {number} */ by) { return x >>> by | x << 32 - by; };
    for (i = 0; i < blocks; i += 16) {
      /** @type {number[]} */
      const w = [];
      let v = h.slice();
      for (j = 0; j < 64; j++) {
        if (j < 16) w[j] = words[i + j] | 0;
        else {
          const a = w[j - 15], b = w[j - 2];
          w[j] = (turn(a, 7) ^ turn(a, 18) ^ a >>> 3) + w[j - 7] + (turn(b, 17) ^ turn(b, 19) ^ b >>> 10) + w[j - 16] | 0;
        }
        const t1 = v[7] + (turn(v[4], 6) ^ turn(v[4], 11) ^ turn(v[4], 25)) + (v[4] & v[5] ^ ~v[4] & v[6]) + k[j] + w[j] | 0;
        const t2 = (turn(v[0], 2) ^ turn(v[0], 13) ^ turn(v[0], 22)) + (v[0] & v[1] ^ v[0] & v[2] ^ v[1] & v[2]) | 0;
        v = [t1 + t2 | 0, v[0], v[1], v[2], v[3] + t1 | 0, v[4], v[5], v[6]];
      }
      for (j = 0; j < 8; j++) h[j] = h[j] + v[j] | 0;
    }
    return h.map((x) => ("0000000" + (x >>> 0).toString(16)).slice(-8)).join("");
  }

  /* The file: as JSON.stringify lays it out with two spaces, and the seal over all that stands before it. */
  function file(/** @type {BayleafState} */ state) {
    /** @type {Record<string, string>} */
    const order = {};
    ["order", "registration", "vehicle", "vin", "odometer", "technician", "inspector", "started"].forEach((k) => { order[k] = state.order[k] || ""; });
    order.finished = state.signed.technician ? state.order.finished || today() : "";
    const notes = Object.keys(state.notes).filter((s) => state.notes[s]).map((s) => ({ step: s, text: state.notes[s] }));
    Object.keys(state.holds).forEach((s) => { if (state.holds[s]) notes.push({ step: s, text: "Signed at the stop: " + state.holds[s] + (state.heldAt[s] ? ", " + state.heldAt[s] : "") }); });
    let body = JSON.stringify({
      format: "bayleaf-record", version: 1,
      guide: { slug: guide.slug, title: guide.title, document: guide.document, revision: state.revision, fingerprint: state.fingerprint },
      options: { "with": state.options["with"], without: state.options.without },
      order,
      ticks: Object.keys(state.ticks).filter((t) => state.ticks[t]).sort(),
      torques: Object.keys(state.torques).filter((t) => state.torques[t].applied).sort().map((t) => {
        const given = state.torques[t];
        return { operation: t, applied: given.applied, wrench: given.wrench || "", note: given.note || "" };
      }),
      measured: Object.keys(state.measured).filter((t) => state.measured[t].measured).sort().map((t) => {
        const given = state.measured[t], at = t.lastIndexOf("#");
        return { operation: t.slice(0, at), value: Number(t.slice(at + 1)), measured: given.measured, note: given.note || "" };
      }),
      waits: Object.keys(state.waits).sort().map((s) => { 
        const wait = state.waits[s];
        return { step: s, started: minute(wait.started), ended: minute(wait.ended), ticked: wait.ticked ? minute(wait.ticked) : "" };
      }),
      notes,
      signed: { technician: !!state.signed.technician, inspector: !!state.signed.inspector }
    }, (_, value) => typeof value === "string" ? value.replace(/\p{Surrogate}/gu, "\uFFFD") : value, 2);
    /* Half of a letter that takes two is no text, and the program would refuse it. */
    body = body.slice(0, body.length - 2);
    return body + ',\n  "seal": "' + seal(body) + '"\n}\n';
  }
  /** The state in a file, or an error whose message says what is the matter with it. A record of this text of the guide is held against
      the page, where that is given.
      @type {BayleafWork["open"]} */
  function open(text, sheet) {
    const found = reading.read(text, seal);
    if (found.guide.slug !== guide.slug) throw reading.refusal("guide", found.guide.slug);
    if (sheet && found.guide.fingerprint === guide.fingerprint) reading.fit(found, sheet);
    const state = blank();
    state.touched = true;
    state.revision = found.guide.revision;
    state.fingerprint = found.guide.fingerprint;
    state.options = { "with": found.options["with"], without: found.options.without };
    found.ticks.forEach((/** @type {string} */ t) => { state.ticks[t] = true; });
    found.torques.forEach((/** @type {any} */ t) => { state.torques[t.operation] = { applied: t.applied, wrench: t.wrench, note: t.note }; });
    (found.measured || []).forEach((/** @type {any} */ m) => { state.measured[m.operation + "#" + m.value] = { measured: m.measured, note: m.note }; });
    (found.waits || []).forEach((/** @type {any} */ w) => {
      /* The file leaves out the seconds: no wait is over before its time for that. */
      state.waits[w.step] = { started: timeOf(w.started), ended: timeOf(w.ended) + 59000 };
      if (w.ticked) state.waits[w.step].ticked = timeOf(w.ticked) + 59000;
    });
    found.notes.forEach((/** @type {any} */ n) => {
      const held = reading.heldIn(n.text);
      if (!held) { state.notes[n.step] = n.text; return; }
      state.holds[n.step] = held.name;
      if (held.time) state.heldAt[n.step] = held.time;
    });
    Object.keys(found.order).forEach((k) => { if (typeof found.order[k] === "string" && k.slice(0, 2) !== "__") state.order[k] = found.order[k]; });
    state.signed = { technician: found.signed.technician, inspector: found.signed.inspector };
    return state;
  }

  /** @type {BayleafWork} */
  window.bayleafWork = {
    guide, read, change, file, open, seal, today, minute,
    sealOf: function (state) { return JSON.parse(file(state)).seal; },
    refusal: function () { return refused; },
    take: function (state) { write(state); tell("here"); },
    clear: function () {
      write(blank());
      tell("here");
    },
    /* Where the kept work is of another text than this page. */
    older: function () { const s = read(); return s.touched && (s.fingerprint !== guide.fingerprint || (s.revision || null) !== guide.revision) ? s : null; },
    /* What is said of it: that it was begun, or done, to another text. */
    another: function (how) {
      const s = read(), name = function (/** @type {{ revision: string | null, fingerprint: string | null }} */ of) { return of.revision ? fill(say.revision_fingerprint, { revision: of.revision, fingerprint: of.fingerprint || "" }) : fill(say.fingerprint_only, { fingerprint: of.fingerprint || "" }); };
      return fill(how, { other: name(s), own: name(guide) });
    },
    onchange: function (f) { listeners.push(f); }
  };
})(window.bayleafReading);
