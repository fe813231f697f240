/* The work on one vehicle: kept on this device until it is cleared, saved as a sealed file, opened again from one. What is entered on
   the page is left to bay-entry.js, what is shown of it to bay.js and bay-record.js. Nothing is sent anywhere. */
(function () {
  "use strict";
  var main = document.getElementById("sheet");
  var guide = {
    slug: main.getAttribute("data-guide"),
    title: main.querySelector("h1").textContent,
    document: main.getAttribute("data-document") || null,
    revision: main.getAttribute("data-revision") || null,
    fingerprint: main.getAttribute("data-print")
  };
  var KEY = "bayleaf.work:" + location.pathname.replace(/[^/]*$/, "");
  var listeners = [], refused = "", memory = null;

  /* Local time to the minute, as it stands in the record; and back again. */
  function minute(time) {
    var d = new Date(time), two = function (n) { return (n < 10 ? "0" : "") + n; };
    return d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate()) + " " + two(d.getHours()) + ":" + two(d.getMinutes());
  }
  function today() { return minute(Date.now()).slice(0, 10); }
  function timeOf(text) {
    var part = /^(\d{4})-(\d\d)-(\d\d) (\d\d):(\d\d)$/.exec(text);
    return part ? new Date(Number(part[1]), part[2] - 1, Number(part[3]), Number(part[4]), Number(part[5])).getTime() : NaN;
  }
  function blank() {
    return { version: 1, revision: guide.revision, fingerprint: guide.fingerprint, options: { "with": [], without: [] }, ticks: {}, torques: {},
      measured: {}, notes: {}, holds: {}, heldAt: {}, waits: {}, order: {}, signed: {}, at: "", touched: false };
  }
  /* What another hand put into the storage is not trusted to have every part. */
  function whole(found) {
    var state = blank();
    if (!found || typeof found !== "object") return state;
    Object.keys(state).forEach(function (k) {
      if (found[k] !== undefined && found[k] !== null && typeof found[k] === typeof state[k] || k === "revision") state[k] = found[k];
    });
    Object.keys(state.waits).forEach(function (s) {
      var wait = state.waits[s];
      if (!wait || !(wait.started <= wait.ended)) delete state.waits[s];
    });
    return state;
  }
  function read() {
    if (memory) return memory;
    try { return whole(JSON.parse(localStorage.getItem(KEY))); } catch (e) {
      refused = refused || "This browser does not let pages keep anything. The work lasts while this page is open: save the record before you close it.";
      memory = blank();
      return memory;
    }
  }
  function write(state) {
    try {
      if (!memory) { localStorage.setItem(KEY, JSON.stringify(state)); return; }
    } catch (e) {
      refused = "There is no room left on this device to keep the work. It lasts while this page is open: save the record before you close it.";
    }
    memory = state;
  }
  /* Another tab may have written in between, so each change is made to what is kept now. */
  function change(make) {
    var state = read();
    if (!state.touched) {
      state.touched = true;
      state.revision = guide.revision;
      state.fingerprint = guide.fingerprint;
      state.order.started = state.order.started || today();
      /* What was chosen on the page before the first entry. */
      if (window.bayleafOptions) state.options = window.bayleafOptions.chosen();
    }
    /* A signature stands under what was there when it was given. */
    var signed = JSON.stringify(state.signed), before = entries(state), lapsed = null, under = {};
    Object.keys(state.holds).forEach(function (s) { if (state.holds[s]) under[s] = [state.holds[s], entriesOf(state, s)]; });
    make(state);
    /* So does the one at a stop, under what was there of its step. */
    var stops = Object.keys(under).filter(function (s) { return state.holds[s] === under[s][0] && entriesOf(state, s) !== under[s][1]; });
    stops.forEach(function (s) {
      delete state.holds[s];
      delete state.heldAt[s];
      delete state.ticks[s + "/hold"];
    });
    if ((state.signed.technician || state.signed.inspector) && JSON.stringify(state.signed) === signed && entries(state) !== before) {
      lapsed = ["technician", "inspector"].filter(function (who) { return state.signed[who]; });
      state.signed = {};
      state.order.finished = "";
    }
    write(state);
    tell(lapsed || stops.length ? "lapsed" : "here", lapsed || [], stops);
  }
  /* What was ticked and entered of a step, but for the name at its stop. */
  function entriesOf(state, step) {
    var of = function (kept) { return Object.keys(kept).filter(function (k) { return k.indexOf(step + "/") === 0 && k !== step + "/hold"; }).sort().map(function (k) { return [k, kept[k]]; }); };
    return JSON.stringify([of(state.ticks), of(state.torques), of(state.measured)]);
  }
  function entries(state) {
    /* The inspector comes after the technician has signed. */
    var order = Object.keys(state.order).filter(function (k) { return k !== "inspector"; }).map(function (k) { return [k, state.order[k]]; });
    return JSON.stringify([state.ticks, state.torques, state.measured, state.notes, state.holds, state.waits, state.options, order]);
  }
  function tell(from, lapsed, stops) { listeners.forEach(function (f) { f(from, lapsed, stops); }); }
  window.addEventListener("storage", function (e) { if (!memory && (e.key === KEY || e.key === null)) tell("elsewhere"); });
  window.addEventListener("beforeunload", function (e) {
    if (memory && memory.touched) { e.preventDefault(); e.returnValue = ""; }
  });

  /* SHA-256 by FIPS 180-4. The browser's own is not there on plain http. */
  function seal(text) {
    var bytes = unescape(encodeURIComponent(text)), words = [], i, j, h = [], k = [], n = 2, frac = function (x) { return (x - Math.floor(x)) * 4294967296 | 0; };
    for (; k.length < 64; n++) {
      for (i = 2; i * i <= n && n % i; i++);
      if (i * i <= n) continue;
      if (h.length < 8) h.push(frac(Math.sqrt(n)));
      k.push(frac(Math.cbrt(n)));
    }
    for (i = 0; i < bytes.length; i++) words[i >> 2] |= bytes.charCodeAt(i) << (24 - i % 4 * 8);
    words[bytes.length >> 2] |= 0x80 << (24 - bytes.length % 4 * 8);
    var blocks = ((bytes.length + 8 >> 6) + 1) * 16;
    words[blocks - 1] = bytes.length * 8 | 0;
    words[blocks - 2] = Math.floor(bytes.length / 536870912);
    var turn = function (x, by) { return x >>> by | x << 32 - by; };
    for (i = 0; i < blocks; i += 16) {
      var w = [], v = h.slice();
      for (j = 0; j < 64; j++) {
        if (j < 16) w[j] = words[i + j] | 0;
        else {
          var a = w[j - 15], b = w[j - 2];
          w[j] = (turn(a, 7) ^ turn(a, 18) ^ a >>> 3) + w[j - 7] + (turn(b, 17) ^ turn(b, 19) ^ b >>> 10) + w[j - 16] | 0;
        }
        var t1 = v[7] + (turn(v[4], 6) ^ turn(v[4], 11) ^ turn(v[4], 25)) + (v[4] & v[5] ^ ~v[4] & v[6]) + k[j] + w[j] | 0;
        var t2 = (turn(v[0], 2) ^ turn(v[0], 13) ^ turn(v[0], 22)) + (v[0] & v[1] ^ v[0] & v[2] ^ v[1] & v[2]) | 0;
        v = [t1 + t2 | 0, v[0], v[1], v[2], v[3] + t1 | 0, v[4], v[5], v[6]];
      }
      for (j = 0; j < 8; j++) h[j] = h[j] + v[j] | 0;
    }
    return h.map(function (x) { return ("0000000" + (x >>> 0).toString(16)).slice(-8); }).join("");
  }

  /* The file: as JSON.stringify lays it out with two spaces, and the seal over all that stands before it. */
  function file(state) {
    var order = {};
    ["order", "registration", "vehicle", "vin", "odometer", "technician", "inspector", "started"].forEach(function (k) { order[k] = state.order[k] || ""; });
    order.finished = state.signed.technician ? state.order.finished || today() : "";
    var notes = Object.keys(state.notes).filter(function (s) { return state.notes[s]; }).map(function (s) { return { step: s, text: state.notes[s] }; });
    Object.keys(state.holds).forEach(function (s) { if (state.holds[s]) notes.push({ step: s, text: "Signed at the stop: " + state.holds[s] + (state.heldAt[s] ? ", " + state.heldAt[s] : "") }); });
    var body = JSON.stringify({
      format: "bayleaf-record", version: 1,
      guide: { slug: guide.slug, title: guide.title, document: guide.document, revision: state.revision, fingerprint: state.fingerprint },
      options: { "with": state.options["with"], without: state.options.without },
      order: order,
      ticks: Object.keys(state.ticks).filter(function (t) { return state.ticks[t]; }).sort(),
      torques: Object.keys(state.torques).filter(function (t) { return state.torques[t].applied; }).sort().map(function (t) {
        var given = state.torques[t];
        return { operation: t, applied: given.applied, wrench: given.wrench || "", note: given.note || "" };
      }),
      measured: Object.keys(state.measured).filter(function (t) { return state.measured[t].measured; }).sort().map(function (t) {
        var given = state.measured[t], at = t.lastIndexOf("#");
        return { operation: t.slice(0, at), value: Number(t.slice(at + 1)), measured: given.measured, note: given.note || "" };
      }),
      waits: Object.keys(state.waits).sort().map(function (s) { 
        var wait = state.waits[s];
        return { step: s, started: minute(wait.started), ended: minute(wait.ended), ticked: wait.ticked ? minute(wait.ticked) : "" };
      }),
      notes: notes,
      signed: { technician: !!state.signed.technician, inspector: !!state.signed.inspector }
    }, null, 2);
    body = body.slice(0, body.length - 2);
    return body + ',\n  "seal": "' + seal(body) + '"\n}\n';
  }
  /* The state in a file, or an error whose message says what is the matter with it. */
  function open(text) {
    text = text.replace(/\r\n/g, "\n").replace(/^\uFEFF/, "");
    var found;
    try { found = JSON.parse(text); } catch (e) { throw new Error("This file is no record: it is not JSON."); }
    if (!found || found.format !== "bayleaf-record") throw new Error("This file is no record of work done.");
    if (found.version !== 1) throw new Error("This record is of a later kind than this page can read.");
    var at = text.lastIndexOf(',\n  "seal": "');
    if (typeof found.seal !== "string" || !found.seal) throw new Error("This record is not taken: it has no seal; save the record in the bay view again.");
    if (at < 0 || seal(text.slice(0, at)) !== found.seal) {
      throw new Error("This record is not taken: its text is not as it was saved, so its seal cannot be checked: an entry was changed, or another program laid it out anew; save the record in the bay view again.");
    }
    if (!found.guide || found.guide.slug !== guide.slug) throw new Error("This record belongs to another guide" + (found.guide && found.guide.title ? ": “" + found.guide.title + "”." : "."));
    var state = blank();
    state.touched = true;
    state.revision = found.guide.revision;
    state.fingerprint = String(found.guide.fingerprint);
    state.options = { "with": list(found.options && found.options["with"]), without: list(found.options && found.options.without) };
    list(found.ticks).forEach(function (t) { state.ticks[t] = true; });
    (Array.isArray(found.torques) ? found.torques : []).forEach(function (t) {
      if (t && t.operation) state.torques[t.operation] = { applied: String(t.applied || ""), wrench: String(t.wrench || ""), note: String(t.note || "") };
    });
    (Array.isArray(found.measured) ? found.measured : []).forEach(function (m) {
      if (m && m.operation) state.measured[m.operation + "#" + Number(m.value)] = { measured: String(m.measured || ""), note: String(m.note || "") };
    });
    (Array.isArray(found.waits) ? found.waits : []).forEach(function (w) {
      /* The file leaves out the seconds: no wait is over before its time for that. */
      var started = w && w.step ? timeOf(w.started) : NaN, ended = w && w.step ? timeOf(w.ended) + 59000 : NaN;
      if (!(started <= ended)) return;
      state.waits[w.step] = { started: started, ended: ended };
      if (w.ticked) state.waits[w.step].ticked = timeOf(w.ticked) + 59000;
    });
    (Array.isArray(found.notes) ? found.notes : []).forEach(function (n) {
      if (!n || !n.step) return;
      var held = /^Signed at the stop: ([^]*?)(?:, (\d{4}-\d\d-\d\d \d\d:\d\d))?$/.exec(String(n.text));
      if (!held) { state.notes[n.step] = String(n.text); return; }
      state.holds[n.step] = held[1];
      if (held[2]) state.heldAt[n.step] = held[2];
    });
    Object.keys(found.order || {}).forEach(function (k) { state.order[k] = String(found.order[k]); });
    state.signed = { technician: !!(found.signed && found.signed.technician), inspector: !!(found.signed && found.signed.inspector) };
    return state;
  }
  function list(given) { return Array.isArray(given) ? given.map(String) : []; }

  window.bayleafWork = {
    guide: guide, read: read, change: change, file: file, open: open, seal: seal, today: today, minute: minute,
    sealOf: function (state) { return JSON.parse(file(state)).seal; },
    refusal: function () { return refused; },
    take: function (state) { write(state); tell("here"); },
    clear: function () {
      memory = memory ? blank() : null;
      try { localStorage.removeItem(KEY); } catch (e) { /* nothing was kept */ }
      tell("here");
    },
    /* Where the kept work is of another text than this page. */
    older: function () { var s = read(); return s.touched && (s.fingerprint !== guide.fingerprint || (s.revision || null) !== guide.revision) ? s : null; },
    /* What is said of it: that it was begun, or done, to another text. */
    another: function (how) {
      var s = read(), name = function (of) { return (of.revision ? "revision " + of.revision + ", " : "") + "fingerprint " + of.fingerprint; };
      return "This work was " + how + " " + name(s) + "; this page is " + name(guide) + ".";
    },
    onchange: function (f) { listeners.push(f); }
  };
})();
