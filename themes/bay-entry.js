/* What is ticked and entered on the page, and the clocks for waits: boxes, fields and buttons beside what they belong to. What is
   entered is kept by record.js and judged by bay-judge.js; which screen they stand on is left to bay.js. */
window.bayleafEntry = (function (page, judge, open, work) {
  "use strict";
  var main = page.main, all = page.all, make = page.make, button = page.button, words = page.words, shown = page.shown, numberOf = page.numberOf;
  var fields = {}, refreshers = [], waits = [];

  function tick(id, label, holder, before) {
    var box = make("input", { type: "checkbox", "data-tick": id, "aria-label": label });
    var wrap = make("label", { "class": "tick bayed" }, [box]);
    holder.insertBefore(wrap, before || holder.firstChild);
    box.addEventListener("change", function () {
      work.change(function (s) {
        var wait = s.waits[id.replace(/\/wait$/, "")];
        if (box.checked) s.ticks[id] = true; else delete s.ticks[id];
        /* Whether a wait was ticked before its time is asked of the clock, and not of the day on which the record is read. */
        if (wait && /\/wait$/.test(id)) { if (box.checked) wait.ticked = Date.now(); else delete wait.ticked; }
      });
    });
    return box;
  }
  function field(label, id, value, parse, kind) {
    var input = make("input", { type: "text", id: id, autocomplete: "off" });
    input.addEventListener("input", function () { work.change(function (s) { parse(s, input.value); }); });
    input.addEventListener("blur", function () { input.value = value(work.read()) || ""; });
    fields[id] = { input: input, value: value, label: label };
    return make("p", { "class": "bayed entry " + (kind || "") }, [make("label", { "for": id, text: label }), input]);
  }
  /* The text of a field is what is kept, also where another tab wrote it; only what is being typed stays, and what differs then is told. */
  var differs = [];
  var typing = function (input) { return document.activeElement === input && document.hasFocus(); };
  function follow(input, kept, label) {
    if (!typing(input)) input.value = kept; else if (input.value.trim() !== kept.trim()) differs.push({ label: label, kept: kept });
  }
  /* A field for a number, its unit, what is said of it, and why it stays where it is not what is asked for. */
  function entry(n, label, choices, hintOf, hold) {
    var input = make("input", { type: "text", id: n, inputmode: "decimal", autocomplete: "off", "aria-describedby": n + "-say " + n + "-band", maxlength: "40" });
    var unit = make("select", { "aria-label": "Unit: " + label }, choices.map(function (u) { return make("option", { text: u }); }));
    var verdict = make("p", { id: n + "-say", role: "status", "class": "verdict" });
    var why = make("input", { type: "text", id: n + "-why", autocomplete: "off" });
    var note = make("p", { "class": "entry", hidden: "" }, [make("label", { "for": n + "-why", text: "Why it stays" }), why]);
    var typed = function () {
      var text = input.value.trim();
      /* A unit that is typed goes before the one beside the field. */
      return !text ? "" : /[^\d\s.,\-\u2212]/.test(text) ? text : text + " " + unit.value;
    };
    var held = function () { hold(typed(), why.value); };
    var hint = make("small", { id: n + "-band" });
    var tellBand = function () { hint.textContent = hintOf(unit.value, input.value); };
    input.addEventListener("input", function () { tellBand(); held(); });
    unit.addEventListener("change", function () { tellBand(); held(); });
    why.addEventListener("input", held);
    var dd = make("dd", { "class": "bayed applied" }, [make("label", { "for": n, text: label }), make("span", { "class": "pair" }, [input, unit])]
      .concat([hint, verdict, note]));
    var kept = "";
    dd.refresh = function (given, reason, judged) {
      kept = given || "";
      if (typing(input) || typing(unit)) {
        if (typed() !== kept) differs.push({ label: label, kept: kept });
      } else {
        var last = given ? given.split(/\s+/).pop() : "", at = choices.indexOf(last);
        input.value = at < 0 ? given || "" : given.slice(0, given.length - last.length).trim();
        if (at >= 0) unit.value = last;
      }
      tellBand();
      follow(why, reason || "", "Why it stays");
      verdict.textContent = judged ? judged.say + (judged.then || "") : "";
      dd.classList.toggle("good", !!judged && judged.ok);
      dd.classList.toggle("bad", !!judged && !judged.ok);
      note.hidden = !judged || judged.ok;
    };
    input.addEventListener("blur", function () { if (typed() !== kept) refreshFields(work.read()); });
    dd.lead = function (u) {
      if (choices.indexOf(u) >= 0 && !input.value && document.activeElement !== unit) unit.value = u;
      tellBand();
    };
    return dd;
  }
  function measuredEntry(m) {
    var dd = entry("measured-" + m.key.replace(/[^\w-]/g, "-"), "Measured: " + m.name, judge.unitsOf(m.dd), function (unit, text) { return judge.band(m.dd, unit, text); }, function (text, why) {
      work.change(function (s) { if (text) s.measured[m.key] = { measured: text, note: why }; else delete s.measured[m.key]; });
    });
    m.dd.parentNode.insertBefore(dd, m.dd.nextSibling);
    return function (state) {
      var given = state.measured[m.key];
      dd.refresh(given && given.measured, given && given.note, given && judge.measured(given.measured, m.dd));
    };
  }
  /* A box for each pass, before something in the list; behind all of it where nothing is given. */
  function passBoxes(dl, before) {
    all(".in-passes>span", dl).forEach(function (pass, i) {
      /* The words of the page, so that the units change their order here as well. */
      var line = make("span", { "class": "pass" }, ["Pass: ", pass.cloneNode(true)]);
      var row = make("dd", { "class": "bayed passes" }, [line]);
      tick(dl.getAttribute("data-op") + "/pass/" + (i + 1), "Pass done: " + words(pass), row);
      dl.insertBefore(row, before || null);
    });
  }
  function torqueEntry(dl, tq) {
    var id = dl.getAttribute("data-op"), n = "applied-" + id.replace(/[^\w-]/g, "-");
    var wrench = make("input", { type: "text", id: n + "-wrench", autocomplete: "off", maxlength: "60" });
    var hold = function (applied, why) {
      work.change(function (s) { if (applied) s.torques[id] = { applied: applied, wrench: wrench.value.trim(), note: why }; else delete s.torques[id]; });
    };
    var dd = entry(n, "Torque applied", ["N·m", "lb·ft", "lb·in"], function (unit, text) { return judge.band(tq, unit, text); }, hold);
    wrench.addEventListener("input", function () { work.change(function (s) { if (s.torques[id]) s.torques[id].wrench = wrench.value.trim(); }); });
    dd.insertBefore(make("p", { "class": "entry wrench" }, [make("label", { "for": n + "-wrench", text: "Wrench used, by its number" }), wrench]), dd.querySelector(".verdict").nextSibling);
    /* The unit that stands large is the one on the wrench. */
    var lead = function () {
      var unit = /(N·m|lb·ft|lb·in)/.exec(page.value(tq.querySelector(".val")));
      if (unit) dd.lead(unit[1]);
    };
    lead();
    new MutationObserver(lead).observe(document.documentElement, { attributes: true, attributeFilter: ["data-first"] });
    tq.parentNode.insertBefore(dd, tq.nextSibling);
    passBoxes(dl, dd);
    return function (state) {
      var given = state.torques[id];
      dd.refresh(given && given.applied, given && given.note, given && judge.torque(given.applied, tq));
      dd.querySelector(".wrench").hidden = !given;
      follow(wrench, given ? given.wrench || "" : "", "Wrench used");
    };
  }

  /* Waits --------------------------------------------------------------------------------------- */
  function clock(time) {
    var d = new Date(time), two = function (n) { return (n < 10 ? "0" : "") + n; };
    return two(d.getHours()) + ":" + two(d.getMinutes()) + (d.toDateString() === new Date().toDateString() ? "" : " on " + d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate()));
  }
  /* A clock for a time to wait: kept with the work, so that it runs on while the page is closed. It ticks nothing by itself. */
  function waitClock(step, dd) {
    var seconds = Number(dd.getAttribute("data-seconds")), how = words(dd), told = make("span", { "class": "left" }), early = make("span", { "class": "early", role: "alert" });
    if (!(seconds > 0)) return;
    var start = button("Start the wait", "btn", function () { 
      work.change(function (s) {
        s.waits[step.id] = { started: Date.now(), ended: Date.now() + seconds * 1000 };
        delete s.ticks[step.id + "/wait"];
      });
    });
    dd.parentNode.insertBefore(make("dd", { "class": "bayed clock" }, [start, told, early]), dd.nextSibling);
    waits.push({ step: step, how: how, tell: function (end, ticked, shows) {
      var left = end - Date.now();
      /* Said at the tick, and not anew with each minute. */
      if (!ticked || !shows) early.textContent = "";
      else if (!early.textContent) early.textContent = "Ticked, and the clock still shows " + shows + " min.";
      start.textContent = end ? "Start the wait again" : "Start the wait";
      told.textContent = !end ? "" : left > 0 ? "Ends at " + clock(end) + ", " + Math.ceil(left / 60000) + " min left." : "Over: it ended at " + clock(end) + ".";
    } });
  }
  /* Sets the clocks, and says which waits are over and not ticked. */
  function tellWaits(state) {
    var ended = [];
    waits.forEach(function (w) {
      var end = state.waits[w.step.id] ? state.waits[w.step.id].ended : 0, ticked = !!state.ticks[w.step.id + "/wait"];
      w.tell(end, ticked, open.minutesLeft(state, w.step.id));
      if (end && end <= Date.now() && shown(w.step) && !ticked) ended.push("Step " + numberOf(w.step) + ": the wait of " + w.how + " is over, it ended at " + clock(end) + ".");
    });
    return ended.join(" ");
  }

  /* All of them --------------------------------------------------------------------------------- */
  function list(css, key) {
    all(css).forEach(function (ul) {
      all("li", ul).forEach(function (li, i) {
        var text = words(li);
        tick(key(ul) + "/" + (i + 1), text, li);
      });
    });
  }
  /* Which of the vehicles it is, where the guide fits several. */
  function vehicle() {
    var fits = all(".fits>div:first-child dd span").map(words), id = "order-vehicle";
    if (fits.length < 2) return null;
    var select = make("select", { id: id }, [make("option", { value: "", text: "not said" })].concat(fits.map(function (v) { return make("option", { value: v, text: v }); })));
    select.addEventListener("change", function () { work.change(function (s) { s.order.vehicle = select.value; }); });
    refreshers.push(function (state) {
      var kept = state.order.vehicle || "";
      /* A record may name one that this revision does not fit. */
      if (kept && fits.indexOf(kept) < 0 && !all("option", select).some(function (o) { return o.value === kept; })) select.appendChild(make("option", { value: kept, text: kept }));
      select.value = kept;
    });
    return make("p", { "class": "bayed entry" }, [make("label", { "for": id, text: "Vehicle" }), select]);
  }
  /* Adds to the page what is ticked and entered, and gives back the form for the vehicle. */
  function place() {
    all("[data-op]").forEach(function (dl) {
      var what = dl.querySelector("dd.do"), verb = dl.querySelector("dt.do");
      tick(dl.getAttribute("data-op"), words(verb) + " " + words(what), verb);
      var tq = dl.querySelector(".tq");
      if (tq) refreshers.push(torqueEntry(dl, tq));
      else passBoxes(dl);
      page.measuredIn(dl).forEach(function (m) { refreshers.push(measuredEntry(m)); });
    });
    list(".step .ticks", function (ul) { return ul.closest(".step").id + "/check"; });
    list(".r-before .ticks", function () { return "before"; });
    all(".tail").forEach(function (tail) {
      /* What is due later is work for another day, and is ticked on its sheet. */
      if (tail.querySelector("#final-checks")) all(".ticks li", tail).forEach(function (li, i) { tick("final/" + (i + 1), words(li), li); });
    });
    all(".step").forEach(function (step) {
      var stop = step.querySelector(".stop");
      if (stop) {
        stop.appendChild(field("Signed at the stop by", "hold-" + step.id, function (s) { return s.holds[step.id]; }, function (s, v) {
          s.holds[step.id] = v;
          if (v.trim()) { s.ticks[step.id + "/hold"] = true; s.heldAt[step.id] = work.minute(Date.now()); } else { delete s.ticks[step.id + "/hold"]; delete s.heldAt[step.id]; }
        }));
        /* The name stands under the step as it is. */
        var lacks = make("p", { "class": "lacks", role: "status" });
        stop.appendChild(lacks);
        refreshers.push(function (state) {
          var gaps = (state.holds[step.id] || "").trim() ? open.gapsOf(step, state) : [];
          lacks.textContent = gaps.length ? "Signed, and still missing: " + gaps.map(function (gap) { return gap.text.replace(/^Step \S+ /, ""); }).join("; ") + "." : "";
        });
      }
      var wait = step.querySelector(".facts dl:not([data-op]) dt.do");
      if (wait) {
        tick(step.id + "/wait", "Waited: " + words(wait.nextElementSibling), wait);
        wait.parentNode.classList.add("waits");
        waitClock(step, wait.nextElementSibling);
      }
      step.querySelector(".say").appendChild(field("Note on this step", "note-" + step.id, function (s) { return s.notes[step.id]; }, function (s, v) { s.notes[step.id] = v; }, "note"));
    });
    var order = make("div", { "class": "bayed order" }, [make("h2", { text: "This vehicle" })].concat([["order", "Order"], ["registration", "Registration"], ["vehicle", "Vehicle"], ["vin", "VIN"], ["odometer", "Odometer"], ["technician", "Technician"]].map(function (f) {
      return f[0] === "vehicle" ? vehicle() : field(f[1], "order-" + f[0], function (s) { return s.order[f[0]]; }, function (s, v) { s.order[f[0]] = v; });
    }).filter(Boolean)));
    main.insertBefore(order, main.querySelector(".ready"));
    return order;
  }
  function refreshFields(state) {
    differs = [];
    refreshers.forEach(function (refresh) { refresh(state); });
    Object.keys(fields).forEach(function (id) { follow(fields[id].input, fields[id].value(state) || "", fields[id].label); });
  }
  /* Shows what is kept, and gives back what differs in the field that is being typed in. */
  function refresh(state) {
    all("input[data-tick]").forEach(function (box) {
      box.checked = !!state.ticks[box.getAttribute("data-tick")];
      var row = box.closest("[data-op],li,dd.passes,.waits");
      if (row && box.getAttribute("data-tick").indexOf("/pass/") < 0) row.classList.toggle("done", box.checked);
    });
    refreshFields(state);
    return differs;
  }

  return { place: place, field: field, refresh: refresh, tellWaits: tellWaits };
})(window.bayleafPage, window.bayleafJudge, window.bayleafOpen, window.bayleafWork);
