/* The bay view: the guide one step at a time, its screens and how they are turned, and coming and going. It puts together what others
   do: bay-page.js reads the page, bay-judge.js judges what was entered, bay-open.js says what is left to do, bay-entry.js has the boxes,
   fields and clocks, bay-record.js the screen of the record; the work itself is kept by record.js, and the options switch is
   options.js. Everything here is added to the page of the guide, and taken away by closing it. */
window.bayleafBay = (function (page, open, entry, record, work) {
  "use strict";
  var root = document.documentElement, main = page.main, all = page.all, make = page.make, button = page.button, words = page.words, plural = page.plural, shown = page.shown, numberOf = page.numberOf;

  /* The screens --------------------------------------------------------------------------------- */
  var built = false, inside = false, at = 0, screens = [], bar, foot, jump, openButton, openPanel, says, over, recordScreen, orderForm, lock = null, resting = false;
  function layScreens() {
    var here = screens[at] && screens[at].key;
    screens = [{ key: "start", name: "Before you start", parts: [orderForm].concat(all(".deck,.first,.ready")) }];
    all(".step").filter(shown).forEach(function (step) {
      screens.push({ key: step.id, name: numberOf(step) + ". " + step.querySelector("h3 span").textContent, step: step, parts: [step] });
    });
    var ends = all(".tail").filter(function (t) { return t.querySelector("#final-checks,#follow-up"); });
    if (ends.length) screens.push({ key: "end", name: "Final checks", parts: ends });
    screens.push({ key: "record", name: "Record", parts: [recordScreen] });
    jump.textContent = "";
    screens.forEach(function (s, i) { jump.appendChild(make("option", { value: String(i), text: s.name })); });
    var again = screens.findIndex(function (s) { return s.key === here; });
    at = again < 0 ? Math.min(at, screens.length - 1) : again;
  }
  function show(to, quiet) {
    at = Math.max(0, Math.min(to, screens.length - 1));
    all(".now").forEach(function (el) { el.classList.remove("now"); });
    if (screens[at].key === "record") record.fill();
    screens[at].parts.forEach(function (el) { el.classList.add("now"); });
    jump.value = String(at);
    foot.querySelector(".back").disabled = at === 0;
    foot.querySelector(".next").disabled = at === screens.length - 1;
    say("");
    openPanel.hidden = true;
    openButton.setAttribute("aria-expanded", "false");
    if (quiet) return;
    main.scrollTop = 0;
    focusHead();
    if (work.read().touched) work.change(function (s) { s.at = screens[at].key; });
  }
  function focusHead() {
    var head = screens[at].parts.map(function (p) { return p.querySelector("h2:not(.unseen),h3"); }).filter(Boolean)[0] || screens[at].parts[0];
    head.setAttribute("tabindex", "-1");
    head.focus({ preventScroll: true });
  }
  /* The record as it is now, unless somebody is about to enter something in it. */
  function refill() {
    var held = recordScreen.contains(document.activeElement) && document.activeElement;
    if (!screens[at] || screens[at].key !== "record" || held && held.tagName !== "H2") return;
    record.fill();
    if (held) focusHead();
  }
  /* What is said once, with what is offered to it, among what holds on this screen until it is put right: work to another revision, a
     stop that nobody signed, and that nothing can be kept. */
  var saying = { text: "", offers: [] }, answered = {};
  function say(text, offers) {
    saying = { text: text, offers: offers || [] };
    tellSaying();
  }
  function tellSaying() {
    var another = work.older() && work.another("begun on"), stop = unsigned(), who = stop && "Step " + numberOf(stop) + ": " + stop.querySelector(".stop").getAttribute("data-who") + " has not signed at the stop.";
    var parts = [another, saying.text].concat(saying.offers, who, who && button("Go there", "btn", function () { goTo(stop.id); }), work.refusal(),
      another && button("Go on with this revision", "btn", goOnWithThis)).filter(Boolean);
    var whole = parts.map(function (p) { return typeof p === "string" ? p : p.textContent; }).join(" ");
    /* A text that is set anew would be read out anew. */
    if (says.textContent.trim() !== whole.trim() || !whole) {
      says.textContent = "";
      parts.forEach(function (p) { says.appendChild(typeof p === "string" ? document.createTextNode(p) : p); says.appendChild(document.createTextNode(" ")); });
    }
    says.hidden = !whole;
  }
  /* The unsigned stop that this screen lies behind. */
  function unsigned() {
    var s = screens[at];
    return s && (s.step || s.key === "end" || s.key === "record") ? open.stopBefore(s.step, work.read()) : null;
  }
  /* Whoever reads ahead may; what is ticked there is answered once in each step. */
  function answerBehind(e) {
    var step = screens[at] && screens[at].step;
    if (!inside || !step || !step.contains(e.target) || answered[step.id] || !unsigned()) return;
    answered[step.id] = true;
    say("This is entered behind a stop that is not signed.");
  }
  function goOnWithThis() {
    var state = work.read(), stops = Object.keys(state.holds).filter(function (s) { return state.holds[s].trim(); }).length;
    var dropped = ["technician", "inspector"].filter(function (who) { return state.signed[who]; }).map(function (who) { return "of the " + who; }).concat(stops ? "at " + plural(stops, "stop") : []);
    work.change(function (s) {
      s.revision = work.guide.revision;
      s.fingerprint = work.guide.fingerprint;
      s.signed = {};
      s.order.finished = "";
      s.holds = {};
      s.heldAt = {};
      Object.keys(s.ticks).forEach(function (t) { if (/\/hold$/.test(t)) delete s.ticks[t]; });
    });
    say("The work goes on with this revision." + (dropped.length ? " What was signed " + dropped.join(", ") + " stood under another text and is dropped: sign again." : ""));
  }
  function next() {
    var step = screens[at].step;
    if (step) {
      var stop = step.querySelector(".stop input");
      if (stop && !stop.value.trim()) {
        say("Stop. " + words(step.querySelector(".stop span")) + ". Enter the name here first.");
        stop.focus();
        return;
      }
      var gaps = open.gapsOf(step, work.read());
      show(at + 1);
      if (gaps.length) say(gaps.map(function (gap) { return gap.text; }).join(". ").replace(/\.?$/, "."));
      return;
    }
    var final = screens[at].key === "end" ? screens[at].parts.reduce(function (n, part) { return n + (part.querySelector("#final-checks") ? open.unticked(part) : 0); }, 0) : 0;
    show(at + 1);
    if (final) say("Final checks: " + plural(final, "box", "boxes") + " not ticked.");
  }

  function build() {
    built = true;
    jump = make("select", { "aria-label": "Go to" });
    jump.addEventListener("change", function () { show(Number(jump.value)); });
    var close = button("Close", "quiet", leave);
    close.setAttribute("aria-label", "Close bay view");
    bar = make("div", { "class": "bay-bar", role: "region", "aria-label": "Bay view" }, [
      make("div", { "class": "name" }, [make("h1", { text: work.guide.title }), " ", make("span", { text: (work.guide.revision ? "rev. " + work.guide.revision + " · " : "") + work.guide.fingerprint })]),
      jump, close]);
    says = make("p", { "class": "bay-says", role: "alert", hidden: "" });
    over = make("p", { "class": "bay-says over", role: "status" });
    openPanel = make("ul", { id: "bay-open", hidden: "" });
    openButton = button("", "open", function () {
      openPanel.hidden = !openPanel.hidden;
      openButton.setAttribute("aria-expanded", String(!openPanel.hidden));
    });
    openButton.setAttribute("aria-controls", "bay-open");
    openButton.setAttribute("aria-expanded", "false");
    foot = make("div", { "class": "bay-foot", role: "region", "aria-label": "Steps" }, [openPanel, button("Back", "back", function () { show(at - 1); }), openButton, button("Next", "next", next)]);
    document.body.insertBefore(bar, main);
    document.body.insertBefore(says, main);
    document.body.insertBefore(over, main);
    /* The foot of the page is not on the screens; who comes first is said under each of them. */
    Array.prototype.forEach.call(document.querySelectorAll(".foot p:not(.jump)"), function (p) { main.appendChild(make("p", { "class": "bayed defers", text: words(p) })); });
    setInterval(tick, 5000);
    document.body.insertBefore(foot, main.nextSibling);
    orderForm = entry.place();
    recordScreen = record.place({ goTo: goTo, options: function () { return window.bayleafOptions && window.bayleafOptions.words(); }, taken: function (state) {
        beginOn("record");
        var old = work.older();
        say("Record opened: " + [state.order.registration || "no registration", state.order.technician, state.order.started && "begun on " + state.order.started].filter(Boolean).join(", ") + "." + (old ? " " + saying.text : ""), old ? saying.offers : []);
      },
      cleared: function () { answered = {}; layScreens(); refresh(); show(0); say("The device is cleared."); } });
    work.onchange(function (from, lapsed, stops) {
      if (!inside) return;
      if (from === "lapsed") {
        var who = lapsed.map(function (who) { return "of the " + who; }).concat(stops.map(function (s) { return "at the stop of step " + numberOf(document.getElementById(s)); }));
        say("This was changed after it was signed: the " + (who.length > 1 ? "signatures " : "signature ") + who.join(" and ") + (who.length > 1 ? " are dropped, and each has to be given again." : " is dropped, and has to be given again."));
      }
      if (from === "elsewhere") takeOptions();
      var differs = refresh();
      /* What waits for an answer stays. */
      if (from === "elsewhere" && (differs.length || !saying.offers.length)) {
        say(!differs.length ? "The work was changed in another tab. Both show the same now." : differs.map(function (d) {
          return d.label + ": another tab wrote " + (d.kept ? "“" + d.kept + "”" : "nothing") + ", and that is kept. What is typed here next takes its place.";
        }).join(" "));
      }
    });
    document.addEventListener("bayleaf:options", function () {
      if (!inside) return;
      if (!resting) work.change(function (s) { s.options = window.bayleafOptions.chosen(); });
      layScreens();
      show(at, true);
      refresh();
    });
    main.addEventListener("click", function (e) {
      /* A glove hits the row sooner than the box. */
      if (!inside || e.target.closest("a,input,select,label,button,summary,.applied,.passes") || String(getSelection()) !== "") return;
      var row = e.target.closest("[data-op],.waits,.ticks li"), box = row && row.querySelector("input[data-tick]");
      if (box) box.click();
    });
    main.addEventListener("input", answerBehind);
    main.addEventListener("change", answerBehind);
    keys();
  }
  function keys() {
    document.addEventListener("keydown", function (e) {
      if (!inside || e.ctrlKey || e.metaKey || e.altKey || /^(SELECT|TEXTAREA)$/.test(e.target.tagName) || e.target.type === "text" || e.target.type === "radio") return;
      if (e.key === "ArrowRight") next();
      else if (e.key === "ArrowLeft") show(at - 1);
      else if (e.key === "Escape" && !openPanel.hidden) openButton.click();
      else return;
      e.preventDefault();
    });
    var from = null;
    main.addEventListener("touchstart", function (e) {
      from = e.touches.length === 1 && !e.target.closest("input,select,.wide") ? { x: e.touches[0].clientX, y: e.touches[0].clientY } : null;
    }, { passive: true });
    /* What moves sideways turns the step; left to itself the browser would go back in its history. */
    main.addEventListener("touchmove", function (e) {
      if (!inside || !from || !e.cancelable) return;
      if (Math.abs(e.touches[0].clientX - from.x) > Math.abs(e.touches[0].clientY - from.y)) e.preventDefault();
    }, { passive: false });
    main.addEventListener("touchend", function (e) {
      if (!inside || !from) return;
      var dx = e.changedTouches[0].clientX - from.x, dy = e.changedTouches[0].clientY - from.y;
      if (Math.abs(dx) > 70 && Math.abs(dx) > 2 * Math.abs(dy)) { if (dx < 0) next(); else show(at - 1); }
    }, { passive: true });
  }

  function tellWaits() {
    var text = entry.tellWaits(work.read());
    /* Told once: a text that is set anew would be read out anew. */
    if (over.textContent !== text) over.textContent = text;
  }
  /* With time a wait that was ticked too early is over, and no longer missing. */
  var early = 0;
  function tick() {
    if (!inside) return;
    tellWaits();
    var now = all(".clock .early").filter(function (el) { return el.textContent; }).length;
    if (now < early) refill();
    early = now;
  }
  /* Shows what is kept, and gives back what differs in the field that is being typed in. */
  function refresh() {
    var state = work.read(), differs = entry.refresh(state), list = open.now(state);
    tellWaits();
    openButton.textContent = list.length ? open.summary(list) : "Nothing open";
    openButton.classList.toggle("some", list.length > 0);
    openPanel.textContent = "";
    list.forEach(function (o) { openPanel.appendChild(openLine(o)); });
    if (!list.length) openPanel.appendChild(make("li", { text: "All that was ticked as opened is ticked as closed again." }));
    tellSaying();
    refill();
    return differs;
  }
  function openLine(o) {
    var li = make("li", {}, [open.line(o)]);
    if (o.closes) {
      li.appendChild(document.createTextNode(", closed again in "));
      li.appendChild(button("step " + numberOf(o.closes), "link", function () { goTo(o.closes.id); }));
    }
    return li;
  }
  function goTo(key) { show(screens.findIndex(function (s) { return s.key === key; })); }

  /* Coming and going ---------------------------------------------------------------------------- */
  function takeOptions() {
    var state = work.read();
    if (!state.touched || !window.bayleafOptions || JSON.stringify(window.bayleafOptions.chosen()) === JSON.stringify(state.options)) return;
    resting = true;
    window.bayleafOptions.choose(state.options);
    resting = false;
  }
  /* Work that is kept goes on, and says whose it is: the next van may stand in the bay. */
  function goesOn(asked) {
    var state = work.read(), order = state.order, own = window.bayleafOptions;
    if (!state.touched) return;
    var text = "Going on with the work that was begun on " + (order.started || "an unknown day") + (order.registration ? " on " + order.registration : "")
      + (state.signed.technician ? " and is signed" : "") + ".", offers = [];
    if (own && JSON.stringify(asked) !== JSON.stringify(own.chosen())) {
      text += " Its options stand here (" + (own.words() || "none chosen") + "), and not those that this page was opened with.";
      offers.push(button("Take the other options", "btn", function () { own.choose(asked); say(""); }));
    }
    offers.push(button("Save it and start anew", "btn", function () {
      record.save(make("p"));
      work.clear();
      answered = {};
      resting = true;
      if (own) own.choose(asked);
      resting = false;
      layScreens();
      refresh();
      show(0);
      say("The record is saved as a file, and this device is clear for the next vehicle.");
    }));
    offers.push(button("Go on", "btn", function () { say(""); }));
    say(text, offers);
  }
  function begin() {
    answered = {};
    var asked = window.bayleafOptions && window.bayleafOptions.chosen();
    takeOptions();
    layScreens();
    refresh();
    var old = work.older();
    say("");
    if (!old) { goesOn(asked); return; }
    var ids = {};
    all("input[data-tick]").forEach(function (b) { ids[b.getAttribute("data-tick")] = true; });
    var gone = Object.keys(old.ticks).filter(function (t) { return !ids[t] && !/\/hold$|^follow-up\//.test(t); });
    say("Look at what changed before you go on. " + (gone.length ? plural(gone.length, "tick belongs", "ticks belong") + " to what is no longer in the guide." : "Every tick still has its place."),
      [button("Save the old record first", "btn", function () { record.save(make("p")); })]);
  }
  /* Begins on a screen, or where the work stood, with what there is to say of the work. */
  function beginOn(key) {
    begin();
    var to = key || work.read().at, found = screens.findIndex(function (s) { return s.key === to; }), told = saying;
    show(Math.max(found, 0));
    say(told.text, told.offers);
  }
  function awake() {
    if (!inside || !navigator.wakeLock || document.visibilityState !== "visible") return;
    navigator.wakeLock.request("screen").then(function (l) { lock = l; }, function () { /* a low battery may refuse it */ });
  }
  document.addEventListener("visibilitychange", awake);
  function address(on) {
    var rest = location.search.slice(1).split("&").filter(function (b) { return b && !/^bay\b/.test(b); }).concat(on ? "bay" : []).join("&");
    try { history.replaceState(null, "", location.pathname + (rest ? "?" + rest : "") + location.hash); } catch (e) { /* then a reload shows the guide */ }
  }
  function leave() {
    inside = false;
    root.classList.remove("in-bay");
    all(".step h3").forEach(function (h) { h.removeAttribute("aria-level"); });
    address(false);
    if (lock) { lock.release(); lock = null; }
    var step = screens[at].step;
    document.getElementById("bay").textContent = work.read().touched ? "Continue in the bay view" : "Bay view";
    document.getElementById("bay").focus({ preventScroll: true });
    if (step) step.scrollIntoView();
  }
  return function enter() {
    if (!built) build();
    if (inside) return;
    inside = true;
    var button = document.getElementById("bay");
    button.disabled = false;
    root.classList.add("in-bay");
    /* The phases are not shown, so a step stands right below the title. */
    all(".step h3").forEach(function (h) { h.setAttribute("aria-level", "2"); });
    address(true);
    beginOn(null);
    awake();
  };
})(window.bayleafPage, window.bayleafOpen, window.bayleafEntry, window.bayleafRecord, window.bayleafWork);
