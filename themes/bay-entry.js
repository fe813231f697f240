/* What is ticked and entered on the page, and the clocks for waits: boxes, fields and buttons beside what they belong to. What is
   entered is kept by record.js and judged by bay-judge.js; which screen they stand on is left to bay.js.
   Needs: bay-page.js, bay-judge.js, bay-open.js, record.js */
/** @type {BayleafEntry} */
window.bayleafEntry = (function (/** @type {BayleafPage} */ page, /** @type {BayleafJudge} */ judge, /** @type {BayleafOpen} */ open, /** @type {BayleafWork} */ work) {
  "use strict";
  const { say, fill } = window.bayleafPhrases;
  const main = page.main, all = page.all, make = page.make, button = page.button, words = page.words, shown = page.shown, numberOf = page.numberOf;
  /** @typedef {HTMLInputElement | HTMLSelectElement} Input */
  /** @typedef {(state: BayleafState) => string | undefined} Kept */
  /** @type {Record<string, { input: HTMLInputElement, value: Kept, label: string }>} */
  const fields = {};
  /** @type {((state: BayleafState) => void)[]} */
  const refreshers = [];
  /** @type {{ step: HTMLElement, how: string, tell: (end: number, ticked: boolean, shows: number) => void }[]} */
  const waits = [];
  /** @type {(el: HTMLElement | null) => el is HTMLElement} */
  const isThere = (el) => el !== null;
  const one = page.one, idOf = page.idOf;
  const behind = (/** @type {Element} */ el, /** @type {Node} */ added) => { el.insertAdjacentElement("afterend", /** @type {Element} */ (added)); };

  /** @type {(id: string, label: string, holder: Element) => HTMLInputElement} */
  function tick(id, label, holder) {
    const box = make("input", { type: "checkbox", "data-tick": id, "aria-label": label });
    const wrap = make("label", { "class": "tick bayed" }, [box]);
    holder.insertBefore(wrap, holder.firstChild);
    box.addEventListener("change", () => {
      work.change((s) => {
        const wait = s.waits[id.replace(/\/wait$/, "")];
        if (box.checked) s.ticks[id] = true; else delete s.ticks[id];
        /* Whether a wait was ticked before its time is asked of the clock, and not of the day on which the record is read. */
        if (wait && /\/wait$/.test(id)) { if (box.checked) wait.ticked = Date.now(); else delete wait.ticked; }
      });
    });
    return box;
  }
  /** @type {BayleafEntry["field"]} */
  function field(label, id, value, parse, kind) {
    const input = make("input", { type: "text", id, autocomplete: "off" });
    input.addEventListener("input", () => { work.change((s) => { parse(s, input.value); }); });
    input.addEventListener("blur", () => { input.value = value(work.read()) || ""; });
    fields[id] = { input, value, label };
    return make("p", { "class": "bayed entry " + (kind || "") }, [make("label", { "for": id, text: label }), input]);
  }
  /* The text of a field is what is kept, also where another tab wrote it; only what is being typed stays, and what differs then is told. */
  /** @type {BayleafDiffer[]} */
  let differs = [];
  const typing = function (/** @type {Input} */ input) { return document.activeElement === input && document.hasFocus(); };
  /** @type {(input: HTMLInputElement, kept: string, label: string) => void} */
  function follow(input, kept, label) {
    if (!typing(input)) input.value = kept; else if (input.value.trim() !== kept.trim()) differs.push({ label, kept });
  }
  /** A field for a number, its unit, what is said of it, and why it stays where it is not what is asked for.
      @type {(n: string, label: string, choices: string[], hintOf: (unit: string, text: string) => string, hold: (text: string, why: string) => void) =>
        { dd: HTMLElement, refresh: (given: string | undefined, reason: string | undefined, judged: BayleafJudged | undefined, stays?: boolean) => void, lead: (unit: string) => void }} */
  function entry(n, label, choices, hintOf, hold) {
    const input = make("input", { type: "text", id: n, inputmode: "decimal", autocomplete: "off", "aria-describedby": n + "-say " + n + "-band", maxlength: "40" });
    const unit = make("select", { "aria-label": fill(say.unit_of, { name: label }) }, choices.map((u) => make("option", { text: u })));
    const verdict = make("p", { id: n + "-say", role: "status", "class": "verdict" });
    const why = make("input", { type: "text", id: n + "-why", autocomplete: "off" });
    const note = make("p", { "class": "entry", hidden: "" }, [make("label", { "for": n + "-why", text: say.why_it_stays }), why]);
    const typed = function () {
      const text = input.value.trim();
      /* A unit that is typed goes before the one beside the field. */
      return !text ? "" : /[^\d\s.,\-\u2212]/.test(text) ? text : text + " " + unit.value;
    };
    const held = function () { hold(typed(), why.value); };
    const hint = make("small", { id: n + "-band" });
    const tellBand = function () { hint.textContent = hintOf(unit.value, input.value); };
    input.addEventListener("input", () => { tellBand(); held(); });
    unit.addEventListener("change", () => { tellBand(); held(); });
    why.addEventListener("input", held);
    const dd = make("dd", { "class": "bayed applied" }, [make("label", { "for": n, text: label }), make("span", { "class": "pair" }, [input, unit]), hint, verdict, note]);
    let kept = "";
    /** @type {(given: string | undefined, reason: string | undefined, judged: BayleafJudged | undefined, stays?: boolean) => void} */
    function refresh(given, reason, judged, stays) {
      kept = given || "";
      if (typing(input) || typing(unit)) {
        if (typed() !== kept) differs.push({ label, kept });
      } else {
        const last = kept.split(/\s+/).pop() || "", at = choices.indexOf(last);
        input.value = at < 0 ? kept : kept.slice(0, kept.length - last.length).trim();
        if (at >= 0) unit.value = last;
      }
      tellBand();
      follow(why, reason || "", say.why_it_stays);
      const said = judged ? judged.say + (judged.then || "") : "";
      if (verdict.textContent !== said) {
        verdict.textContent = said;
        /* What is said of what is being typed is on view, whatever covers the screen. */
        if (said && typing(input)) verdict.scrollIntoView({ block: "nearest" });
      }
      dd.classList.toggle("good", !!judged && judged.ok);
      dd.classList.toggle("bad", !!judged && !judged.ok);
      note.hidden = !stays && (!judged || judged.ok);
    }
    input.addEventListener("blur", () => { if (typed() !== kept) refreshFields(work.read()); });
    const lead = function (/** @type {string} */ u) {
      if (choices.indexOf(u) >= 0 && !input.value && document.activeElement !== unit) unit.value = u;
      tellBand();
    };
    return { dd, refresh, lead };
  }
  /** @type {(m: BayleafMeasured) => (state: BayleafState) => void} */
  function measuredEntry(m) {
    const own = entry("measured-" + m.key.replace(/[^\w-]/g, "-"), fill(say.measured_value, { name: m.name }), m.field.printed.map((p) => p.unit), (unit, text) => judge.band(m.field, unit, text), (text, why) => {
      work.change((s) => { if (text) s.measured[m.key] = { measured: text, note: why }; else delete s.measured[m.key]; });
    });
    behind(m.dd, own.dd);
    return function (state) {
      const given = state.measured[m.key];
      own.refresh(given && given.measured, given && given.note, given && judge.judge(given.measured, m.field));
    };
  }
  /* A box for each pass, before something in the list; behind all of it where nothing is given. */
  /** @type {(dl: Element, before?: Element) => void} */
  function passBoxes(dl, before) {
    all(".in-passes>span", dl).forEach((pass, i) => {
      /* The words of the page, so that the units change their order here as well. */
      const line = make("span", { "class": "pass" }, [say.pass_head + " ", pass.cloneNode(true)]);
      const row = make("dd", { "class": "bayed passes" }, [line]);
      tick(idOf(dl) + "/pass/" + (i + 1), fill(say.pass_done, { pass: words(pass) }), row);
      dl.insertBefore(row, before || null);
    });
  }
  /* The torque wrenches to choose from, once on the page; their numbers are what stands on them. */
  function wrenchList() {
    const id = "bay-wrenches";
    if (!document.getElementById(id)) {
      main.appendChild(make("datalist", { id, "class": "bayed" }, page.sheet().wrenches.map((w) => make("option", { value: w.number || w.id, text: w.until ? fill(say.wrench_listed_until, { name: w.name, range: w.range, day: w.until }) : fill(say.wrench_listed, { name: w.name, range: w.range }) }))));
    }
    return id;
  }
  /** @type {(dl: Element, tq: Element) => (state: BayleafState) => void} */
  function torqueEntry(dl, tq) {
    const id = idOf(dl), n = "applied-" + id.replace(/[^\w-]/g, "-");
    const asked = page.field(tq), wrench = make("input", { type: "text", id: n + "-wrench", autocomplete: "off", maxlength: "60", list: wrenchList(), "aria-describedby": n + "-wrench-say" });
    const wrenchSay = make("span", { id: n + "-wrench-say", "class": "lacks", role: "status" });
    const hold = function (/** @type {string} */ applied, /** @type {string} */ why) {
      work.change((s) => { if (applied) s.torques[id] = { applied, wrench: wrench.value.trim(), note: why }; else delete s.torques[id]; });
    };
    const own = entry(n, say.torque_applied, ["N·m", "lb·ft", "lb·in"], (unit, text) => judge.band(asked, unit, text), hold), dd = own.dd;
    wrench.addEventListener("input", () => { work.change((s) => { if (s.torques[id]) s.torques[id].wrench = wrench.value.trim(); }); });
    behind(one(".verdict", dd), make("p", { "class": "entry wrench" }, [make("label", { "for": n + "-wrench", text: say.wrench_by_number }), wrench, wrenchSay]));
    /* The unit that stands large is the one on the wrench. */
    const lead = function () {
      const unit = /(N·m|lb·ft|lb·in)/.exec(page.value(one(".val", tq)));
      if (unit) own.lead(unit[1]);
    };
    lead();
    new MutationObserver(lead).observe(document.documentElement, { attributes: true, attributeFilter: ["data-first"] });
    behind(tq, dd);
    passBoxes(dl, dd);
    return function (state) {
      const given = state.torques[id];
      const misused = given ? open.misused(page.sheet(), state, given) : "", told = misused ? misused[0].toUpperCase() + misused.slice(1) + "." : "";
      /* Why an unusual wrench was taken can be said, too. */
      own.refresh(given && given.applied, given && given.note, given && judge.judge(given.applied, asked), !!misused && !!wrench.value.trim());
      if (wrenchSay.textContent !== told) wrenchSay.textContent = told;
      one(".wrench", dd).hidden = !given;
      follow(wrench, given ? given.wrench || "" : "", say.wrench_used);
    };
  }

  /* Waits --------------------------------------------------------------------------------------- */
  function clock(/** @type {number} */ time) {
    const d = new Date(time), two = function (/** @type {number} */ n) { return (n < 10 ? "0" : "") + n; };
    const at = two(d.getHours()) + ":" + two(d.getMinutes());
    return d.toDateString() === new Date().toDateString() ? at : fill(say.time_on_day, { time: at, day: d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate()) });
  }
  /** A clock for a time to wait: kept with the work, so that it runs on while the page is closed. It ticks nothing by itself.
      @type {(step: HTMLElement, dd: Element) => void} */
  function waitClock(step, dd) {
    const seconds = Number(dd.getAttribute("data-seconds")), how = words(dd), told = make("span", { "class": "left" }), early = make("span", { "class": "early", role: "alert" });
    if (!(seconds > 0)) return;
    const start = button(say.start_wait, "btn", () => {
      work.change((s) => {
        s.waits[step.id] = { started: Date.now(), ended: Date.now() + seconds * 1000 };
        delete s.ticks[step.id + "/wait"];
      });
    });
    behind(dd, make("dd", { "class": "bayed clock" }, [start, told, early]));
    waits.push({ step, how, tell: function (end, ticked, shows) {
      const left = end - Date.now();
      /* Said at the tick, and not anew with each minute. */
      if (!ticked || !shows) early.textContent = "";
      else if (!early.textContent) early.textContent = fill(say.ticked_early, { minutes: shows });
      start.textContent = end ? say.start_wait_again : say.start_wait;
      told.textContent = !end ? "" : left > 0 ? fill(say.wait_ends, { time: clock(end), minutes: Math.ceil(left / 60000) }) : fill(say.wait_over, { time: clock(end) });
    } });
  }
  /** Sets the clocks, and says which waits are over and not ticked.
      @type {BayleafEntry["tellWaits"]} */
  function tellWaits(state) {
    /** @type {string[]} */
    const ended = [];
    waits.forEach((w) => {
      const end = state.waits[w.step.id] ? state.waits[w.step.id].ended : 0, ticked = !!state.ticks[w.step.id + "/wait"];
      w.tell(end, ticked, open.minutesLeft(state, w.step.id));
      if (end && end <= Date.now() && shown(w.step) && !ticked) ended.push(fill(say.wait_over_at, { step: numberOf(w.step), wait: w.how, time: clock(end) }));
    });
    return ended.join(" ");
  }

  /* All of them --------------------------------------------------------------------------------- */
  /** @type {(css: string, key: (ul: Element) => string) => void} */
  function list(css, key) {
    all(css).forEach((ul) => {
      all("li", ul).forEach((li, i) => {
        const text = words(li);
        tick(key(ul) + "/" + (i + 1), text, li);
      });
    });
  }
  /* Which of the vehicles it is, where the guide fits several. */
  function vehicle() {
    const fits = all(".fits>div:first-child dd span").map(words), id = "order-vehicle";
    if (fits.length < 2) return null;
    const select = make("select", { id }, ["", ...fits].map((v) => make("option", { value: v, text: v || say.not_said })));
    select.addEventListener("change", () => { work.change((s) => { s.order.vehicle = select.value; }); });
    refreshers.push((state) => {
      const kept = state.order.vehicle || "";
      /* A record may name one that this revision does not fit. */
      if (kept && fits.indexOf(kept) < 0 && !Array.from(select.options).some((o) => o.value === kept)) select.appendChild(make("option", { value: kept, text: kept }));
      select.value = kept;
    });
    return make("p", { "class": "bayed entry" }, [make("label", { "for": id, text: say.vehicle }), select]);
  }
  /* Adds to the page what is ticked and entered, and gives back the form for the vehicle. */
  function place() {
    all("[data-op]").forEach((dl) => {
      const what = one("dd.do", dl), verb = one("dt.do", dl);
      tick(idOf(dl), words(verb) + " " + words(what), verb);
      const tq = dl.querySelector(".tq");
      if (tq) refreshers.push(torqueEntry(dl, tq));
      else passBoxes(dl);
      page.measuredIn(dl).forEach((m) => { refreshers.push(measuredEntry(m)); });
    });
    list(".step .ticks", (ul) => page.stepAt(ul).id + "/check");
    list(".r-before .ticks", () => "before");
    all(".tail").forEach((tail) => {
      /* What is due later is work for another day, and is ticked on its sheet. */
      if (tail.querySelector("#final-checks")) all(".ticks li", tail).forEach((li, i) => { tick("final/" + (i + 1), words(li), li); });
    });
    all(".step").forEach((step) => {
      const stop = step.querySelector(".stop");
      if (stop) {
        stop.appendChild(field(say.signed_at_stop_by, "hold-" + step.id, (s) => s.holds[step.id], (s, v) => {
          s.holds[step.id] = v;
          if (v.trim()) { s.ticks[step.id + "/hold"] = true; s.heldAt[step.id] = work.minute(Date.now()); } else { delete s.ticks[step.id + "/hold"]; delete s.heldAt[step.id]; }
        }));
        /* The name stands under the step as it is. */
        const lacks = make("p", { "class": "lacks", role: "status" });
        stop.appendChild(lacks);
        refreshers.push((state) => {
          const gaps = (state.holds[step.id] || "").trim() ? open.gapsOf(page.stepOf(step), state, page.sheet()) : [];
          lacks.textContent = gaps.length ? fill(say.signed_still_missing, { gaps: gaps.map((gap) => gap.words).join("; ") }) : "";
        });
      }
      const wait = step.querySelector(".facts dl:not([data-op]) dt.do");
      if (wait) {
        const time = /** @type {Element} */ (wait.nextElementSibling);
        tick(step.id + "/wait", fill(say.waited, { wait: words(time) }), wait);
        /** @type {Element} */ (wait.parentElement).classList.add("waits");
        waitClock(step, time);
      }
      one(".say", step).appendChild(field(say.note_on_step, "note-" + step.id, (s) => s.notes[step.id], (s, v) => { s.notes[step.id] = v; }, "note"));
    });
    const order = make("div", { "class": "bayed order" }, [make("h2", { text: say.this_vehicle }), ...[["order", say.work_order], ["registration", say.registration], ["vehicle", say.vehicle], ["vin", say.vin], ["odometer", say.odometer], ["technician", say.technician]].map((f) => f[0] === "vehicle" ? vehicle() : field(f[1], "order-" + f[0], (s) => s.order[f[0]], (s, v) => { s.order[f[0]] = v; })).filter(isThere)]);
    main.insertBefore(order, main.querySelector(".ready"));
    return order;
  }
  function refreshFields(/** @type {BayleafState} */ state) {
    differs = [];
    refreshers.forEach((refresh) => { refresh(state); });
    Object.keys(fields).forEach((id) => { follow(fields[id].input, fields[id].value(state) || "", fields[id].label); });
  }
  /** Shows what is kept, and gives back what differs in the field that is being typed in.
      @type {BayleafEntry["refresh"]} */
  function refresh(state) {
    refreshFields(state);
    all("input[data-tick]").forEach((box) => {
      const tick = box.getAttribute("data-tick") || "", checked = !!state.ticks[tick];
      /** @type {HTMLInputElement} */ (box).checked = checked;
      const row = box.closest("[data-op],li,dd.passes,.waits");
      if (row && tick.indexOf("/pass/") < 0) {
        /* A value that is not the one asked for, with no word why, is not done. */
        const wrong = checked && Array.from(row.querySelectorAll(".applied.bad")).some((dd) => !/** @type {HTMLInputElement} */ (one(".entry:not(.wrench) input", dd)).value.trim());
        row.classList.toggle("done", checked && !wrong);
        row.classList.toggle("wrong", wrong);
      }
    });
    return differs;
  }

  return { place, field, refresh, tellWaits };
})(window.bayleafPage, window.bayleafJudge, window.bayleafOpen, window.bayleafWork);
