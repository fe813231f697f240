/* The guide's page as the bay view reads it, and the making of the elements that are added to it. What is read says nothing of the
   work: what was entered is judged by bay-judge.js, what is left to do is counted by bay-open.js. */
/** @type {BayleafPage} */
window.bayleafPage = (function () {
  "use strict";
  const main = /** @type {HTMLElement} */ (document.getElementById("sheet"));
  /** @type {BayleafPage["all"]} */
  const all = (css, of) => Array.from((of || main).querySelectorAll(css));
  /** @type {BayleafPage["make"]} */
  function make(tag, attributes, parts) {
    const el = document.createElement(tag), given = attributes || {};
    Object.keys(given).forEach((k) => {
      const value = given[k];
      if (k === "text") el.textContent = value; else if (value !== null) el.setAttribute(k, value);
    });
    (parts || []).forEach((p) => { el.appendChild(typeof p === "string" ? document.createTextNode(p) : p); });
    return el;
  }
  /** @type {BayleafPage["button"]} */
  function button(text, kind, act) {
    const b = make("button", { type: "button", "class": kind, text });
    b.addEventListener("click", act);
    return b;
  }
  /** @type {BayleafPage["words"]} */
  const words = (el) => {
    const copy = /** @type {Element} */ (el.cloneNode(true));
    all(".opt,svg,input,.box", copy).forEach((x) => { x.remove(); });
    /* What stands on lines of its own is told with commas between. */
    all(".hw,.how", copy).forEach((x) => { if (x.previousSibling && (x.previousSibling.textContent || "").trim()) x.insertBefore(document.createTextNode(", "), x.firstChild); });
    return (copy.textContent || "").replace(/\s+/g, " ").trim();
  };
  /** A value as it leads on the page, the other units in brackets.
      @type {BayleafPage["value"]} */
  function value(val) {
    const both = [".m", ".u"].map((css) => all(css, val)[0]).filter(Boolean).map(words);
    if (document.documentElement.getAttribute("data-first") === "imperial") both.reverse();
    /* A limit is said once for both. */
    var bound = /^(max|min)\. /.exec(both[0]), second = both[1] && bound && both[1].indexOf(bound[0]) === 0 ? both[1].slice(bound[0].length) : both[1];
    return both[0] + (second ? " (" + second + ")" : "");
  }
  /** @type {BayleafPage["shown"]} */
  const shown = (el) => !el.closest("[hidden]");
  /** @type {BayleafPage["one"]} */
  const one = (css, of) => /** @type {HTMLElement} */ (of.querySelector(css));
  /** @type {BayleafPage["numberOf"]} */
  const numberOf = (step) => one(".ball", step).textContent || "";
  /** @type {BayleafPage["idOf"]} */
  const idOf = (dl) => dl.getAttribute("data-op") || "";

  /** What is asked for in a field, as bay-judge.js judges it. Its words follow the units that lead.
      @type {BayleafPage["field"]} */
  function field(dd) {
    const printed = (dd.getAttribute("data-bounds") || dd.getAttribute("data-reads") || "").split("|").filter(Boolean).map((r) => {
      const part = r.split(";");
      return { unit: part[0], low: part[1] || null, high: part[2] || null };
    });
    const torque = dd.classList.contains("tq") ? { low: dd.getAttribute("data-low"), high: dd.getAttribute("data-high") } : null;
    return { printed, torque, get asked() { return value(one(".val", dd)); } };
  }
  /** The values of an operation that are read off and entered.
      @type {BayleafPage["measuredIn"]} */
  const measuredIn = (dl) => all("[data-reads]", dl).map((dd) => {
    /* The record counts all values of the operation, as the guide does. */
    const name = /** @type {HTMLElement} */ (dd.previousElementSibling), at = all("dt.sp", dl).indexOf(name) + 1;
    return { dd, name: words(name), key: idOf(dl) + "#" + at, field: field(dd) };
  });
  /* What an operation tightens, and where. */
  function tightened(/** @type {Element} */ dl) {
    const dd = one("dd.do", dl), things = Array.from(dd.childNodes).filter((n) => n.nodeType === 3).map((n) => n.nodeValue).join(" ");
    return [things.replace(/\s+/g, " ").trim()].concat(all(".hw,.how", dd).map(words)).filter(Boolean).join(", ");
  }
  const boxes = (/** @type {Element | null | undefined} */ el) => el ? all("input[data-tick]", el).filter(shown).map((box) => box.getAttribute("data-tick") || "") : [];

  /** @type {BayleafSheet | null} */
  let read = null;
  /** The page as plain data, for what is counted and judged. What an option or the order of units changes is asked of the page each time.
      @type {BayleafPage["sheet"]} */
  function sheet() {
    return read || (read = {
      accounts: all("#accounts li").map((li) => ({ account: li.getAttribute("data-account") || "", name: li.textContent || "", state: li.getAttribute("data-state") || "", connector: li.hasAttribute("data-connector") })),
      get before() { return boxes(main.querySelector(".r-before")); },
      /* What can be ticked at all, whatever options are chosen. */
      every: () => all("input[data-tick]").map((box) => box.getAttribute("data-tick") || "").concat(all(".step").filter((step) => step.querySelector(".stop")).map((step) => step.id + "/hold"),
        all(".tail").filter((t) => t.querySelector("#follow-up")).flatMap((t) => all(".ticks li", t).map((_, i) => "follow-up/" + (i + 1)))),
      choices: window.bayleafOptions ? window.bayleafOptions.choices : [],
      solve: (withs, without) => window.bayleafChoice ? window.bayleafChoice.solve(window.bayleafOptions ? window.bayleafOptions.choices : [], withs, without) : {},
      wrenches: all("#wrenches li").map((li) => ({ id: li.getAttribute("data-id") || "", name: li.textContent || "", number: li.getAttribute("data-number"), range: li.getAttribute("data-range") || "", low: li.getAttribute("data-low"), high: li.getAttribute("data-high"), until: li.getAttribute("data-until") })),
      vehicles: all(".fits>div:first-child dd span").map(words),
      get final() { return boxes(all(".tail").find((t) => t.querySelector("#final-checks"))); },
      steps: all(".step").map((step) => {
        const stop = step.querySelector(".stop");
        return {
          id: step.id, number: numberOf(step), stop: stop && stop.getAttribute("data-who"), wait: !!step.querySelector(".facts dl:not([data-op]) dt.do"),
          get applies() { return shown(step); },
          get boxes() { return boxes(step); },
          operations: all("[data-op]", step).map((dl) => {
            const tq = dl.querySelector(".tq");
            return {
              id: idOf(dl), moves: dl.getAttribute("data-moves") || "", torque: tq && field(tq), measured: measuredIn(dl),
              get applies() { return shown(dl); },
              get tightened() { return tightened(dl); }
            };
          })
        };
      })
    });
  }

  /** @type {BayleafPage["stepOf"]} */
  const stepOf = (el) => /** @type {BayleafStep} */ (sheet().steps.find((step) => step.id === el.id));

  /** @type {BayleafPage["stepAt"]} */
  const stepAt = (el) => /** @type {HTMLElement} */ (el.closest(".step"));

  return { main, all, one, make, button, words, value, shown, numberOf, idOf, field, measuredIn, sheet, stepOf, stepAt };
})();
