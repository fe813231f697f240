/* The script of the reviewer's page: from finding to finding, and what is shown. Without it everything is there.
   A classic script in the page itself, so that the page is one file and works from the disk. */
(function () {
  "use strict";
  var all = Array.prototype.slice.call(document.querySelectorAll(".finding"));
  var form = document.getElementById("filters");
  if (!form || !all.length) return;
  var said = document.getElementById("said");
  var where = document.getElementById("where");
  var keys = document.getElementById("keys");
  var on = document.getElementById("keys-on");
  var at = null;

  function shown() { return all.filter(function (f) { return !f.hidden; }); }
  function plain(f) { return f.querySelector(".sev").textContent + ": " + f.querySelector(".msg").textContent; }

  function open(element) {
    for (var d = element && element.closest("details"); d; d = d.parentElement.closest("details")) d.open = true;
  }
  function go(step) {
    var list = shown();
    if (!list.length) { said.textContent = "No finding is shown"; return; }
    var here = document.activeElement && document.activeElement.closest(".finding");
    var now = list.indexOf(here || at);
    /* From outside any finding the way starts with the first. */
    var to = now < 0 ? (step > 0 ? 0 : list.length - 1) : now + step;
    var edge = to < 0 || to >= list.length;
    to = Math.max(0, Math.min(list.length - 1, to));
    at = list[to];
    open(at);
    at.focus({ preventScroll: true });
    at.scrollIntoView({ block: "center", behavior: "instant" });
    /* Pieces far away get their true height only when they are near, which moves what was aimed at. */
    requestAnimationFrame(function () { if (at) at.scrollIntoView({ block: "center", behavior: "instant" }); });
    tell((edge ? (step > 0 ? "Last: " : "First: ") : "") + (to + 1) + " of " + list.length, plain(at));
  }
  function tell(count, words) {
    where.textContent = count.replace(/^[A-Z]\w*: /, "");
    said.textContent = count + (words ? ". " + words : "");
  }

  function sift() {
    var rule = form.elements.rule.value;
    var weights = Array.prototype.slice.call(form.querySelectorAll("[name=weight]:checked")).map(function (b) { return b.value; });
    all.forEach(function (f) {
      f.hidden = weights.indexOf(f.getAttribute("data-weight")) < 0 || (rule !== "" && f.getAttribute("data-rule") !== rule);
    });
    var list = shown();
    var whole = list.length === all.length;
    document.querySelectorAll(".file").forEach(function (file) {
      file.hidden = !whole && !file.querySelector(".finding:not([hidden])");
    });
    document.querySelectorAll(".files a").forEach(function (a) {
      a.parentElement.hidden = document.getElementById(a.getAttribute("href").slice(1)).closest(".file").hidden;
    });
    if (at && at.hidden) at = null;
    tell(whole ? all.length + (all.length === 1 ? " finding" : " findings") : list.length + " of " + all.length + " shown", "");
  }
  form.addEventListener("change", sift);
  form.addEventListener("submit", function (e) { e.preventDefault(); });
  /* Going back restores the choice after this script has run. */
  window.addEventListener("pageshow", function () {
    var changed = form.elements.rule.value !== "" || form.querySelector("[name=weight]:not(:checked)");
    if (changed) sift();
  });

  document.getElementById("next").addEventListener("click", function () { go(1); });
  document.getElementById("previous").addEventListener("click", function () { go(-1); });
  document.getElementById("keys-open").addEventListener("click", function () { keys.showModal(); });
  document.addEventListener("focusin", function (e) {
    var f = e.target.closest && e.target.closest(".finding");
    if (f) at = f;
  });
  /* A link may lead to a line that is folded away or not shown. */
  document.addEventListener("click", function (e) {
    var a = e.target.closest && e.target.closest("a[href^='#']");
    var to = a && document.getElementById(a.getAttribute("href").slice(1));
    if (!to) return;
    open(to);
    var file = to.closest(".file");
    if (file) file.hidden = false;
  });
  document.addEventListener("keydown", function (e) {
    if (e.ctrlKey || e.metaKey || e.altKey || keys.open) return;
    if (/^(SELECT|TEXTAREA)$/.test(e.target.tagName) || (e.target.tagName === "INPUT" && e.key.indexOf("Arrow") === 0)) return;
    if (e.key === "?") { e.preventDefault(); keys.showModal(); return; }
    if (!on.checked) return;
    if (e.key === "n" || e.key === "ArrowRight") { e.preventDefault(); go(1); }
    else if (e.key === "p" || e.key === "ArrowLeft") { e.preventDefault(); go(-1); }
    else if (e.key === "f") { e.preventDefault(); form.querySelector("input").focus(); }
  });
})();
