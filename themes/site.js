/* The script of all pages. It only adds: without it every page reads and prints.
   A classic script, because modules and fetch do not work from file://. */
(function () {
  "use strict";
  var root = document.documentElement;
  var base = root.getAttribute("data-root") || "";

  /* Which units lead. The choice stays on this device; where storage is refused it lasts for the page. */
  var KEY = "bayleaf.first";
  var first = root.getAttribute("data-first");
  try { first = localStorage.getItem(KEY) || first; } catch (e) { /* private window, or file:// */ }
  function lead(units) {
    if (units !== "metric" && units !== "imperial") return;
    root.setAttribute("data-first", units);
    document.querySelectorAll("input[name=first]").forEach(function (r) { r.checked = r.value === units; });
  }
  lead(first);
  document.addEventListener("change", function (e) {
    if (e.target.name !== "first") return;
    lead(e.target.value);
    try { localStorage.setItem(KEY, e.target.value); } catch (e2) { /* as above */ }
  });

  document.querySelectorAll("[data-print]").forEach(function (b) {
    b.addEventListener("click", function () { window.print(); });
  });

  /* The bay view comes when it is asked for: by its button, or by an address with "bay" in it. */
  var bay = document.getElementById("bay");
  if (bay) {
    var load = function (sources) {
      var src = sources.shift();
      if (!src) { window.bayleafBay(); return; }
      var s = document.createElement("script");
      s.src = src;
      s.onload = function () { load(sources); };
      s.onerror = function () { bay.disabled = false; bay.textContent = "Bay view cannot be loaded"; };
      document.head.appendChild(s);
    };
    var openBay = function () {
      if (window.bayleafBay) { window.bayleafBay(); return; }
      bay.disabled = true;
      var style = document.createElement("link");
      style.rel = "stylesheet";
      style.href = bay.getAttribute("data-css");
      style.onload = style.onerror = function () { load(bay.getAttribute("data-js").split(" ")); };
      document.head.appendChild(style);
    };
    bay.addEventListener("click", openBay);
    if (/[?&]bay\b/.test(location.search)) openBay();
  }

  /* Register: only the procedures of one vehicle. */
  var by = document.getElementById("by");
  if (by) {
    var lines = Array.prototype.slice.call(document.querySelectorAll("[data-fits]"));
    var sift = function () {
      var box = by.querySelector("select") || by.querySelector("input:checked");
      var id = box ? box.value : "";
      var shown = 0;
      lines.forEach(function (li) {
        var on = !id || (" " + li.getAttribute("data-fits") + " ").indexOf(" " + id + " ") >= 0;
        li.hidden = !on;
        if (on) shown++;
      });
      document.querySelectorAll(".system").forEach(function (s) {
        s.hidden = !s.querySelector("[data-fits]:not([hidden])");
      });
      by.querySelector("[role=status]").textContent = id ? shown + " of " + lines.length + (lines.length === 1 ? " procedure" : " procedures") : "";
    };
    by.addEventListener("change", sift);
    by.addEventListener("submit", function (e) { e.preventDefault(); });
    /* Going back restores the choice after this script has run. */
    window.addEventListener("pageshow", sift);
    sift();
  }

  /* Search: its script is loaded when the field is first used, so that every other page stays light. */
  var field = document.getElementById("q");
  if (!field) return;
  var awake = false;
  function wake() {
    if (awake) return;
    awake = true;
    var s = document.createElement("script");
    s.src = field.form.getAttribute("data-script");
    s.onerror = function () {
      awake = false;
      document.getElementById("said").textContent = "Search could not be loaded. Its script belongs in the folder “assets” beside the pages.";
    };
    document.head.appendChild(s);
  }
  field.addEventListener("focus", wake);
  document.addEventListener("keydown", function (e) {
    if (e.key !== "/" || e.ctrlKey || e.metaKey || e.altKey) return;
    if (/^(INPUT|SELECT|TEXTAREA)$/.test(e.target.tagName) && e.target.type !== "radio") return;
    e.preventDefault();
    field.focus();
    field.select();
  });
  /* Without the script there is nothing that Enter could do. */
  field.form.addEventListener("submit", function (e) { e.preventDefault(); });

  /* Handed over from outside: index.html?q=words */
  var given = /[?&]q=([^&]*)/.exec(location.search);
  if (given) {
    try { field.value = decodeURIComponent(given[1].replace(/\+/g, " ")); } catch (e) { /* not text */ }
    if (field.value) field.focus();
  }
  if (field.value || document.activeElement === field) wake();
})();
