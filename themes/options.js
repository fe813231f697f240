/* The options switch: what is not on the chosen vehicle is hidden, on the page, the torque sheet and the checklist. The choice
   stands in the address, so that it can be linked and printed. Without this script everything is there with its condition in words. */
/* What follows from a choice, and what a condition or a count makes of it. The program that prints sheets does the same; both are held to
   the vectors in tests/vectors. A choice that cannot be has no answer. */
/** @type {BayleafChoice} */
window.bayleafChoice = (function () {
  "use strict";
  /** @type {BayleafChoice["solve"]} */
  function solve(choices, withs, withouts) {
    const options = choices.flatMap((c) => c.options.map((o) => ({ id: o.id, bars: o.notWith.split(" "), group: c.oneOf && c })));
    if (withs.some((id) => withouts.includes(id))) return null;
    const there = withs.slice();
    /** @type {BayleafHas} */
    const has = {};
    for (const id of withouts) has[id] = false;
    /* Of a group exactly one holds: when all others are not there, the last one is. */
    for (const c of choices) {
      const open = c.options.filter((o) => has[o.id] === undefined);
      if (c.oneOf && !open.length) return null;
      if (c.oneOf && open.length === 1 && c.options.length > 1) there.push(open[0].id);
    }
    for (const id of there) has[id] = true;
    /* An exclusion holds in both directions. */
    for (const a of options) for (const b of options) {
      if (a === b || !there.includes(a.id) || !(a.group && a.group === b.group || a.bars.includes(b.id) || b.bars.includes(a.id))) continue;
      if (there.includes(b.id)) return null;
      has[b.id] = false;
    }
    return has;
  }
  const flip = (/** @type {boolean | undefined} */ there) => there === undefined ? there : !there;
  /** true, false, or null where it depends on what is not chosen.
      @type {BayleafChoice["holds"]} */
  function holds(terms, has) {
    let open = false;
    for (const one of terms.split("|")) {
      const each = one.split(" ").filter(Boolean).map((t) => t[0] === "!" ? flip(has[t.slice(1)]) : has[t]);
      if (each.every(Boolean)) return true;
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
(function (/** @type {BayleafChoice} */ logic) {
  "use strict";
  const { say, fill } = window.bayleafPhrases;
  const form = document.getElementById("options");
  if (!form) return;
  const told = /** @type {HTMLElement} */ (document.getElementById("chosen"));
  /** @type {(css: string) => NodeListOf<HTMLElement>} */
  const all = (css) => document.querySelectorAll(css);
  const attribute = (/** @type {Element} */ el, /** @type {string} */ name) => el.getAttribute(name) || "";
  const radios = Array.from(form.querySelectorAll("input"));
  /** @type {Map<string, string>} */
  const names = new Map();
  /** @type {string[]} */
  let complaints = [];
  /** @type {HTMLElement | null} */
  let missed = null;
  /** @type {Map<Element, string | null>} */
  const printed = new Map();

  /* What can be chosen, in the order of the form: options under one name without a “no” are a group. */
  /** @type {(BayleafChoices & { name: string })[]} */
  const choices = [];
  radios.forEach((r) => {
    let group = choices.find((c) => c.name === r.name);
    if (!group) {
      const legend = r.closest("fieldset") && /** @type {Element} */ (r.closest("fieldset")).querySelector("legend");
      choices.push(group = { name: r.name, label: legend ? legend.textContent || "" : "", oneOf: true, options: [] });
    }
    if (r.value[0] === "!") group.oneOf = false;
    else if (r.value) {
      names.set(r.value, attribute(r, "data-name"));
      group.options.push({ id: r.value, notWith: attribute(r, "data-not-with") });
    }
  });
  function chosen() {
    /** @type {string[]} */
    const withs = [], /** @type {string[]} */ without = [];
    radios.forEach((r) => { if (r.checked && r.value) (r.value[0] === "!" ? without : withs).push(r.value.replace("!", "")); });
    return { "with": withs, without };
  }
  /* For each option true, false, or nothing where it is open. What cannot be is refused before it is chosen. */
  const state = () => solved() || {};
  function solved() {
    const now = chosen();
    return logic.solve(choices, now["with"], now.without);
  }
  const holds = (/** @type {string} */ terms) => logic.holds(terms, state());
  function time(/** @type {number} */ minutes) {
    const h = Math.floor(minutes / 60), m = Math.round(minutes % 60);
    return (h ? h + "\u00a0h" : "") + (h && m ? " " : "") + (m || !h ? m + "\u00a0min" : "");
  }
  function query() {
    const now = chosen(), part = (/** @type {string} */ word, /** @type {string[]} */ ids) => ids.length ? [word + "=" + ids.map(encodeURIComponent).join(",")] : [];
    return part("with", now["with"]).concat(part("without", now.without)).join("&");
  }
  const termWords = (/** @type {string} */ t) => fill(t[0] === "!" ? say.without_option : say.with_option, { option: lower(nameOf(t)) });
  const nameOf = (/** @type {string} */ term) => names.get(term.replace("!", "")) || term;
  function words() {
    return radios.filter((r) => r.checked && r.value).map((r) => termWords(r.value)).join(", ");
  }

  /* The part of the page that the address names, and the element whose condition hides it. */
  function target() {
    let id = location.hash.slice(1);
    try { id = decodeURIComponent(id); } catch (e) { /* no name of ours */ }
    return id ? document.getElementById(id) : null;
  }
  function hider(/** @type {HTMLElement | null} */ el) {
    while (el && !(el.hidden && el.hasAttribute("data-when"))) el = el.parentElement;
    return el;
  }
  function lower(/** @type {string} */ name) { return /^[A-Z][a-z]/.test(name) ? name[0].toLowerCase() + name.slice(1) : name; }
  /* Terms of a condition that the choice does not meet, as what the vehicle needs. */
  function needs(/** @type {string} */ terms) {
    return terms.split("|").map((one) => one.split(" ").filter((t) => holds(t) === false).map(termWords).join(say.and_between)).join(say.or_alternative);
  }
  /* Chooses so that a condition holds. What else was chosen stays, unless it rules that out. */
  function meet(/** @type {string} */ terms) {
    const wanted = terms.split("|")[0].split(" ");
    function want() {
      wanted.forEach((t) => {
        const same = radios.filter((r) => r.value.replace("!", "") === t.replace("!", ""));
        const one = same.find((r) => r.value === t) || radios.find((r) => !r.value && same[0] && r.name === same[0].name);
        if (one) one.checked = true;
      });
    }
    want();
    if (!solved() || holds(terms) === false) {
      radios.forEach((r) => { r.checked = !r.value; });
      want();
    }
    changed();
  }
  const changed = () => { form.dispatchEvent(new Event("change")); };
  /* Says that what the address names is not shown, and offers to show it. */
  function tellMissed() {
    const el = missed && hider(missed);
    if (!el || !missed) { missed = null; return; }
    const asked = missed, terms = attribute(el, "data-when"), head = el.querySelector("h3 span");
    const button = document.createElement("button");
    button.type = "button";
    button.className = "btn";
    button.textContent = say.show_it;
    button.addEventListener("click", () => {
      meet(terms);
      asked.scrollIntoView();
    });
    const isStep = el.classList.contains("step"), phrase = head ? (isStep ? say.step_named_hidden : say.part_named_hidden) : isStep ? say.step_hidden : say.part_hidden;
    told.append(" " + fill(phrase, { title: head ? (head.textContent || "").trim() : "", vehicle: needs(terms) }) + " ", button);
    told.classList.add("alarm");
  }

  function apply() {
    const has = state();
    all("[data-when]").forEach((el) => {
      const now = logic.holds(attribute(el, "data-when"), has);
      el.hidden = now === false;
      el.classList.toggle("sure", now === true);
    });
    /* What is certain need not be told. */
    all(".opt").forEach((label) => {
      const owner = label.closest("[data-when]");
      if (owner) label.hidden = owner.classList.contains("sure");
    });
    all("[data-amounts]").forEach((el) => {
      const whole = printed.get(el) || el.textContent, sum = logic.amount(attribute(el, "data-amounts"), has);
      printed.set(el, whole);
      el.textContent = sum === null ? whole : String(sum);
      /** @type {HTMLElement} */ (el.parentElement).hidden = sum !== null && sum < 1;
    });
    all("[data-option]").forEach((el) => {
      const value = has[attribute(el, "data-option")];
      el.classList.toggle("yes", value === true);
      el.classList.toggle("no", value === false);
    });
    /* A phase without a step of this vehicle needs no heading. */
    all("h2.phase, .paper h2").forEach((h) => {
      const steps = [];
      for (let el = h.nextElementSibling; el && el.tagName !== "H2"; el = el.nextElementSibling) if (el.matches(".step")) steps.push(el);
      if (steps.length) h.hidden = steps.every((s) => s.matches("[hidden]"));
    });
    all("main a[href^='#']").forEach((a) => {
      const target = document.getElementById(decodeURIComponent(attribute(a, "href").slice(1)));
      a.classList.toggle("void", !!target && !!target.hidden);
    });
    radios.forEach((r) => {
      /* What an exclusion rules out cannot be chosen; what is chosen can always be undone. */
      r.disabled = !r.checked && !!r.value && r.value[0] !== "!" && has[r.value] === false
        && !radios.some((o) => o.checked && o.name === r.name && o.value);
    });
    const q = query();
    all("a[href]").forEach((a) => {
      const href = attribute(a, "href");
      if (/^(index|torque|checklist)\.html/.test(href)) a.setAttribute("href", href.replace(/[?#].*$/, "") + (q ? "?" + q : "") + (/#.*/.exec(href) || [""])[0]);
    });
    const steps = Array.from(all(".step")), shown = steps.filter((s) => !s.hidden);
    let text = "";
    if (q) {
      text = fill(say.shown_for, { options: words() });
      const times = shown.map((s) => s.getAttribute("data-minutes"));
      const counts = { shown: shown.length, all: steps.length, time: time(times.reduce((a, b) => a + Number(b), 0)) };
      if (steps.length) text += " " + fill(times.length && times.every(Boolean) ? say.steps_apply_time : say.steps_apply, counts);
    }
    told.textContent = complaints.concat(text || []).join(" ");
    told.classList.toggle("alarm", complaints.length > 0);
    tellMissed();
    document.documentElement.classList.toggle("chose", !!q);
    document.dispatchEvent(new CustomEvent("bayleaf:options"));
  }

  function choose(/** @type {string} */ value) {
    radios.forEach((r) => { if (r.value === value) r.checked = true; });
  }
  function fromAddress() {
    /** @type {Record<string, string[]>} */
    const given = { "with": [], without: [] };
    location.search.slice(1).split("&").forEach((bit) => {
      const at = bit.indexOf("="), key = bit.slice(0, at);
      if (key === "with" || key === "without") bit.slice(at + 1).split(",").forEach((id) => {
        try { id = decodeURIComponent(id); } catch (e) { /* told below as unknown */ }
        if (id) given[key].push(id);
      });
    });
    /** @type {string[]} */
    const gone = [], both = given["with"].filter((id, at) => names.has(id) && given.without.indexOf(id) >= 0 && given["with"].indexOf(id) === at);
    both.forEach((id) => { complaints.push(fill(say.both_asked, { option: nameOf(id) })); });
    given["with"].concat(given.without.map((id) => "!" + id)).forEach((value) => {
      const id = value.replace("!", "");
      if (!names.has(id)) { gone.push(id); return; }
      if (both.indexOf(id) >= 0) return;
      const has = state();
      if (value === id && has[id] === false) {
        complaints.push(fill(say.option_barred, { option: nameOf(id) }));
        return;
      }
      if (value !== id && !radios.some((r) => r.value === value)) return;
      choose(value);
    });
    if (gone.length) complaints.push(fill(say.options_gone, { options: gone.map((g) => fill(say.quoted, { words: g.slice(0, 60) })).join(", ") }));
  }
  form.addEventListener("change", () => {
    complaints = [];
    apply();
    const q = query(), rest = location.search.slice(1).split("&").filter((b) => b && !/^(with|without)=/.test(b));
    const whole = rest.concat(q || []).join("&");
    try { history.replaceState(history.state, "", location.pathname + (whole ? "?" + whole : "") + location.hash); } catch (e) { /* the choice holds for this page */ }
  });
  form.addEventListener("submit", (e) => { e.preventDefault(); });
  window.bayleafOptions = {
    words, chosen, choices,
    choose: function (chosen) {
      radios.forEach((r) => { r.checked = !r.value; });
      (chosen["with"] || []).forEach(choose);
      (chosen.without || []).forEach((id) => { choose("!" + id); });
      changed();
    }
  };
  window.addEventListener("hashchange", () => {
    const had = missed;
    missed = target();
    if (had || (missed && hider(missed))) apply();
    if (missed) told.scrollIntoView({ block: "center" });
  });
  missed = target();
  fromAddress();
  apply();
})(window.bayleafChoice);
