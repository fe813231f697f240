/* The script of the reviewer's page: from finding to finding, and what is shown. Without it everything is there.
   A classic script in the page itself, so that the page is one file and works from the disk. */
(function () {
  "use strict";
  const { say, fill } = window.bayleafPhrases;
  /** @type {HTMLElement[]} */
  const all = Array.from(document.querySelectorAll(".finding"));
  const given = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
  const form = /** @type {HTMLFormElement} */ (document.getElementById("filters"));
  if (!form || !all.length) return;
  const said = given("said");
  const where = given("where");
  const keys = /** @type {HTMLDialogElement} */ (given("keys"));
  const on = /** @type {HTMLInputElement} */ (given("keys-on"));
  /** @type {HTMLElement | null} */
  let at = null;

  function shown() { return all.filter((f) => !f.hidden); }
  function plain(/** @type {Element} */ f) {
    const words = (/** @type {string} */ css) => /** @type {Element} */ (f.querySelector(css)).textContent;
    return words(".sev") + ": " + words(".msg");
  }

  function open(/** @type {Element} */ element) {
    for (let d = element.closest("details"); d; d = d.parentElement && d.parentElement.closest("details")) d.open = true;
  }
  function go(/** @type {number} */ step) {
    const list = shown();
    if (!list.length) { said.textContent = say.no_finding_shown; return; }
    const here = document.activeElement && document.activeElement.closest(".finding");
    const now = list.indexOf(/** @type {HTMLElement} */ (here || at));
    /* From outside any finding the way starts with the first. */
    let to = now < 0 ? (step > 0 ? 0 : list.length - 1) : now + step;
    const edge = to < 0 || to >= list.length;
    to = Math.max(0, Math.min(list.length - 1, to));
    const found = at = list[to];
    open(found);
    found.focus({ preventScroll: true });
    found.scrollIntoView({ block: "center", behavior: "instant" });
    /* Pieces far away get their true height only when they are near, which moves what was aimed at. */
    requestAnimationFrame(() => { if (at) at.scrollIntoView({ block: "center", behavior: "instant" }); });
    const place = fill(say.at_of, { at: to + 1, all: list.length });
    tell(place, plain(found), edge ? fill(step > 0 ? say.last_at : say.first_at, { place }) : place);
  }
  function tell(/** @type {string} */ count, /** @type {string} */ words, /** @type {string} */ heard) {
    where.textContent = count;
    said.textContent = heard + (words ? ". " + words : "");
  }

  const ruleOf = () => /** @type {HTMLSelectElement} */ (form.elements.namedItem("rule")).value;
  function sift() {
    const rule = ruleOf();
    const weights = Array.from(form.querySelectorAll("[name=weight]:checked")).map((b) => /** @type {HTMLInputElement} */ (b).value);
    all.forEach((f) => {
      f.hidden = weights.indexOf(f.getAttribute("data-weight") || "") < 0 || (rule !== "" && f.getAttribute("data-rule") !== rule);
    });
    const list = shown();
    const whole = list.length === all.length;
    document.querySelectorAll(".file").forEach((file) => {
      /** @type {HTMLElement} */ (file).hidden = !whole && !file.querySelector(".finding:not([hidden])");
    });
    document.querySelectorAll(".files a").forEach((a) => {
      const file = fileOf(given((a.getAttribute("href") || "").slice(1)));
      if (a.parentElement && file) a.parentElement.hidden = !!file.hidden;
    });
    if (at && at.hidden) at = null;
    const count = whole ? fill(say.count_findings, { count: all.length }) : fill(say.shown_of, { shown: list.length, all: all.length });
    tell(count, "", count);
  }
  form.addEventListener("change", sift);
  form.addEventListener("submit", (e) => { e.preventDefault(); });
  /* Going back restores the choice after this script has run. */
  window.addEventListener("pageshow", () => {
    const changed = ruleOf() !== "" || form.querySelector("[name=weight]:not(:checked)");
    if (changed) sift();
  });

  given("next").addEventListener("click", () => { go(1); });
  given("previous").addEventListener("click", () => { go(-1); });
  given("keys-open").addEventListener("click", () => { keys.showModal(); });
  document.addEventListener("focusin", (e) => {
    const hit = /** @type {Element} */ (e.target), f = /** @type {HTMLElement | null} */ (hit.closest && hit.closest(".finding"));
    if (f) at = f;
  });
  const fileOf = (/** @type {Element} */ el) => /** @type {HTMLElement | null} */ (el.closest(".file"));
  /* A link may lead to a line that is folded away or not shown. */
  document.addEventListener("click", (e) => {
    const hit = /** @type {Element} */ (e.target), a = hit.closest && hit.closest("a[href^='#']");
    const to = a && document.getElementById((a.getAttribute("href") || "").slice(1));
    if (!to) return;
    open(to);
    const file = fileOf(to);
    if (file) file.hidden = false;
  });
  document.addEventListener("keydown", (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey || keys.open) return;
    const tag = /** @type {Element} */ (e.target).tagName;
    if (/^(SELECT|TEXTAREA)$/.test(tag) || (tag === "INPUT" && e.key.indexOf("Arrow") === 0)) return;
    if (e.key === "?") { e.preventDefault(); keys.showModal(); return; }
    if (!on.checked) return;
    if (e.key === "n" || e.key === "ArrowRight") { e.preventDefault(); go(1); }
    else if (e.key === "p" || e.key === "ArrowLeft") { e.preventDefault(); go(-1); }
    else if (e.key === "f") { e.preventDefault(); /** @type {HTMLElement} */ (form.querySelector("input")).focus(); }
  });
})();
