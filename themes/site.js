/* The script of all pages. It only adds: without it every page reads and prints.
   A classic script, because modules and fetch do not work from file://. */
(function () {
  "use strict";
  const { say } = window.bayleafPhrases;
  const root = document.documentElement;

  /* Which units lead. The choice stays on this device; where storage is refused it lasts for the page. */
  const KEY = "bayleaf.first";
  /* Nothing is folded on paper. */
  /** @type {HTMLDetailsElement[]} */
  let folded = [];
  window.addEventListener("beforeprint", () => {
    folded = Array.from(document.querySelectorAll(".ready details:not([open]),.again:not([open])"));
    folded.forEach((one) => { one.open = true; });
  });
  window.addEventListener("afterprint", () => { folded.forEach((one) => { one.open = false; }); folded = []; });
  let first = root.getAttribute("data-first");
  try { first = localStorage.getItem(KEY) || first; } catch (e) { /* private window, or file:// */ }
  function lead(/** @type {string | null} */ units) {
    if (units !== "metric" && units !== "imperial") return;
    root.setAttribute("data-first", units);
    document.querySelectorAll("input[name=first]").forEach((r) => { const radio = /** @type {HTMLInputElement} */ (r); radio.checked = radio.value === units; });
  }
  lead(first);
  document.addEventListener("change", (e) => {
    const radio = /** @type {HTMLInputElement} */ (e.target);
    if (radio.name !== "first") return;
    lead(radio.value);
    try { localStorage.setItem(KEY, radio.value); } catch (e2) { /* as above */ }
  });

  document.querySelectorAll("button[data-print]").forEach((b) => {
    b.addEventListener("click", () => { window.print(); });
  });

  /* Paper says of which revision it is, and old addresses lead on: the script for both is loaded where there is need. */
  const late = document.querySelector("[data-history]");
  if (late && (/[?&]rev=/.test(location.search) || late.hasAttribute("data-to"))) {
    const s = document.createElement("script");
    s.src = late.getAttribute("data-history") || "";
    document.head.append(s);
  }

  /* A picture at its largest, over the page. Without this the link leads to the picture itself. */
  document.addEventListener("click", (e) => {
    const hit = /** @type {Element} */ (e.target), a = /** @type {HTMLAnchorElement | null} */ (hit.closest && hit.closest("a.zoom"));
    if (!a || e.ctrlKey || e.metaKey || e.shiftKey || e.altKey || !window.HTMLDialogElement) return;
    e.preventDefault();
    const d = document.createElement("dialog"), b = document.createElement("button");
    const pic = /** @type {Element} */ (/** @type {Element} */ (a.firstElementChild).cloneNode(true)), list = /** @type {Element} */ (a.parentElement).querySelector(".called");
    const img = /** @type {HTMLImageElement} */ (pic.querySelector("img") || pic);
    img.removeAttribute("srcset");
    img.src = a.href;
    d.className = "large";
    d.setAttribute("aria-label", img.alt);
    d.style.setProperty("--wide", String(Number(img.getAttribute("width")) / Number(img.getAttribute("height"))));
    b.type = "button";
    b.className = "btn";
    b.textContent = say.close;
    /* On a phone the picture is wider than the screen, and is moved about in this. */
    const pan = document.createElement("div");
    pan.className = "pan";
    pan.tabIndex = 0;
    pan.setAttribute("role", "region");
    pan.setAttribute("aria-label", say.picture);
    pan.append(pic);
    d.append(b, pan);
    if (list) d.append(list.cloneNode(true));
    d.addEventListener("click", (e2) => { if (e2.target === b || e2.target === d) d.close(); });
    /* The device's key for going back closes it, and leaves the page where it was. */
    const back = function () { d.close(); };
    let own = true;
    try { history.pushState(Object.assign({}, history.state, { picture: true }), ""); } catch (e2) { own = false; }
    window.addEventListener("popstate", back);
    d.addEventListener("close", () => {
      window.removeEventListener("popstate", back);
      if (own && history.state && history.state.picture) history.back();
      d.remove();
      a.focus();
    });
    document.body.append(d);
    d.showModal();
    pan.scrollLeft = (pan.scrollWidth - pan.clientWidth) / 2;
  });

  /* The bay view comes when it is asked for: by its button, or by an address with "bay" in it. */
  const bay = /** @type {HTMLButtonElement | null} */ (document.getElementById("bay"));
  if (bay) {
    const script = bay.getAttribute("data-js") || "", style = bay.getAttribute("data-css") || "";
    const link = function (/** @type {string} */ rel, /** @type {string} */ href) {
      const l = document.createElement("link");
      l.rel = rel;
      if (rel === "preload") l.as = "script";
      l.href = href;
      return document.head.appendChild(l);
    };
    const load = function () {
      const s = document.createElement("script");
      s.src = script;
      s.onload = function () { window.bayleafBay(); };
      s.onerror = function () { s.remove(); bay.disabled = false; bay.textContent = say.bay_not_loaded; };
      document.head.appendChild(s);
    };
    /* Style and script are fetched side by side; the script runs when the style is there. */
    const openBay = function () {
      if (window.bayleafBay) { window.bayleafBay(); return; }
      bay.disabled = true;
      link("preload", script);
      const l = link("stylesheet", style);
      l.onload = l.onerror = load;
    };
    /* Work that is kept here goes on; record.js keeps it under this name. */
    const WORK = "bayleaf.work:" + location.pathname.replace(/[^/]*$/, "");
    const name = function () {
      try {
        const kept = JSON.parse(localStorage.getItem(WORK) || "null");
        bay.textContent = kept && kept.touched ? say.continue_bay : say.bay_view;
      } catch (e) { /* nothing can be kept here */ }
    };
    name();
    window.addEventListener("storage", (e) => { if (e.key === WORK || e.key === null) name(); });
    bay.addEventListener("click", openBay);
    if (/[?&]bay\b/.test(location.search)) openBay();
  }


  /* Search: its script is loaded when the field is first used, so that every other page stays light. */
  const field = /** @type {HTMLInputElement} */ (document.getElementById("q")), form = field && field.form;
  if (!form) return;
  const script = form.getAttribute("data-script") || "";
  let awake = false;
  function wake() {
    if (awake) return;
    awake = true;
    const s = document.createElement("script");
    s.src = script;
    s.onerror = function () {
      awake = false;
      /** @type {HTMLElement} */ (document.getElementById("said")).textContent = say.search_not_loaded;
    };
    document.head.appendChild(s);
  }
  field.addEventListener("focus", wake);
  document.addEventListener("keydown", (e) => {
    if (e.key !== "/" || e.ctrlKey || e.metaKey || e.altKey) return;
    const hit = /** @type {HTMLInputElement} */ (e.target);
    if (/^(INPUT|SELECT|TEXTAREA)$/.test(hit.tagName) && hit.type !== "radio") return;
    e.preventDefault();
    field.focus();
    field.select();
  });
  /* Without the script there is nothing that Enter could do. */
  form.addEventListener("submit", (e) => { e.preventDefault(); });

  /* Handed over from outside: index.html?q=words */
  const given = /[?&]q=([^&]*)/.exec(location.search);
  if (given) {
    try { field.value = decodeURIComponent(given[1].replace(/\+/g, " ")); } catch (e) { /* not text */ }
    if (field.value) field.focus();
  }
  if (field.value || document.activeElement === field) wake();
})();
