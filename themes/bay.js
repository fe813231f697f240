/* The bay view: the guide one step at a time, its screens and how they are turned, and coming and going. It puts together what others
   do: bay-page.js reads the page, bay-judge.js judges what was entered, bay-open.js says what is left to do, bay-entry.js has the boxes,
   fields and clocks, bay-record.js the screen of the record; the work itself is kept by record.js, and the options switch is
   options.js. Everything here is added to the page of the guide, and taken away by closing it.
   Needs: bay-page.js, bay-open.js, bay-entry.js, bay-record.js, record.js */
window.bayleafBay = (function (/** @type {BayleafPage} */ page, /** @type {BayleafOpen} */ open, /** @type {BayleafEntry} */ entry, /** @type {BayleafRecord} */ record, /** @type {BayleafWork} */ work) {
  "use strict";
  const { say, fill } = window.bayleafPhrases;
  const root = document.documentElement, main = page.main, all = page.all, make = page.make, button = page.button, words = page.words, shown = page.shown, numberOf = page.numberOf;

  /* The screens --------------------------------------------------------------------------------- */
  const one = page.one;
  let built = false, inside = false, at = 0, resting = false;
  /** @type {{ key: string, name: string, parts: HTMLElement[], step?: HTMLElement }[]} */
  let screens = [];
  /** @type {Record<"bar" | "foot" | "openPanel" | "says" | "over" | "recordScreen" | "orderForm", HTMLElement>} */
  const on = /** @type {any} */ ({});
  /** @type {HTMLSelectElement} */
  let jump;
  /** @type {HTMLButtonElement} */
  let openButton;
  /** @type {WakeLockSentinel | null} */
  let lock = null;
  function layScreens() {
    const here = screens[at] && screens[at].key;
    screens = [{ key: "start", name: say.before_you_start, parts: [on.orderForm].concat(all(".deck,.first,.ready")) }];
    all(".step").filter(shown).forEach((step) => {
      screens.push({ key: step.id, name: fill(say.screen_of_step, { number: numberOf(step), title: one("h3 span", step).textContent || "" }), step, parts: [step] });
    });
    const ends = all(".tail").filter((t) => t.querySelector("#final-checks,#follow-up"));
    if (ends.length) screens.push({ key: "end", name: say.final_checks, parts: ends });
    screens.push({ key: "record", name: say.record, parts: [on.recordScreen] });
    jump.textContent = "";
    screens.forEach((s, i) => { jump.appendChild(make("option", { value: String(i), text: s.name })); });
    const again = screens.findIndex((s) => s.key === here);
    at = again < 0 ? Math.min(at, screens.length - 1) : again;
  }
  /** @type {(to: number, quiet?: boolean) => void} */
  function show(to, quiet) {
    at = Math.max(0, Math.min(to, screens.length - 1));
    all(".now").forEach((el) => { el.classList.remove("now"); });
    if (screens[at].key === "record") record.fill();
    screens[at].parts.forEach((el) => { el.classList.add("now"); });
    jump.value = String(at);
    turner(".back").disabled = at === 0;
    turner(".next").disabled = at === screens.length - 1;
    tellOnce("");
    on.openPanel.hidden = true;
    openButton.setAttribute("aria-expanded", "false");
    if (quiet) return;
    if (!going) keep("screen");
    main.scrollTop = 0;
    focusHead();
    if (work.read().touched) work.change((s) => { s.at = screens[at].key; });
  }
  const turner = (/** @type {string} */ css) => /** @type {HTMLButtonElement} */ (one(css, on.foot));
  function focusHead() {
    const head = screens[at].parts.map((p) => one("h2:not(.unseen),h3", p)).filter(Boolean)[0] || screens[at].parts[0];
    head.setAttribute("tabindex", "-1");
    head.focus({ preventScroll: true });
  }
  /* The record as it is now, unless somebody is about to enter something in it. */
  function refill() {
    const held = on.recordScreen.contains(document.activeElement) && document.activeElement;
    if (!screens[at] || screens[at].key !== "record" || held && held.tagName !== "H2") return;
    record.fill();
    if (held) focusHead();
  }
  /* What is said once, with what is offered to it, among what holds on this screen until it is put right: work to another revision, a
     stop that nobody signed, and that nothing can be kept. */
  /* The stop whose name was asked for. */
  let nameless = "", namelessSaid = "";
  let saying = { text: "", offers: /** @type {HTMLElement[]} */ ([]) };
  /** @type {Record<string, boolean>} */
  let answered = {};
  /** @type {(text: string, offers?: HTMLElement[]) => void} */
  function tellOnce(text, offers) {
    saying = { text, offers: offers || [] };
    tellSaying();
  }
  function tellSaying() {
    const another = work.older() && work.another(say.work_begun_on), stop = unsigned(), who = stop && fill(say.stop_unsigned, { step: stop.number, who: stop.stop || "" });
    /** @type {(string | HTMLElement)[]} */
    const given = [another || "", saying.text, ...saying.offers, who || "", stop ? button(say.go_there, "btn", () => { goTo(stop.id); }) : "", work.refusal(),
      another ? button(say.go_on_with_this, "btn", goOnWithThis) : ""];
    const parts = given.filter(Boolean), whole = parts.map((p) => typeof p === "string" ? p : p.textContent || "").join(" ");
    /* A text that is set anew would be read out anew. */
    if ((on.says.textContent || "").trim() !== whole.trim() || !whole) {
      on.says.textContent = "";
      parts.forEach((p) => { on.says.appendChild(typeof p === "string" ? document.createTextNode(p) : p); on.says.appendChild(document.createTextNode(" ")); });
    }
    on.says.hidden = !whole;
  }
  /* One entry of the browser's history for the bay view and for each screen, so that the device's key for going back turns one back and
     does not leave the page. */
  let going = false;
  /** @type {(how: "screen" | "guide") => void} */
  function keep(how) {
    const key = how === "screen" ? screens[at].key : null, state = history.state || {};
    if ((state.bay || null) === key) return;
    try { history.pushState({ bay: key }, "", addressOf(key !== null)); } catch (e) {
      try { history.pushState({ bay: key }, ""); } catch (e2) { /* then going back leaves the page */ }
    }
  }
  function back(/** @type {PopStateEvent} */ e) {
    /* A picture that was closed lies over the same screen. */
    const key = e.state && e.state.bay, found = screens.findIndex((s) => s.key === key);
    if (inside && screens[at] && screens[at].key === key) return;
    going = true;
    if (key && found >= 0) {
      if (inside) show(found); else enter(key);
    } else if (inside) leave();
    going = false;
  }
  const ofWhom = (/** @type {string} */ who) => who === "technician" ? say.of_the_technician : say.of_the_inspector;
  const targetOf = (/** @type {Event} */ e) => /** @type {HTMLElement} */ (e.target);
  /* The unsigned stop that this screen lies behind. */
  function unsigned() {
    const s = screens[at];
    return s && (s.step || s.key === "end" || s.key === "record") ? open.stopBefore(page.sheet(), s.step && s.step.id, work.read()) : null;
  }
  /* Whoever reads ahead may; what is ticked there is answered once in each step. */
  function answerBehind(/** @type {Event} */ e) {
    const step = screens[at] && screens[at].step;
    if (!inside || !step || !step.contains(targetOf(e)) || answered[step.id] || !unsigned()) return;
    answered[step.id] = true;
    tellOnce(say.behind_stop);
  }
  function goOnWithThis() {
    const state = work.read(), stops = Object.keys(state.holds).filter((s) => state.holds[s].trim()).length;
    const dropped = ["technician", "inspector"].filter((who) => state.signed[who]).map(ofWhom).concat(stops ? fill(say.at_stops, { count: stops }) : []);
    work.change((s) => {
      s.revision = work.guide.revision;
      s.fingerprint = work.guide.fingerprint;
      s.signed = {};
      s.order.finished = "";
      s.holds = {};
      s.heldAt = {};
      Object.keys(s.ticks).forEach((t) => { if (/\/hold$/.test(t)) delete s.ticks[t]; });
    });
    tellOnce(say.goes_on_here + (dropped.length ? " " + fill(say.signed_dropped, { whose: dropped.join(", ") }) : ""));
  }
  function next() {
    const step = screens[at].step;
    if (step) {
      const stop = /** @type {HTMLInputElement | null} */ (step.querySelector(".stop input"));
      if (stop && !stop.value.trim()) {
        nameless = step.id;
        namelessSaid = fill(say.stop_name_first, { stop: words(one(".stop span", step)) });
        tellOnce(namelessSaid);
        stop.focus();
        return;
      }
      const gaps = open.gapsOf(page.stepOf(step), work.read(), page.sheet());
      show(at + 1);
      if (gaps.length) tellOnce(gaps.map((gap) => gap.text).join(". ").replace(/\.?$/, "."));
      return;
    }
    const final = screens[at].key === "end" ? open.unticked(page.sheet().final, work.read()) : 0;
    show(at + 1);
    if (final) tellOnce(fill(say.at_place, { place: say.final_checks, words: fill(say.boxes_not_ticked, { count: final }) }) + ".");
  }

  function build() {
    built = true;
    jump = make("select", { "aria-label": say.go_to });
    jump.addEventListener("change", () => { show(Number(jump.value)); });
    const close = button(say.close, "quiet", leave);
    close.setAttribute("aria-label", say.close_bay);
    on.bar = make("div", { "class": "bay-bar", role: "region", "aria-label": say.bay_view }, [
      make("div", { "class": "name" }, [make("h1", { text: work.guide.title }), " ", make("span", { text: (work.guide.revision ? fill(say.rev, { revision: work.guide.revision }) + " · " : "") + work.guide.fingerprint })]),
      jump, close]);
    on.says = make("p", { "class": "bay-says", role: "alert", hidden: "" });
    on.over = make("p", { "class": "bay-says over", role: "status" });
    on.openPanel = make("ul", { id: "bay-open", hidden: "" });
    openButton = button("", "open", () => {
      on.openPanel.hidden = !on.openPanel.hidden;
      openButton.setAttribute("aria-expanded", String(!on.openPanel.hidden));
    });
    openButton.setAttribute("aria-controls", "bay-open");
    openButton.setAttribute("aria-expanded", "false");
    on.foot = make("div", { "class": "bay-foot", role: "region", "aria-label": say.steps }, [on.openPanel, button(say.back, "back", () => { show(at - 1); }), openButton, button(say.next, "next", next)]);
    document.body.insertBefore(on.bar, main);
    document.body.insertBefore(on.says, main);
    document.body.insertBefore(on.over, main);
    /* The foot of the page is not on the screens; who comes first is said under each of them. */
    document.querySelectorAll(".foot p:not(.jump)").forEach((p) => { main.appendChild(make("p", { "class": "bayed defers", text: words(p) })); });
    setInterval(tick, 5000);
    document.body.insertBefore(on.foot, main.nextSibling);
    on.orderForm = entry.place();
    on.recordScreen = record.place({ goTo, options: function () { return window.bayleafOptions ? window.bayleafOptions.words() : ""; }, taken: function (state) {
        beginOn("record");
        const old = work.older();
        tellOnce(fill(say.record_opened, { about: [state.order.registration || say.no_registration, state.order.technician, state.order.started && fill(say.begun_on, { day: state.order.started })].filter(Boolean).join(", ") }) + (old ? " " + saying.text : ""), old ? saying.offers : []);
      },
      cleared: function () { answered = {}; layScreens(); refresh(); show(0); tellOnce(say.device_cleared); } });
    work.onchange((from, lapsed, stops) => {
      if (!inside) return;
      if (from === "lapsed") {
        const who = lapsed.map(ofWhom).concat(stops.map((s) => fill(say.at_stop_of_step, { number: numberOf(/** @type {HTMLElement} */ (document.getElementById(s))) })));
        tellOnce(fill(say.signature_lapsed, { count: who.length, whose: who.join(say.and_between) }));
      }
      if (from === "elsewhere") takeOptions();
      const differs = refresh();
      /* What waits for an answer stays. */
      if (from === "elsewhere" && (differs.length || !saying.offers.length)) {
        tellOnce(!differs.length ? say.other_tab_same : differs.map((d) => d.kept ? fill(say.other_tab_wrote, { field: d.label, kept: d.kept }) : fill(say.other_tab_nothing, { field: d.label })).join(" "));
      }
    });
    document.addEventListener("bayleaf:options", () => {
      if (!inside) return;
      const own = window.bayleafOptions;
      if (!resting && own) work.change((s) => { s.options = own.chosen(); });
      layScreens();
      show(at, true);
      refresh();
    });
    main.addEventListener("click", (e) => {
      /* A glove hits the row sooner than the box. */
      const hit = targetOf(e);
      if (!inside || hit.closest("a,input,select,label,button,summary,.applied,.passes") || String(getSelection()) !== "") return;
      const row = hit.closest("[data-op],.act,.waits,.ticks li"), box = row && one("input[data-tick]", row);
      if (box) box.click();
    });
    main.addEventListener("input", answerBehind);
    main.addEventListener("change", answerBehind);
    keys();
  }
  function keys() {
    document.addEventListener("keydown", (e) => {
      const hit = /** @type {HTMLInputElement} */ (targetOf(e));
      if (!inside || e.ctrlKey || e.metaKey || e.altKey || /^(SELECT|TEXTAREA)$/.test(hit.tagName) || hit.type === "text" || hit.type === "radio") return;
      if (e.key === "ArrowRight") next();
      else if (e.key === "ArrowLeft") show(at - 1);
      else if (e.key === "Escape" && !on.openPanel.hidden) openButton.click();
      else return;
      e.preventDefault();
    });
    /** @type {{ x: number, y: number } | null} */
    let from = null;
    main.addEventListener("touchstart", (e) => {
      from = e.touches.length === 1 && !targetOf(e).closest("input,select,.wide") ? { x: e.touches[0].clientX, y: e.touches[0].clientY } : null;
    }, { passive: true });
    /* What moves sideways turns the step; left to itself the browser would go back in its history. */
    main.addEventListener("touchmove", (e) => {
      if (!inside || !from || !e.cancelable) return;
      if (Math.abs(e.touches[0].clientX - from.x) > Math.abs(e.touches[0].clientY - from.y)) e.preventDefault();
    }, { passive: false });
    main.addEventListener("touchend", (e) => {
      if (!inside || !from) return;
      const dx = e.changedTouches[0].clientX - from.x, dy = e.changedTouches[0].clientY - from.y;
      if (Math.abs(dx) > 70 && Math.abs(dx) > 2 * Math.abs(dy)) { if (dx < 0) next(); else show(at - 1); }
    }, { passive: true });
  }

  function tellWaits() {
    const text = entry.tellWaits(work.read());
    /* Told once: a text that is set anew would be read out anew. */
    if (on.over.textContent !== text) on.over.textContent = text;
  }
  /* With time a wait that was ticked too early is over, and no longer missing. */
  let early = 0;
  function tick() {
    if (!inside) return;
    tellWaits();
    const now = all(".clock .early").filter((el) => el.textContent).length;
    if (now < early) refill();
    early = now;
  }
  /* Shows what is kept, and gives back what differs in the field that is being typed in. */
  function refresh() {
    const state = work.read(), differs = entry.refresh(state), list = open.now(page.sheet(), state);
    tellWaits();
    if (nameless && (state.holds[nameless] || "").trim()) {
      nameless = "";
      if (saying.text === namelessSaid) tellOnce("");
    }
    /* What is missing in the record is another list. */
    openButton.textContent = list.length ? open.summary(list) : say.all_closed;
    openButton.classList.toggle("some", list.length > 0);
    on.openPanel.textContent = "";
    list.forEach((o) => { on.openPanel.appendChild(openLine(o)); });
    if (!list.length) on.openPanel.appendChild(make("li", { text: say.all_closed_again }));
    tellSaying();
    refill();
    return differs;
  }
  function openLine(/** @type {BayleafOpenThing} */ o) {
    const li = make("li", {}, [open.line(o)]);
    const closes = o.closes;
    if (closes) {
      li.appendChild(document.createTextNode(say.closed_again_in));
      li.appendChild(button(fill(say.step_at, { number: o.number }), "link", () => { goTo(closes); }));
    }
    return li;
  }
  function goTo(/** @type {string} */ key) { show(screens.findIndex((s) => s.key === key)); }

  /* Coming and going ---------------------------------------------------------------------------- */
  function takeOptions() {
    const state = work.read();
    if (!state.touched || !window.bayleafOptions || JSON.stringify(window.bayleafOptions.chosen()) === JSON.stringify(state.options)) return;
    resting = true;
    window.bayleafOptions.choose(state.options);
    resting = false;
  }
  /* Work that is kept goes on, and says whose it is: the next van may stand in the bay. */
  function goesOn(/** @type {BayleafChosen | undefined} */ asked) {
    const state = work.read(), order = state.order, own = window.bayleafOptions;
    if (!state.touched) return;
    const begun = { day: order.started || say.unknown_day, registration: order.registration || "" };
    let text = fill(state.signed.technician ? (order.registration ? say.going_on_with_signed : say.going_on_signed) : order.registration ? say.going_on_with : say.going_on, begun);
    const offers = [];
    if (own && asked && asked["with"].length + asked.without.length && JSON.stringify(asked) !== JSON.stringify(own.chosen())) {
      text += " " + fill(say.options_stand, { options: own.words() || say.none_chosen });
      offers.push(button(say.take_other_options, "btn", () => { own.choose(asked); tellOnce(""); }));
    }
    offers.push(button(say.save_start_anew, "btn", () => {
      record.save(make("p"));
      work.clear();
      answered = {};
      resting = true;
      if (own && asked) own.choose(asked);
      resting = false;
      layScreens();
      refresh();
      show(0);
      tellOnce(say.saved_for_next);
    }));
    offers.push(button(say.go_on_short, "btn", () => { tellOnce(""); }));
    tellOnce(text, offers);
  }
  function begin() {
    answered = {};
    const asked = window.bayleafOptions && window.bayleafOptions.chosen();
    takeOptions();
    layScreens();
    refresh();
    const old = work.older();
    tellOnce("");
    if (!old) { goesOn(asked); return; }
    const ids = new Set(all("input[data-tick]").map((b) => b.getAttribute("data-tick")));
    const gone = Object.keys(old.ticks).filter((t) => !ids.has(t) && !/\/hold$|^follow-up\//.test(t));
    tellOnce(say.look_before + " " + (gone.length ? fill(say.ticks_gone, { count: gone.length }) : say.every_tick_stands),
      [button(say.save_old_first, "btn", () => { record.save(make("p")); })]);
  }
  /* Begins on a screen, or where the work stood, with what there is to say of the work. */
  function beginOn(/** @type {string | null} */ key) {
    begin();
    const to = key || work.read().at, found = screens.findIndex((s) => s.key === to), told = saying;
    show(Math.max(found, 0));
    tellOnce(told.text, told.offers);
  }
  function awake() {
    if (!inside || !navigator.wakeLock || document.visibilityState !== "visible") return;
    navigator.wakeLock.request("screen").then((l) => { lock = l; }, () => { /* a low battery may refuse it */ });
  }
  document.addEventListener("visibilitychange", awake);
  function addressOf(/** @type {boolean} */ inBay) {
    const rest = location.search.slice(1).split("&").filter((b) => b && !/^bay\b/.test(b)).concat(inBay ? "bay" : []).join("&");
    return location.pathname + (rest ? "?" + rest : "") + location.hash;
  }
  function leave() {
    inside = false;
    root.classList.remove("in-bay");
    all(".step h3").forEach((h) => { h.removeAttribute("aria-level"); });
    if (!going) keep("guide");
    if (lock) { lock.release(); lock = null; }
    const step = screens[at].step;
    opener().textContent = work.read().touched ? say.continue_bay : say.bay_view;
    opener().focus({ preventScroll: true });
    if (step) step.scrollIntoView();
  }
  const opener = () => /** @type {HTMLButtonElement} */ (document.getElementById("bay"));
  window.addEventListener("popstate", back);
  /** @type {(key?: string) => void} */
  function enter(key) {
    if (!built) build();
    if (inside) return;
    inside = true;
    opener().disabled = false;
    root.classList.add("in-bay");
    /* In the bay nothing is folded: whoever stands there has no hand free. */
    all(".ready details,.again").forEach((el) => { /** @type {HTMLDetailsElement} */ (el).open = true; });
    /* The phases are not shown, so a step stands right below the title. */
    all(".step h3").forEach((h) => { h.setAttribute("aria-level", "2"); });
    beginOn(key || null);
    awake();
  }
  return function () { enter(); };
})(window.bayleafPage, window.bayleafOpen, window.bayleafEntry, window.bayleafRecord, window.bayleafWork);
