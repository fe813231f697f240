/* The options switch: what is not on the chosen vehicle is hidden, on the page, the torque sheet and the checklist. The choice
   stands in the address, so that it can be linked and printed. Without this script everything is there with its condition in words. */
/* What follows from a choice, and what a condition or a count makes of it. The program that prints sheets does the same; both are held to
   the vectors in tests/vectors. A choice that cannot be has no answer. */
/** @type {BayleafChoice} */
window.bayleafChoice = (function () {
  "use strict";
  /** @type {BayleafChoice["solve"]} */
  function solve(choices, withs, withouts) {
    const options = choices.reduce((/** @type {BayleafOption[]} */ list, c) => list.concat(c.options), []), knows = (/** @type {string} */ id) => options.some((o) => o.id === id);
    const there = withs.slice();
    if (!withs.concat(withouts).every(knows) || withs.some((id) => withouts.includes(id))) return null;
    /** @type {BayleafHas} */
    const has = {};
    withouts.forEach((id) => { has[id] = false; });
    /* Of a group exactly one holds: when all others are not there, the last one is. */
    for (const choice of choices.filter((c) => c.oneOf)) {
      const open = choice.options.filter((o) => has[o.id] === undefined);
      if (!open.length) return null;
      if (open.length === 1 && choice.options.length > 1 && !there.includes(open[0].id)) there.push(open[0].id);
    }
    there.forEach((id) => { has[id] = true; });
    /* An exclusion holds in both directions. */
    const bars = (/** @type {string} */ one, /** @type {string} */ other) => options.some((o) => o.id === one && o.notWith.split(" ").includes(other));
    for (const id of there) {
      for (const choice of choices) {
        const grouped = choice.oneOf && choice.options.some((o) => o.id === id);
        for (const o of choice.options) {
          if (o.id === id || !(grouped || bars(id, o.id) || bars(o.id, id))) continue;
          if (there.includes(o.id)) return null;
          has[o.id] = false;
        }
      }
    }
    return has;
  }
  /** true, false, or null where it depends on what is not chosen.
      @type {BayleafChoice["holds"]} */
  function holds(terms, has) {
    let open = false;
    for (const one of terms.split("|")) {
      const each = one.split(" ").filter(Boolean).map((t) => {
        const not = t[0] === "!", value = has[not ? t.slice(1) : t];
        return value === undefined ? null : value !== not;
      });
      if (each.every((holds) => holds === true)) return true;
      if (!each.includes(false)) open = true;
    }
    return open ? null : false;
  }
  /** How many are needed: “4@ 2@heated-seat” is 4, and 2 more where that holds; null where it depends on what is not chosen.
      @type {BayleafChoice["amount"]} */
  function amount(amounts, has) {
    let sum = 0;
    for (const part of amounts.split(" ")) {
      const at = part.indexOf("@"), now = at < 0 ? null : holds(part.slice(at + 1).replace(/\+/g, " "), has);
      if (now === null) return null;
      if (now) sum += Number(part.slice(0, at));
    }
    return Math.max(0, sum);
  }
  return { solve, holds, amount };
})();
(function () {
  "use strict";
  var form = document.getElementById("options"), logic = window.bayleafChoice;
  if (!form) return;
  var told = document.getElementById("chosen");
  var all = function (css, of) { return Array.prototype.slice.call((of || document).querySelectorAll(css)); };
  var radios = all("input", form);
  var known = {}, names = {}, complaints = [], missed = null;
  radios.forEach(function (r) { if (r.value && r.value[0] !== "!") { known[r.value] = r; names[r.value] = r.getAttribute("data-name"); } });

  /* What can be chosen, in the order of the form: options under one name without a “no” are a group. */
  var choices = [];
  radios.forEach(function (r) {
    var group = choices.filter(function (c) { return c.name === r.name; })[0];
    if (!group) choices.push(group = { name: r.name, oneOf: true, options: [] });
    if (r.value[0] === "!") group.oneOf = false;
    else if (r.value) group.options.push({ id: r.value, notWith: r.getAttribute("data-not-with") || "" });
  });
  function chosen() {
    var withs = [], without = [];
    radios.forEach(function (r) { if (r.checked && r.value) (r.value[0] === "!" ? without : withs).push(r.value.replace("!", "")); });
    return { "with": withs, without: without };
  }
  /* For each option true, false, or nothing where it is open. What cannot be is refused before it is chosen. */
  function state() {
    return solved() || {};
  }
  function solved() {
    var now = chosen();
    return logic.solve(choices, now["with"], now.without);
  }
  function holds(terms) { return logic.holds(terms, state()); }
  function time(minutes) {
    var h = Math.floor(minutes / 60), m = Math.round(minutes % 60);
    return (h ? h + "\u00a0h" : "") + (h && m ? " " : "") + (m || !h ? m + "\u00a0min" : "");
  }
  function query() {
    var withs = [], without = [];
    radios.forEach(function (r) {
      if (r.checked && r.value) (r.value[0] === "!" ? without : withs).push(encodeURIComponent(r.value.replace("!", "")));
    });
    return (withs.length ? ["with=" + withs.join(",")] : []).concat(without.length ? ["without=" + without.join(",")] : []).join("&");
  }
  function words() {
    return radios.filter(function (r) { return r.checked && r.value; }).map(function (r) {
      return (r.value[0] === "!" ? "without " : "with ") + lower(names[r.value.replace("!", "")]);
    }).join(", ");
  }

  /* The part of the page that the address names, and the element whose condition hides it. */
  function target() {
    var id = location.hash.slice(1);
    try { id = decodeURIComponent(id); } catch (e) { /* no name of ours */ }
    return id ? document.getElementById(id) : null;
  }
  function hider(el) {
    while (el && !(el.hidden && el.hasAttribute("data-when"))) el = el.parentElement;
    return el;
  }
  function lower(name) { return /^[A-Z][a-z]/.test(name) ? name[0].toLowerCase() + name.slice(1) : name; }
  /* Terms of a condition that the choice does not meet, as what the vehicle needs. */
  function needs(terms) {
    return terms.split("|").map(function (one) {
      return one.split(" ").filter(function (t) { return holds(t) === false; }).map(function (t) {
        return (t[0] === "!" ? "without " : "with ") + lower(names[t.replace("!", "")] || t);
      }).join(" and ");
    }).join(", or ");
  }
  /* Chooses so that a condition holds. What else was chosen stays, unless it rules that out. */
  function meet(terms) {
    var wanted = terms.split("|")[0].split(" ");
    function want() {
      wanted.forEach(function (t) {
        var same = radios.filter(function (r) { return r.value.replace("!", "") === t.replace("!", ""); });
        var any = radios.filter(function (r) { return !r.value && same[0] && r.name === same[0].name; })[0];
        (same.filter(function (r) { return r.value === t; })[0] || any || {}).checked = true;
      });
    }
    want();
    if (!solved() || holds(terms) === false) {
      radios.forEach(function (r) { r.checked = !r.value; });
      want();
    }
    form.dispatchEvent(new Event("change"));
  }
  /* Says that what the address names is not shown, and offers to show it. */
  function tellMissed() {
    var el = missed && hider(missed);
    if (!el) { missed = null; return; }
    var asked = missed, terms = el.getAttribute("data-when"), head = el.querySelector("h3 span");
    var button = document.createElement("button");
    button.type = "button";
    button.className = "btn";
    button.textContent = "Show it";
    button.addEventListener("click", function () {
      meet(terms);
      asked.scrollIntoView();
    });
    told.append(" The " + (el.classList.contains("step") ? "step" : "part") + " asked for" + (head ? ", “" + head.textContent.trim() + "”," : "")
      + " does not apply with these options: it is for a vehicle " + needs(terms) + ". ", button);
    told.classList.add("alarm");
  }

  function apply() {
    var has = state();
    all("[data-when]").forEach(function (el) {
      var now = logic.holds(el.getAttribute("data-when"), has);
      el.hidden = now === false;
      el.classList.toggle("sure", now === true);
    });
    /* What is certain need not be told. */
    all(".opt").forEach(function (label) {
      var owner = label.closest("[data-when]");
      if (owner) label.hidden = owner.classList.contains("sure");
    });
    all("[data-amounts]").forEach(function (el) {
      if (el.printed === undefined) el.printed = el.textContent;
      var sum = logic.amount(el.getAttribute("data-amounts"), has);
      el.textContent = sum === null ? el.printed : String(sum);
      if (el.parentNode) el.parentNode.hidden = sum !== null && sum < 1;
    });
    all("[data-option]").forEach(function (el) {
      var value = has[el.getAttribute("data-option")];
      el.classList.toggle("yes", value === true);
      el.classList.toggle("no", value === false);
    });
    /* A phase without a step of this vehicle needs no heading. */
    all("h2.phase, .paper h2").forEach(function (h) {
      var steps = [], el = h.nextElementSibling;
      for (; el && el.tagName !== "H2"; el = el.nextElementSibling) if (el.classList.contains("step")) steps.push(el);
      if (steps.length) h.hidden = steps.every(function (s) { return s.hidden; });
    });
    all("main a[href^='#']").forEach(function (a) {
      var target = document.getElementById(decodeURIComponent(a.getAttribute("href").slice(1)));
      a.classList.toggle("void", !!target && target.hidden);
    });
    radios.forEach(function (r) {
      /* What an exclusion rules out cannot be chosen; what is chosen can always be undone. */
      r.disabled = !r.checked && !!r.value && r.value[0] !== "!" && has[r.value] === false
        && !radios.some(function (o) { return o.checked && o.name === r.name && o.value; });
    });
    var q = query();
    all("a[href]").forEach(function (a) {
      var href = a.getAttribute("href");
      if (/^(index|torque|checklist-a4|checklist-letter)\.html/.test(href)) a.setAttribute("href", href.replace(/[?#].*$/, "") + (q ? "?" + q : "") + (/#.*/.exec(href) || [""])[0]);
    });
    var steps = all(".step"), shown = steps.filter(function (s) { return !s.hidden; });
    var text = "";
    if (q) {
      text = "Shown for a vehicle " + words() + ".";
      if (steps.length) text += " " + shown.length + " of " + steps.length + " steps apply";
      var times = shown.map(function (s) { return s.getAttribute("data-minutes"); });
      if (steps.length) text += times.length && times.every(Boolean) ? ", " + time(times.reduce(function (a, b) { return a + Number(b); }, 0)) + "." : ".";
    }
    told.textContent = complaints.concat(text || []).join(" ");
    told.classList.toggle("alarm", complaints.length > 0);
    tellMissed();
    document.documentElement.classList.toggle("chose", !!q);
    document.dispatchEvent(new CustomEvent("bayleaf:options"));
  }

  function choose(value) {
    radios.forEach(function (r) { if (r.value === value) r.checked = true; });
  }
  function fromAddress() {
    var given = { "with": [], without: [] };
    location.search.slice(1).split("&").forEach(function (bit) {
      var at = bit.indexOf("="), key = bit.slice(0, at);
      if (given[key]) bit.slice(at + 1).split(",").forEach(function (id) {
        try { id = decodeURIComponent(id); } catch (e) { /* told below as unknown */ }
        if (id) given[key].push(id);
      });
    });
    var gone = [], both = given["with"].filter(function (id, at) { return known.hasOwnProperty(id) && given.without.indexOf(id) >= 0 && given["with"].indexOf(id) === at; });
    both.forEach(function (id) { complaints.push("The address asks for a vehicle with and without “" + names[id] + "”; neither is taken."); });
    given["with"].concat(given.without.map(function (id) { return "!" + id; })).forEach(function (value) {
      var id = value.replace("!", "");
      if (!known.hasOwnProperty(id)) { gone.push(id); return; }
      if (both.indexOf(id) >= 0) return;
      var has = state();
      if (value === id && has[id] === false) {
        complaints.push("“" + names[id] + "” cannot be on one vehicle with what the address names before it, and is left out.");
        return;
      }
      if (value !== id && !radios.some(function (r) { return r.value === value; })) return;
      choose(value);
    });
    if (gone.length) complaints.push("The address asks for " + gone.map(function (g) { return "“" + g.slice(0, 60) + "”"; }).join(", ")
      + ", which this revision of the guide does not have. Check the options before you work to it.");
  }
  form.addEventListener("change", function () {
    complaints = [];
    apply();
    var q = query(), rest = location.search.slice(1).split("&").filter(function (b) { return b && !/^(with|without)=/.test(b); });
    var whole = rest.concat(q || []).join("&");
    try { history.replaceState(null, "", location.pathname + (whole ? "?" + whole : "") + location.hash); } catch (e) { /* the choice holds for this page */ }
  });
  form.addEventListener("submit", function (e) { e.preventDefault(); });
  window.bayleafOptions = {
    holds: holds, query: query, words: words,
    chosen: chosen,
    choose: function (chosen) {
      radios.forEach(function (r) { r.checked = !r.value; });
      (chosen["with"] || []).forEach(choose);
      (chosen.without || []).forEach(function (id) { choose("!" + id); });
      form.dispatchEvent(new Event("change"));
    }
  };
  window.addEventListener("hashchange", function () {
    var had = missed;
    missed = target();
    if (had || (missed && hider(missed))) apply();
    if (missed) told.scrollIntoView({ block: "center" });
  });
  missed = target();
  fromAddress();
  apply();
})();
