/* The screen of the record: what was asked for and what was done, what is missing, the signatures; and the acts on the whole of the
   work, each of which asks before it takes something away: saving it, opening it, clearing it. The file and its seal are made by
   record.js; where a gap leads and what is shown after an act is left to bay.js, which hands it over in `place`.
   Needs: bay-page.js, bay-judge.js, bay-open.js, bay-entry.js, record-read.js, record.js */
/** @type {BayleafRecord} */
window.bayleafRecord = (function (/** @type {BayleafPage} */ page, /** @type {BayleafJudge} */ judge, /** @type {BayleafOpen} */ open, /** @type {BayleafEntry} */ entry, /** @type {BayleafReading} */ reading, /** @type {BayleafWork} */ work) {
  "use strict";
  const { say, fill } = window.bayleafPhrases;
  const all = page.all, make = page.make, button = page.button, words = page.words, value = page.value, shown = page.shown, numberOf = page.numberOf;
  const one = page.one, idOf = page.idOf, stepAt = page.stepAt;
  /** @type {HTMLElement} */
  let box;
  /** @type {BayleafView} */
  let view;
  const given = (/** @type {(string | null | undefined)[]} */ list) => list.filter(Boolean).join(" · ");

  /** `goTo` shows a screen by its key, `options` says the vehicle's options, `taken` and `cleared` follow upon the work being another.
      @type {BayleafRecord["place"]} */
  function place(handed) {
    view = handed;
    box = make("section", { "class": "bayed record", "aria-label": say.record });
    page.main.appendChild(box);
    return box;
  }
  /** What is not as asked for has a sign and a heavy edge, which paper in black and white shows as well.
      @type {(cells: HTMLElement[], given: { note?: string } | undefined, found: BayleafJudged | undefined) => HTMLElement} */
  function outcomeRow(cells, given, found) {
    const off = !!found && !found.ok, text = !given ? "" : !off ? say.as_asked_short : given.note ? fill(say.not_as_asked_note, { note: given.note }) : say.not_as_asked;
    return make("tr", { "class": off ? "off" : null }, cells.concat(make("td", { "data-c": "" }, off ? [make("b", { "class": "sign-off", "aria-hidden": "true", text: "!" }), text] : [text])));
  }
  /** @type {(name: string, heads: string[], rows: HTMLElement[]) => HTMLElement} */
  function table(name, heads, rows) {
    return make("div", { "class": "wide", role: "region", "aria-label": name, tabindex: "0" }, [make("table", {}, [
      make("thead", {}, [make("tr", {}, heads.map((h) => make("th", { scope: "col", text: h })))]), make("tbody", {}, rows)])]);
  }
  /** A turn after the torque has its own box, and is told with the torque.
      @type {(dl: Element, state: BayleafState) => string} */
  function turns(dl, state) {
    return all(".in-passes>span", dl).map((pass, i) => {
      const text = words(pass);
      return /°/.test(text) ? fill(state.ticks[idOf(dl) + "/pass/" + (i + 1)] ? say.turn_ticked : say.turn_not_ticked, { pass: text }) : "";
    }).join("");
  }
  function layOut() {
    const state = work.read(), gaps = open.missing(page.sheet(), state);
    const sheet = make("div", { "class": "pages" });
    box.textContent = "";
    /** @type {(head: string, parts: HTMLElement[]) => void} */
    const part = function (head, parts) { sheet.appendChild(make("h2", { "class": "phase", text: head })); parts.forEach((p) => { sheet.appendChild(p); }); };
    const g = work.guide, older = work.older(), papers = [g.document, state.revision && fill(say.rev, { revision: state.revision }), state.fingerprint];
    /* Each printed page says at its head what it belongs to. */
    box.appendChild(make("div", { "class": "running", "aria-hidden": "true" }, [make("p", { text: given([g.title, ...papers, state.order.registration]) })]));
    box.appendChild(sheet);
    sheet.appendChild(make("p", { "class": "lead" }, [make("b", { text: g.title }), make("span", { text: given([...papers, view.options()]) })]));
    part(say.work_order, [make("dl", { "class": "order-lines" }, [[say.work_order, "order"], [say.registration, "registration"], [say.vehicle, "vehicle"], [say.vin, "vin"], [say.odometer, "odometer"], [say.technician, "technician"], [say.started, "started"], [say.finished, "finished"]].map((f) => [make("dt", { text: f[0] }), make("dd", { text: state.order[f[1]] || "–" })]).concat([[make("dt", { text: say.seal_begins }), make("dd", {}, [make("span", { "class": "seal", text: work.sealOf(state).slice(0, 16) }), make("small", { text: " " + say.seal_explained })])]]).flat())]);
    const another = older ? [make("p", { "class": "another" }, [make("b", { text: work.another(say.work_done_to) }), " " + say.record_of_another])] : [];
    /* Work to another text is never complete by this one. */
    part(gaps.length ? say.missing_or_open : older ? say.done_to_another : open.complete(page.sheet(), state), [...another, ...(gaps.length ? [make("ul", { "class": "gaps" }, gaps.map((gap) => {
      const li = make("li", { text: gap.text }), key = gap.key;
      if (key) li.appendChild(button(say.go_there, "link there", () => { if (key === "record") one(".sign input", box).focus(); else view.goTo(key); }));
      return li;
    }))] : older ? [] : [make("p", { text: say.record_whole })])]);
    let rows = all("[data-op]").filter((dl) => shown(dl) && dl.querySelector(".tq")).map((dl) => {
      const given = state.torques[idOf(dl)], tq = one(".tq", dl), found = given && judge.judge(given.applied, page.field(tq));
      return outcomeRow([make("td", { text: numberOf(stepAt(dl)) }), make("th", { scope: "row", text: words(one("dd.do", dl)) }),
        make("td", { "data-c": say.asked_for, text: value(one(".val", tq)) }), make("td", { "data-c": say.applied_head, text: (given ? given.applied + (given.wrench ? ", " + given.wrench : "") : say.not_entered) + turns(dl, state) })], given, found);
    });
    if (rows.length) part(say.torques, [table(say.torques, [say.step, say.fastener, say.asked_for, say.applied_head, say.result], rows)]);
    rows = [];
    all("[data-op]").filter(shown).forEach((dl) => {
      page.measuredIn(dl).forEach((m) => {
        const given = state.measured[m.key], found = given && judge.judge(given.measured, m.field);
        rows.push(outcomeRow([make("td", { text: numberOf(stepAt(dl)) }), make("th", { scope: "row", text: m.name }), make("td", { "data-c": say.asked_for, text: value(one(".val", m.dd)) }),
          make("td", { "data-c": say.measured_head, text: given ? given.measured : say.not_entered })], given, found));
      });
    });
    if (rows.length) part(say.measured_head, [table(say.measured_values, [say.step, say.value_head, say.asked_for, say.measured_head, say.result], rows)]);
    const notes = Object.keys(state.notes).filter((s) => state.notes[s]).map((s) => [s, state.notes[s]])
      .concat(Object.keys(state.holds).filter((s) => state.holds[s]).map((s) => [s, state.heldAt[s] ? fill(say.stop_signed_at, { name: state.holds[s], time: state.heldAt[s] }) : fill(say.stop_signed, { name: state.holds[s] })]));
    const placed = function (/** @type {string[][]} */ list) {
      return [make("ul", {}, list.map((n) => {
        const step = document.getElementById(n[0]);
        return make("li", { text: fill(say.at_place, { place: step && step.querySelector(".ball") ? fill(say.step_numbered, { number: numberOf(step) }) : n[0], words: n[1] }) });
      }))];
    };
    const waits = Object.keys(state.waits).sort().map((s) => [s, fill(say.clock_from_until, { from: work.minute(state.waits[s].started), until: work.minute(state.waits[s].ended) })]);
    if (waits.length) part(say.waits, placed(waits));
    if (notes.length) part(say.notes, placed(notes));
    const sign = function (/** @type {string} */ who, /** @type {string} */ text) {
      const check = make("input", { type: "checkbox", "aria-label": text, "data-signs": who });
      check.checked = !!state.signed[who];
      const told = make("p", { role: "status", "class": "answered" });
      /* The lists above say who has not signed. */
      const signs = function (/** @type {boolean} */ yes) {
        work.change((s) => { s.signed[who] = yes; if (who === "technician") s.order.finished = yes ? work.today() : ""; });
        layOut();
        one("[data-signs=" + who + "]", box).focus({ preventScroll: true });
      };
      check.addEventListener("change", () => {
        const left = open.missing(page.sheet(), work.read()).filter((gap) => gap.key !== "record").length;
        told.textContent = "";
        if (!check.checked || !left) { signs(check.checked); return; }
        /* The name stands under what is listed as missing only when somebody says so. */
        check.checked = false;
        ask(told, fill(say.sign_all_the_same, { count: left }), fill(say.sign_with_missing, { count: left }), () => { signs(true); }, say.do_not_sign);
      });
      return make("div", {}, [make("p", { "class": "sign" }, [make("label", {}, [check, make("span", { text })]), make("span", { "class": "line", text: say.signature_date })]), told]);
    };
    const inspector = entry.field(say.inspector, "order-inspector", (s) => s.order.inspector, (s, v) => { s.order.inspector = v; });
    /** @type {HTMLInputElement} */ (one("input", inspector)).value = state.order.inspector || "";
    part(say.signed_off, [sign("technician", say.technician_signs), inspector,
      sign("inspector", say.inspector_signs)]);
    const told = make("p", { role: "status", "class": "answered" }), pick = make("input", { type: "file", accept: ".json,application/json", id: "record-file", "class": "unseen" });
    pick.addEventListener("change", () => { if (pick.files && pick.files[0]) openFile(pick.files[0], told); });
    const opener = make("label", { "for": "record-file", "class": "btn", text: say.open_record });
    /* The foot of the page stands outside of what repeats its head, so its words stand here on paper. */
    all(".foot p:not(.jump)", document).forEach((p) => { sheet.appendChild(make("p", { "class": "deferral", "aria-hidden": "true", text: words(p) })); });
    sheet.appendChild(make("div", { "class": "acts" }, [button(say.save_record, "btn main", () => { save(told); }), button(say.print_record, "btn", () => { window.print(); }), pick, opener,
      button(say.clear_device, "btn", () => { askClear(told); })]));
    sheet.appendChild(told);
  }
  /** @type {BayleafRecord["save"]} */
  function save(told) {
    const state = work.read(), name = ["record", work.guide.slug, (state.order.registration || "").replace(/[^\w-]+/g, ""), state.order.started || ""].filter(Boolean).join("-") + ".json";
    const a = make("a", { href: URL.createObjectURL(new Blob([work.file(state)], { type: "application/json" })), download: name });
    document.body.appendChild(a);
    a.click();
    a.remove();
    answer(told, fill(say.saved_as, { file: name }));
  }
  function openFile(/** @type {File} */ file, /** @type {HTMLElement} */ told) {
    const reader = new FileReader();
    reader.onload = function () {
      /** @type {BayleafState} */
      let state;
      try {
        let text;
        try { text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(/** @type {ArrayBuffer} */ (reader.result)); } catch (e) { throw reading.refusal("text"); }
        state = work.open(text, page.sheet());
      } catch (e) { answer(told, /** @type {Error} */ (e).message + " " + say.work_unchanged); return; }
      const take = function () { work.take(state); view.taken(state); };
      if (!work.read().touched) { take(); return; }
      ask(told, say.replace_work, say.put_in_place, take);
    };
    reader.onerror = function () { answer(told, say.file_unreadable); };
    if (file.size > reading.largest) { answer(told, reading.refusal("large").message + " " + say.work_unchanged); return; }
    reader.readAsArrayBuffer(file);
  }
  /* An answer is of no use below the fold. */
  function answer(/** @type {HTMLElement} */ told, /** @type {string} */ text) {
    told.textContent = text;
    told.scrollIntoView({ block: "center" });
  }
  /** @type {(told: HTMLElement, question: string, yes: string, act: () => void, no?: string) => void} */
  function ask(told, question, yes, act, no) {
    told.textContent = question + " ";
    const keep = button(no || say.keep_here, "btn", () => { told.textContent = ""; });
    told.appendChild(button(yes, "btn", act));
    told.appendChild(keep);
    told.scrollIntoView({ block: "center" });
    /* What loses nothing is nearest. */
    keep.focus({ preventScroll: true });
  }
  function askClear(/** @type {HTMLElement} */ told) {
    ask(told, say.clear_question, say.clear_it, () => { work.clear(); view.cleared(); });
  }

  return { place, fill: layOut, save };
})(window.bayleafPage, window.bayleafJudge, window.bayleafOpen, window.bayleafEntry, window.bayleafReading, window.bayleafWork);
