/* The bay view: the guide one step at a time, ticked off, with the torques applied and what is still open. The work itself is kept
   by record.js; the options switch is options.js. Everything here is added to the page of the guide, and taken away by closing it. */
window.bayleafBay = (function () {
  "use strict";
  var root = document.documentElement, main = document.getElementById("sheet"), work = window.bayleafWork;
  var all = function (css, of) { return Array.prototype.slice.call((of || main).querySelectorAll(css)); };
  function make(tag, attributes, parts) {
    var el = document.createElement(tag);
    Object.keys(attributes || {}).forEach(function (k) {
      if (k === "text") el.textContent = attributes[k]; else if (attributes[k] !== null) el.setAttribute(k, attributes[k]);
    });
    (parts || []).forEach(function (p) { el.appendChild(typeof p === "string" ? document.createTextNode(p) : p); });
    return el;
  }
  function button(text, kind, act) {
    var b = make("button", { type: "button", "class": kind, text: text });
    b.addEventListener("click", act);
    return b;
  }
  var words = function (el) {
    var copy = el.cloneNode(true);
    all(".opt,svg,input,.box", copy).forEach(function (x) { x.remove(); });
    /* What stands on lines of its own is told with commas between. */
    all(".hw,.how", copy).forEach(function (x) { if (x.previousSibling && x.previousSibling.textContent.trim()) x.insertBefore(document.createTextNode(", "), x.firstChild); });
    return copy.textContent.replace(/\s+/g, " ").trim();
  };
  /* A value as it leads on the page, the other units in brackets. */
  function value(val) {
    var both = [".m", ".u"].map(function (css) { return val.querySelector(css); }).filter(Boolean).map(words);
    if (root.getAttribute("data-first") === "imperial") both.reverse();
    return both[0] + (both[1] ? " (" + both[1] + ")" : "");
  }
  var plural = function (n, one, more) { return n + " " + (n === 1 ? one : more || one + "s"); };
  var shown = function (el) { return !el.closest("[hidden]"); };

  /* Torques ------------------------------------------------------------------------------------- */
  var units = window.bayleafUnits || [];
  function unitOf(text) {
    var plain = text.toLowerCase().replace(/[·⋅.\-\s\/]/g, "");
    for (var i = 0; i < units.length; i++) if ((" " + units[i][2] + " ").indexOf(" " + plain + " ") >= 0) return units[i];
    return null;
  }
  /* What was entered against what is asked for: ok, and what to say. */
  function judge(text, tq) {
    var none = "“" + text + "” is not a torque; it takes a number and its unit, such as 45 N·m";
    if (/\d\s*(?:[-–]|to|\.\.)\s*\d/.test(text)) return { ok: false, say: "“" + text + "” is a range. Enter the one torque that was applied.", gap: none };
    /* The turn after the torque has its own box. */
    var read = /^\s*(\d+(?:[.,]\d+)?)\s*(.*?)\s*$/.exec(text.replace(/\s*\+\s*\d+(?:[.,]\d+)?\s*(?:°|deg(?:rees)?)\s*$/, ""));
    if (!read) return { ok: false, say: "“" + text + "” is not a torque. Enter a number and its unit, such as 45 N·m.", gap: none };
    var unit = unitOf(read[2]);
    if (!unit) return { ok: false, say: read[2] ? "“" + read[2] + "” is no unit of torque. Enter N·m, lb·ft or lb·in." : "The unit is missing. Enter N·m, lb·ft or lb·in.", gap: none };
    var number = Number(read[1].replace(",", ".")), moment = number * unit[1];
    var low = tq.getAttribute("data-low"), high = tq.getAttribute("data-high");
    if (low === null && high === null) return { ok: false, say: "The guide gives no torque that this can be checked against.", gap: "the guide gives no torque that this can be checked against" };
    /* In a unit that the guide prints, the number it prints counts; in any other, what either of them lets pass. */
    var bounds = readings(tq.getAttribute("data-bounds") || "");
    var side = function (x, in_) {
      var printed = bounds.filter(function (b) { return b.unit === in_[0]; })[0], own = printed || { low: low, high: high }, y = printed ? x : x * in_[1];
      return own.low !== null && y < Number(own.low) - 1e-6 ? "below" : own.high !== null && y > Number(own.high) + 1e-6 ? "above" : "";
    };
    var off = side(number, unit), asked = value(tq.querySelector(".val"));
    if (!off) return { ok: true, say: "As asked for." };
    var say = read[1] + "\u00a0" + unit[0] + (unit[1] === 1 ? "" : " is " + Number(moment.toPrecision(3)) + "\u00a0N·m") + ", and " + off + " what is asked for: " + asked + ".";
    var other = units.filter(function (u) { return u !== unit && /^(N·m|lb·ft|lb·in)$/.test(u[0]) && !side(number, u); })[0];
    return { ok: false, say: say + (other ? " In " + other[0] + " it would be right: look at the unit." : ""), then: " Stop and put it right, or say below why it stays.", gap: offWords(text, off, asked) };
  }
  /* What the list of gaps says of an entry, as the command says it that prints the record. */
  function offWords(text, off, asked) { return text + " is " + off + " what is asked for, " + asked + ", and no note says why"; }

  /* What may be entered for a torque, in the unit that leads. */
  function band(tq, unit) {
    var list = readings(tq.getAttribute("data-bounds") || "");
    var own = list.filter(function (b) { return b.unit === unit; })[0] || list[0];
    return own ? within(own.low, own.high, own.unit) : "";
  }
  function within(low, high, unit) {
    if (low === null && high === null) return "";
    return "Counts as asked for: " + (low === null ? "up to " + high : high === null ? "from " + low : low === high ? low : low + " to " + high) + "\u00a0" + unit;
  }

  /* Measured values ----------------------------------------------------------------------------- */
  function readings(text) {
    return text.split("|").filter(Boolean).map(function (r) {
      var part = r.split(";"), number = function (text) { return text === "" ? null : Number(text); };
      return { unit: part[0], low: number(part[1]), high: number(part[2]) };
    });
  }
  function judgeMeasured(text, dd) {
    var read = /^\s*([-\u2212]?\d+(?:[.,]\d+)?)\s*(.*?)\s*$/.exec(text), list = readings(dd.getAttribute("data-reads")), names = list.map(function (r) { return r.unit; }).join(" or ");
    var found = read && list.filter(function (r) { return r.unit === read[2]; })[0];
    if (!found) return { ok: false, say: "“" + text + "” is not a number with its unit, " + names + ".", gap: "“" + text + "” is not a number with its unit, " + names };
    var number = Number(read[1].replace(",", ".").replace("\u2212", "-"));
    var side = found.low !== null && number < found.low - 1e-6 ? "below" : found.high !== null && number > found.high + 1e-6 ? "above" : "";
    var asked = value(dd.querySelector(".val"));
    if (side) return { ok: false, say: text + " is " + side + " what is asked for: " + asked + ".", then: " Stop and put it right, or say below why it stays.", gap: offWords(text, side, asked) };
    return { ok: true, say: "As asked for." };
  }
  var measuredIn = function (dl) {
    return all("[data-reads]", dl).map(function (dd) {
      /* The record counts all values of the operation, as the guide does. */
      var name = dd.previousElementSibling, at = all("dt.sp", dl).indexOf(name) + 1;
      return { dd: dd, name: words(name), key: dl.getAttribute("data-op") + "#" + at };
    });
  };

  /* What is open -------------------------------------------------------------------------------- */
  var accounts = {};
  all("#accounts li").forEach(function (li) {
    accounts[li.getAttribute("data-account")] = { name: li.textContent, state: li.getAttribute("data-state"), connector: li.hasAttribute("data-connector") };
  });
  function moves() {
    var found = [];
    all("[data-moves]").filter(shown).forEach(function (op) {
      op.getAttribute("data-moves").split(" ").forEach(function (m) {
        var read = /^([+-])(.*?)(?:\*(\d+))?$/.exec(m);
        found.push({ op: op, opens: read[1] === "+", account: read[2], count: Number(read[3] || 1) });
      });
    });
    return found;
  }
  function openNow() {
    var ticks = work.read().ticks, list = moves(), now = {};
    list.forEach(function (m) {
      if (!ticks[m.op.getAttribute("data-op")]) return;
      var before = now[m.account] || 0;
      /* What lies off the vehicle lies there as a whole; bolts are loosened and done up in several places. */
      var count = /^loosen\//.test(m.account) ? before + (m.opens ? m.count : -m.count) : m.opens ? m.count : 0;
      if (count > 0) now[m.account] = count;
      else delete now[m.account];
    });
    /* What nothing on this vehicle closes again is no work left over. */
    return Object.keys(accounts).filter(function (a) {
      return now[a] && list.some(function (m) { return !m.opens && m.account === a; });
    }).map(function (a) {
      var closing = list.filter(function (m) { return !m.opens && m.account === a && !ticks[m.op.getAttribute("data-op")]; })[0];
      return { name: accounts[a].name, state: accounts[a].state, connector: accounts[a].connector, count: now[a],
        closes: closing ? closing.op.closest(".step") : null };
    });
  }
  function openWords(list) {
    var count = function (some) { return some.reduce(function (sum, o) { return sum + o.count; }, 0); };
    var plugs = count(list.filter(function (o) { return o.connector; })), rest = count(list) - plugs;
    var states = list.filter(function (o) { return !o.connector; }).map(function (o) { return o.state; });
    var one = states.length && states.every(function (s) { return s === states[0]; }) ? states[0] : "open";
    return (plugs ? plural(plugs, "connector") + " still unplugged" + (rest ? ", " + rest + " more " + one : "") : rest + " still " + one);
  }

  /* The screens --------------------------------------------------------------------------------- */
  var built = false, inside = false, at = 0, screens = [], fields = {}, bar, foot, jump, openButton, openPanel, says, recordScreen, orderForm, lock = null, resting = false;
  function layScreens() {
    var here = screens[at] && screens[at].key;
    screens = [{ key: "start", name: "Before you start", parts: all(".deck,.first,.ready").concat(orderForm) }];
    all(".step").filter(shown).forEach(function (step) {
      screens.push({ key: step.id, name: step.querySelector(".ball").textContent + ". " + step.querySelector("h3 span").textContent, step: step, parts: [step] });
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
    if (screens[at].key === "record") fillRecord();
    screens[at].parts.forEach(function (el) { el.classList.add("now"); });
    jump.value = String(at);
    foot.querySelector(".back").disabled = at === 0;
    foot.querySelector(".next").disabled = at === screens.length - 1;
    say("");
    openPanel.hidden = true;
    openButton.setAttribute("aria-expanded", "false");
    if (quiet) return;
    main.scrollTop = 0;
    var head = screens[at].parts.map(function (p) { return p.querySelector("h2:not(.unseen),h3"); }).filter(Boolean)[0] || screens[at].parts[0];
    head.setAttribute("tabindex", "-1");
    head.focus({ preventScroll: true });
    if (work.read().touched) work.change(function (s) { s.at = screens[at].key; });
  }
  function say(text) {
    /* That nothing can be kept holds until it can. */
    text = [text, work.refusal()].filter(Boolean).join(" ");
    if (says.textContent !== text) says.textContent = text;
    says.hidden = !text;
  }
  function unticked(step) {
    return all("input[data-tick]", step).filter(function (box) { return shown(box) && !box.checked; }).length;
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
      var gaps = gapsOf(step, work.read());
      show(at + 1);
      if (gaps.length) say(gaps.map(function (gap) { return gap.text; }).join(". ").replace(/\.?$/, "."));
      return;
    }
    var final = screens[at].key === "end" ? screens[at].parts.reduce(function (n, part) { return n + (part.querySelector("#final-checks") ? unticked(part) : 0); }, 0) : 0;
    show(at + 1);
    if (final) say("Final checks: " + plural(final, "box", "boxes") + " not ticked.");
  }

  /* What is entered ----------------------------------------------------------------------------- */
  function tick(id, label, holder, before) {
    var box = make("input", { type: "checkbox", "data-tick": id, "aria-label": label });
    var wrap = make("label", { "class": "tick bayed" }, [box]);
    holder.insertBefore(wrap, before || holder.firstChild);
    box.addEventListener("change", function () { work.change(function (s) { if (box.checked) s.ticks[id] = true; else delete s.ticks[id]; }); });
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
    var tellBand = function () { hint.textContent = hintOf(unit.value); };
    input.addEventListener("input", held);
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
        tellBand();
      }
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
  function measuredEntry(dl, m) {
    var choices = readings(m.dd.getAttribute("data-reads")), first = choices[0];
    var dd = entry("measured-" + m.key.replace(/[^\w-]/g, "-"), "Measured: " + m.name, choices.map(function (r) { return r.unit; }), function (unit) {
      var own = choices.filter(function (r) { return r.unit === unit; })[0] || first;
      return within(own.low, own.high, own.unit);
    }, function (text, why) {
      work.change(function (s) { if (text) s.measured[m.key] = { measured: text, note: why }; else delete s.measured[m.key]; });
    });
    m.dd.parentNode.insertBefore(dd, m.dd.nextSibling);
    return function (state) {
      var given = state.measured[m.key];
      dd.refresh(given && given.measured, given && given.note, given && judgeMeasured(given.measured, m.dd));
    };
  }
  function torqueEntry(dl, tq) {
    var id = dl.getAttribute("data-op"), n = "applied-" + id.replace(/[^\w-]/g, "-");
    var wrench = make("input", { type: "text", id: n + "-wrench", autocomplete: "off", maxlength: "60" });
    var hold = function (applied, why) {
      work.change(function (s) { if (applied) s.torques[id] = { applied: applied, wrench: wrench.value.trim(), note: why }; else delete s.torques[id]; });
    };
    var dd = entry(n, "Torque applied", ["N·m", "lb·ft", "lb·in"], function (unit) { return band(tq, unit); }, hold);
    wrench.addEventListener("input", function () { work.change(function (s) { if (s.torques[id]) s.torques[id].wrench = wrench.value.trim(); }); });
    dd.insertBefore(make("p", { "class": "entry wrench" }, [make("label", { "for": n + "-wrench", text: "Wrench used, by its number" }), wrench]), dd.querySelector(".verdict").nextSibling);
    /* The unit that stands large is the one on the wrench. */
    var lead = function () {
      var unit = /(N·m|lb·ft|lb·in)/.exec(value(tq.querySelector(".val")));
      if (unit) dd.lead(unit[1]);
    };
    lead();
    new MutationObserver(lead).observe(root, { attributes: true, attributeFilter: ["data-first"] });
    tq.parentNode.insertBefore(dd, tq.nextSibling);
    (tq.getAttribute("data-passes") || "").split("|").filter(Boolean).forEach(function (pass, i) {
      var line = make("span", { "class": "pass", text: "Pass: " + pass });
      var row = make("dd", { "class": "bayed passes" }, [line]);
      tick(id + "/pass/" + (i + 1), "Pass done: " + pass, row);
      tq.parentNode.insertBefore(row, dd);
    });
    dl.refresh = function (state) {
      var given = state.torques[id];
      dd.refresh(given && given.applied, given && given.note, given && judge(given.applied, tq));
      dd.querySelector(".wrench").hidden = !given;
      follow(wrench, given ? given.wrench || "" : "", "Wrench used");
    };
  }
  function list(css, key) {
    all(css).forEach(function (ul) {
      all("li", ul).forEach(function (li, i) {
        var text = words(li);
        tick(key(ul) + "/" + (i + 1), text, li);
      });
    });
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
    setInterval(function () { if (inside) tellWaits(); }, 5000);
    document.body.insertBefore(foot, main.nextSibling);

    all("[data-op]").forEach(function (dl) {
      var what = dl.querySelector("dd.do"), verb = dl.querySelector("dt.do");
      tick(dl.getAttribute("data-op"), words(verb) + " " + words(what), verb);
      var tq = dl.querySelector(".tq");
      if (tq) torqueEntry(dl, tq);
      var measured = measuredIn(dl).map(function (m) { return measuredEntry(dl, m); });
      if (measured.length) {
        var torque = dl.refresh;
        dl.refresh = function (state) { if (torque) torque(state); measured.forEach(function (refresh) { refresh(state); }); };
      }
    });
    list(".step .ticks", function (ul) { return ul.closest(".step").id + "/check"; });
    list(".r-before .ticks", function () { return "before"; });
    all(".tail").forEach(function (tail) {
      var head = tail.querySelector("#final-checks,#follow-up");
      if (head) all(".ticks li", tail).forEach(function (li, i) { tick((head.id === "follow-up" ? "follow-up/" : "final/") + (i + 1), words(li), li); });
    });
    all(".step").forEach(function (step) {
      var stop = step.querySelector(".stop");
      if (stop) {
        stop.appendChild(field("Signed at the stop by", "hold-" + step.id, function (s) { return s.holds[step.id]; }, function (s, v) {
          s.holds[step.id] = v;
          if (v.trim()) s.ticks[step.id + "/hold"] = true; else delete s.ticks[step.id + "/hold"];
        }));
      }
      var wait = step.querySelector(".facts dl:not([data-op]) dt.do");
      if (wait) {
        tick(step.id + "/wait", "Waited: " + words(wait.nextElementSibling), wait);
        wait.parentNode.classList.add("waits");
        waitClock(step, wait.nextElementSibling);
      }
      step.querySelector(".say").appendChild(field("Note on this step", "note-" + step.id, function (s) { return s.notes[step.id]; }, function (s, v) { s.notes[step.id] = v; }, "note"));
    });
    orderForm = make("div", { "class": "bayed order" }, [make("h2", { text: "This vehicle" })].concat([["registration", "Registration"], ["vin", "VIN"], ["odometer", "Odometer"], ["technician", "Technician"]].map(function (f) {
      return field(f[1], "order-" + f[0], function (s) { return s.order[f[0]]; }, function (s, v) { s.order[f[0]] = v; });
    })));
    main.insertBefore(orderForm, main.querySelector(".ready"));
    recordScreen = make("section", { "class": "bayed record", "aria-label": "Record" });
    main.appendChild(recordScreen);
    work.onchange(function (from) {
      if (!inside) return;
      if (from === "lapsed") say("This was changed after it was signed: it has to be signed again.");
      if (from === "elsewhere") takeOptions();
      refresh();
      /* What waits for an answer stays. */
      if (from === "elsewhere" && (differs.length || !says.querySelector("button"))) {
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

  function refresh() {
    var state = work.read();
    all("input[data-tick]").forEach(function (box) {
      box.checked = !!state.ticks[box.getAttribute("data-tick")];
      var row = box.closest("[data-op],li,dd.passes,.waits");
      if (row && box.getAttribute("data-tick").indexOf("/pass/") < 0) row.classList.toggle("done", box.checked);
    });
    refreshFields(state);
    tellWaits();
    var open = openNow();
    openButton.textContent = open.length ? openWords(open) : "Nothing open";
    openButton.classList.toggle("some", open.length > 0);
    openPanel.textContent = "";
    open.forEach(function (o) { openPanel.appendChild(openLine(o)); });
    if (!open.length) openPanel.appendChild(make("li", { text: "All that was ticked as opened is ticked as closed again." }));
    if (work.refusal() && says.textContent.indexOf(work.refusal()) < 0) say("");
    if (screens[at] && screens[at].key === "record" && !recordScreen.contains(document.activeElement)) fillRecord();
  }
  function refreshFields(state) {
    differs = [];
    all("[data-op]").forEach(function (dl) { if (dl.refresh) dl.refresh(state); });
    Object.keys(fields).forEach(function (id) { follow(fields[id].input, fields[id].value(state) || "", fields[id].label); });
  }
  function openText(o) { return "Still " + o.state + ": " + (o.count > 1 ? o.count + " × " : "") + o.name; }
  var numberOf = function (step) { return step.querySelector(".ball").textContent; };
  function openLine(o) {
    var li = make("li", {}, [openText(o)]);
    if (o.closes) {
      li.appendChild(document.createTextNode(", closed again in "));
      li.appendChild(button("step " + numberOf(o.closes), "link", function () { goTo(o.closes.id); }));
    }
    return li;
  }
  function goTo(key) { show(screens.findIndex(function (s) { return s.key === key; })); }

  /* Waits --------------------------------------------------------------------------------------- */
  var waits = [], over;
  function clock(time) {
    var d = new Date(time), two = function (n) { return (n < 10 ? "0" : "") + n; };
    return two(d.getHours()) + ":" + two(d.getMinutes()) + (d.toDateString() === new Date().toDateString() ? "" : " on " + d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate()));
  }
  /* A clock for a time to wait: kept with the work, so that it runs on while the page is closed. It ticks nothing by itself. */
  function waitClock(step, dd) {
    var seconds = Number(dd.getAttribute("data-seconds")), how = words(dd), told = make("span", { "class": "left" });
    if (!(seconds > 0)) return;
    var start = button("Start the wait", "btn", function () { work.change(function (s) { s.waits[step.id] = Date.now() + seconds * 1000; }); });
    dd.parentNode.insertBefore(make("dd", { "class": "bayed clock" }, [start, told]), dd.nextSibling);
    waits.push({ step: step, how: how, tell: function (end) {
      var left = end - Date.now();
      start.textContent = end ? "Start the wait again" : "Start the wait";
      told.textContent = !end ? "" : left > 0 ? "Ends at " + clock(end) + ", " + Math.ceil(left / 60000) + " min left." : "Over: it ended at " + clock(end) + ".";
    } });
  }
  function tellWaits() {
    var state = work.read(), ended = [];
    waits.forEach(function (w) {
      var end = Number(state.waits[w.step.id]) || 0;
      w.tell(end);
      if (end && end <= Date.now() && shown(w.step) && !state.ticks[w.step.id + "/wait"]) ended.push("Step " + numberOf(w.step) + ": the wait of " + w.how + " is over, it ended at " + clock(end) + ".");
    });
    /* Told once: a text that is set anew would be read out anew. */
    if (over.textContent !== ended.join(" ")) over.textContent = ended.join(" ");
  }

  /* The record ---------------------------------------------------------------------------------- */
  /* What an operation tightens. */
  function tightened(dl) {
    var dd = dl.querySelector("dd.do"), things = Array.prototype.filter.call(dd.childNodes, function (n) { return n.nodeType === 3; }).map(function (n) { return n.data; }).join(" ");
    return [things.replace(/\s+/g, " ").trim()].concat(all(".hw", dd).map(words)).filter(Boolean).join(", ");
  }
  function gapsOf(step, state) {
    var gaps = [], tell = function (text) { gaps.push({ key: step.id, text: "Step " + numberOf(step) + ": " + text }); };
    var left = unticked(step), stop = step.querySelector(".stop");
    if (left) tell(plural(left, "box", "boxes") + " not ticked");
    if (stop && !(state.holds[step.id] || "").trim()) tell(stop.getAttribute("data-who") + " has not signed at the stop");
    all("[data-op]", step).filter(shown).forEach(function (dl) {
      var told = function (what, given, found) { if (!found.ok && !(given.note || "").trim()) tell(what + ": " + found.gap); };
      measuredIn(dl).forEach(function (m) {
        var read = state.measured[m.key];
        if (!read) tell(m.name + " is not entered"); else told(m.name, read, judgeMeasured(read.measured, m.dd));
      });
      var tq = dl.querySelector(".tq"), given = state.torques[dl.getAttribute("data-op")];
      if (!tq) return;
      if (!given) tell("no torque entered for " + tightened(dl)); else told(tightened(dl), given, judge(given.applied, tq));
    });
    return gaps;
  }
  /* What is missing or still open, in the words and the order of the command that prints the record. */
  function missing(state) {
    var list = openNow().map(function (o) { return { key: o.closes && o.closes.id, text: openText(o) + (o.closes ? ", closed again in step " + numberOf(o.closes) : "") }; });
    var boxes = function (place, key, box) { var left = box ? unticked(box) : 0; if (left) list.push({ key: key, text: place + ": " + plural(left, "box", "boxes") + " not ticked" }); };
    boxes("Before you start", "start", main.querySelector(".r-before"));
    all(".step").filter(shown).forEach(function (step) { list = list.concat(gapsOf(step, state)); });
    all(".tail").forEach(function (t) { if (t.querySelector("#final-checks")) boxes("Final checks", "end", t); });
    var applies = {};
    all("[data-op]").filter(shown).forEach(function (dl) { applies[dl.getAttribute("data-op")] = true; });
    var stray = function (entry, op) { if (!applies[op]) list.push({ text: entry + " is entered for “" + op + "”, which does not apply to this vehicle" }); };
    Object.keys(state.torques).sort().forEach(function (op) { stray(state.torques[op].applied, op); });
    Object.keys(state.measured).sort().forEach(function (key) { stray(state.measured[key].measured, key.slice(0, key.lastIndexOf("#"))); });
    [["registration", "registration"], ["technician", "technician’s name"]].forEach(function (f) { if (!(state.order[f[0]] || "").trim()) list.push({ key: "start", text: "The " + f[1] + " is missing" }); });
    if (!state.signed.technician) list.push({ key: "record", text: "The technician has not signed" });
    return list;
  }
  /* What is not as asked for has a sign and a heavy edge, which paper in black and white shows as well. */
  function outcomeRow(cells, given, found) {
    var off = given && !found.ok, text = !given ? "" : off ? "not as asked for" + (given.note ? ": " + given.note : "") : "as asked for";
    return make("tr", { "class": off ? "off" : null }, cells.concat(make("td", { "data-c": "" }, off ? [make("b", { "class": "sign-off", "aria-hidden": "true", text: "!" }), text] : [text])));
  }
  function table(name, heads, rows) {
    return make("div", { "class": "wide", role: "region", "aria-label": name, tabindex: "0" }, [make("table", {}, [
      make("thead", {}, [make("tr", {}, heads.map(function (h) { return make("th", { scope: "col", text: h }); }))]), make("tbody", {}, rows)])]);
  }
  function fillRecord() {
    var state = work.read(), gaps = missing(state), box = recordScreen;
    var sheet = make("div", { "class": "pages" });
    box.textContent = "";
    var part = function (head, parts) { sheet.appendChild(make("h2", { "class": "phase", text: head })); parts.forEach(function (p) { sheet.appendChild(p); }); };
    var g = work.guide, papers = [g.document, g.revision && "rev. " + g.revision, g.fingerprint];
    /* Each printed page says at its head what it belongs to. */
    box.appendChild(make("div", { "class": "running", "aria-hidden": "true" }, [make("p", { text: [g.title].concat(papers, state.order.registration).filter(Boolean).join(" · ") })]));
    box.appendChild(sheet);
    sheet.appendChild(make("p", { "class": "lead" }, [make("b", { text: g.title }), make("span", { text: papers.concat(window.bayleafOptions && window.bayleafOptions.words()).filter(Boolean).join(" · ") })]));
    part("Order", [make("dl", { "class": "order-lines" }, [].concat.apply([], [["Registration", "registration"], ["VIN", "vin"], ["Odometer", "odometer"], ["Technician", "technician"], ["Started", "started"], ["Finished", "finished"]].map(function (f) {
      return [make("dt", { text: f[0] }), make("dd", { text: state.order[f[1]] || "–" })];
    }).concat([[make("dt", { text: "Seal begins" }), make("dd", { "class": "seal", text: work.sealOf(state).slice(0, 16) })]])))]);
    part(gaps.length ? "Missing or still open" : "Complete", [gaps.length ? make("ul", { "class": "gaps" }, gaps.map(function (gap) {
      var li = make("li", { text: gap.text });
      if (gap.key) li.appendChild(button("Go there", "link there", function () { if (gap.key === "record") box.querySelector(".sign input").focus(); else goTo(gap.key); }));
      return li;
    })) : make("p", { text: "Every box that applies is ticked, and every torque is entered." })]);
    var rows = all("[data-op]").filter(function (dl) { return shown(dl) && dl.querySelector(".tq"); }).map(function (dl) {
      var given = state.torques[dl.getAttribute("data-op")], tq = dl.querySelector(".tq"), found = given && judge(given.applied, tq);
      return outcomeRow([make("td", { text: dl.closest(".step").querySelector(".ball").textContent }), make("th", { scope: "row", text: words(dl.querySelector("dd.do")) }),
        make("td", { "data-c": "Asked for", text: value(tq.querySelector(".val")) }), make("td", { "data-c": "Applied", text: given ? given.applied + (given.wrench ? ", " + given.wrench : "") : "not entered" })], given, found);
    });
    if (rows.length) part("Torques", [table("Torques", ["Step", "Fastener", "Asked for", "Applied", "Result"], rows)]);
    rows = [];
    all("[data-op]").filter(shown).forEach(function (dl) {
      measuredIn(dl).forEach(function (m) {
        var given = state.measured[m.key], found = given && judgeMeasured(given.measured, m.dd);
        rows.push(outcomeRow([make("td", { text: dl.closest(".step").querySelector(".ball").textContent }), make("th", { scope: "row", text: m.name }), make("td", { "data-c": "Asked for", text: value(m.dd.querySelector(".val")) }),
          make("td", { "data-c": "Measured", text: given ? given.measured : "not entered" })], given, found));
      });
    });
    if (rows.length) part("Measured", [table("Measured values", ["Step", "Value", "Asked for", "Measured", "Result"], rows)]);
    var notes = Object.keys(state.notes).filter(function (s) { return state.notes[s]; }).map(function (s) { return [s, state.notes[s]]; })
      .concat(Object.keys(state.holds).filter(function (s) { return state.holds[s]; }).map(function (s) { return [s, "Signed at the stop by " + state.holds[s]]; }));
    if (notes.length) part("Notes", [make("ul", {}, notes.map(function (n) {
      var step = document.getElementById(n[0]);
      return make("li", { text: (step && step.querySelector(".ball") ? "Step " + step.querySelector(".ball").textContent : n[0]) + ": " + n[1] });
    }))]);
    var sign = function (who, text) {
      var check = make("input", { type: "checkbox", "aria-label": text, "data-signs": who });
      check.checked = !!state.signed[who];
      var told = make("p", { role: "status", "class": "answered" });
      /* The lists above say who has not signed. */
      var signs = function (yes) {
        work.change(function (s) { s.signed[who] = yes; if (who === "technician") s.order.finished = yes ? work.today() : ""; });
        fillRecord();
        box.querySelector("[data-signs=" + who + "]").focus({ preventScroll: true });
      };
      check.addEventListener("change", function () {
        var left = missing(work.read()).filter(function (gap) { return gap.key !== "record"; }).length;
        told.textContent = "";
        if (!check.checked || !left) { signs(check.checked); return; }
        /* The name stands under what is listed as missing only when somebody says so. */
        check.checked = false;
        ask(told, plural(left, "entry", "entries") + " of the list above " + (left === 1 ? "is" : "are") + " still missing or open. Sign all the same? The record keeps naming " + (left === 1 ? "it." : "them."),
          "Sign with " + left + " missing", function () { signs(true); }, "Do not sign");
      });
      return make("div", {}, [make("p", { "class": "sign" }, [make("label", {}, [check, make("span", { text: text })]), make("span", { "class": "line", text: "Signature, date" })]), told]);
    };
    part("Signed off", [sign("technician", "Technician: every row that applies is ticked, and every value was applied as written."),
      field("Inspector", "order-inspector", function (s) { return s.order.inspector; }, function (s, v) { s.order.inspector = v; }), sign("inspector", "Inspector: the work is checked.")]);
    fields["order-inspector"].input.value = state.order.inspector || "";
    var told = make("p", { role: "status", "class": "answered" }), pick = make("input", { type: "file", accept: ".json,application/json", id: "record-file", "class": "unseen" });
    pick.addEventListener("change", function () { if (pick.files[0]) openFile(pick.files[0], told); });
    var opener = make("label", { "for": "record-file", "class": "btn", text: "Open a saved record" });
    /* The foot of the page stands outside of what repeats its head, so its words stand here on paper. */
    Array.prototype.forEach.call(document.querySelectorAll(".foot p:not(.jump)"), function (p) { sheet.appendChild(make("p", { "class": "deferral", "aria-hidden": "true", text: words(p) })); });
    sheet.appendChild(make("div", { "class": "acts" }, [button("Save the record as a file", "btn main", function () { save(told); }), button("Print the record", "btn", function () { window.print(); }), pick, opener,
      button("Clear this device", "btn", function () { askClear(told); })]));
    sheet.appendChild(told);
  }
  function save(told) {
    var state = work.read(), name = ["record", work.guide.slug, (state.order.registration || "").replace(/[^\w-]+/g, ""), state.order.started || ""].filter(Boolean).join("-") + ".json";
    var a = make("a", { href: URL.createObjectURL(new Blob([work.file(state)], { type: "application/json" })), download: name });
    document.body.appendChild(a);
    a.click();
    a.remove();
    answer(told, "Saved as " + name + ". It stays on this device too, until it is cleared.");
  }
  function openFile(file, told) {
    var reader = new FileReader();
    reader.onload = function () {
      var state;
      try { state = work.open(String(reader.result)); } catch (e) { answer(told, e.message + " The work on this device is as it was."); return; }
      var take = function () { work.take(state); beginOn(0); };
      if (!work.read().touched) { take(); return; }
      ask(told, "There is work on this device already. Put the record in its place?", "Put it in its place", take);
    };
    reader.onerror = function () { answer(told, "The file cannot be read."); };
    reader.readAsText(file);
  }
  /* An answer is of no use below the fold. */
  function answer(told, text) {
    told.textContent = text;
    told.scrollIntoView({ block: "center" });
  }
  function ask(told, question, yes, act, no) {
    told.textContent = question + " ";
    var keep = button(no || "Keep what is here", "btn", function () { told.textContent = ""; });
    told.appendChild(button(yes, "btn", act));
    told.appendChild(keep);
    told.scrollIntoView({ block: "center" });
    /* What loses nothing is nearest. */
    keep.focus({ preventScroll: true });
  }
  function askClear(told) {
    ask(told, "Every tick, torque and note of this guide goes from this device. A saved file stays.", "Clear it", function () { work.clear(); layScreens(); refresh(); show(0); say("The device is cleared."); });
  }

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
    says.textContent = "Going on with the work that was begun on " + (order.started || "an unknown day") + (order.registration ? " on " + order.registration : "")
      + (state.signed.technician ? " and is signed" : "") + ". ";
    if (own && JSON.stringify(asked) !== JSON.stringify(own.chosen())) {
      says.textContent += "Its options stand here (" + (own.words() || "none chosen") + "), and not those that this page was opened with. ";
      says.appendChild(button("Take the other options", "btn", function () { own.choose(asked); say(""); }));
    }
    says.appendChild(button("Save it and start anew", "btn", function () {
      save(make("p"));
      work.clear();
      resting = true;
      if (own) own.choose(asked);
      resting = false;
      layScreens();
      refresh();
      show(0);
      say("The record is saved as a file, and this device is clear for the next vehicle.");
    }));
    says.appendChild(button("Go on", "btn", function () { say(""); }));
    says.hidden = false;
  }
  function begin() {
    var asked = window.bayleafOptions && window.bayleafOptions.chosen();
    takeOptions();
    layScreens();
    refresh();
    var old = work.older();
    if (!old) { goesOn(asked); return; }
    var ids = {};
    all("input[data-tick]").forEach(function (b) { ids[b.getAttribute("data-tick")] = true; });
    var gone = Object.keys(old.ticks).filter(function (t) { return !ids[t] && !/\/hold$/.test(t); });
    says.textContent = "This work was begun on " + (old.revision ? "revision " + old.revision + ", " : "") + "fingerprint " + old.fingerprint + ". This page shows "
      + (work.guide.revision ? "revision " + work.guide.revision + ", " : "") + work.guide.fingerprint + ". Look at what changed before you go on. "
      + (gone.length ? plural(gone.length, "tick belongs", "ticks belong") + " to what is no longer in the guide. " : "Every tick still has its place. ");
    says.appendChild(button("Save the old record first", "btn", function () { save(make("p")); }));
    says.appendChild(button("Go on with this revision", "btn", function () {
      work.change(function (s) { s.revision = work.guide.revision; s.fingerprint = work.guide.fingerprint; });
      say("");
    }));
    says.hidden = false;
  }
  /* Begins on a screen, or where the work stood, with what there is to say of the work. */
  function beginOn(to) {
    begin();
    var last = work.read().at, back = screens.findIndex(function (s) { return s.key === last; });
    var kept = document.createDocumentFragment(), told = !says.hidden;
    while (says.firstChild) kept.appendChild(says.firstChild);
    show(to !== null ? to : Math.max(back, 0));
    if (told) { says.textContent = ""; says.appendChild(kept); says.hidden = false; }
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
})();
