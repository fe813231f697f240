/* The panel of the preview: what the review found in the guide on view, and the page loaded again when it changed. */
(function () {
  "use strict";
  var make = function (tag, attributes, text) {
    var el = document.createElement(tag);
    Object.keys(attributes || {}).forEach(function (k) { el.setAttribute(k, attributes[k]); });
    if (text !== undefined) el.textContent = text;
    return el;
  };
  var here = /\/guides\/([^/]+)\//.exec(location.pathname), slug = here ? decodeURIComponent(here[1]) : null;
  var KEY = "bayleaf.preview", panel = make("details", { id: "preview-panel" });
  var count = function (n, one, more) { return n + " " + (n === 1 ? one : more); };
  function fill(report) {
    panel.textContent = "";
    var found = (slug !== null && report.guides[slug] || []).concat(report.guides[""] || []);
    var holds = found.filter(function (f) { return f.weight === "hold"; }).length;
    var words = report.fault ? "Preview: not the newest state" : slug === null ? "Preview: " + report.totals
      : !found.length ? "Preview: nothing found in this guide; in all " + report.totals
      : "Preview: " + count(found.length, "finding", "findings") + " here" + (holds ? ", " + count(holds, "hold", "holds") : "") + "; in all " + report.totals;
    panel.appendChild(make("summary", {}, words));
    if (report.fault) panel.appendChild(make("pre", { "class": "fault", tabindex: "0" }, report.fault));
    var box = make("div", { "class": "list", tabindex: "0", role: "region", "aria-label": "Findings" }), list = make("ul");
    found.forEach(function (f) {
      var li = make("li"), head = make("p"), acts = make("p"), copy = make("button", { type: "button" }, "Copy " + f.place);
      head.appendChild(make("b", { "class": f.weight }, f.weight));
      head.appendChild(document.createTextNode(" " + f.message));
      copy.addEventListener("click", function () { navigator.clipboard.writeText(f.place).then(function () { copy.textContent = "Copied"; }, function () { copy.textContent = f.place; }); });
      acts.appendChild(make("a", { href: "/__preview/review.html#" + f.anchor }, f.place.replace(/^.*\//, "") + ", " + f.rule));
      acts.appendChild(copy);
      li.appendChild(head);
      li.appendChild(make("p", { "class": "do" }, "To do: " + f.remedy));
      li.appendChild(acts);
      list.appendChild(li);
    });
    if (!found.length) list.appendChild(make("li", {}, "No finding for this page."));
    box.appendChild(list);
    panel.appendChild(box);
    var all = make("p");
    all.appendChild(make("a", { href: "/__preview/review.html" }, "All findings with their lines"));
    list.appendChild(make("li")).appendChild(all);
  }
  try { panel.open = sessionStorage.getItem(KEY) === "open"; } catch (e) { /* then it starts closed */ }
  panel.addEventListener("toggle", function () { try { sessionStorage.setItem(KEY, panel.open ? "open" : ""); } catch (e) { /* as above */ } });
  fetch("/__preview/report.json").then(function (r) { return r.json(); }).then(function (report) {
    fill(report);
    var box = make("aside", { "aria-label": "Preview" });
    box.appendChild(panel);
    document.body.appendChild(box);
  });
  var stream = new EventSource("/__preview/events");
  stream.addEventListener("new", function () { location.reload(); });
  /* When the server comes back after a stop, its pages may be others. */
  var lost = false;
  stream.addEventListener("error", function () { lost = true; });
  stream.addEventListener("open", function () { if (lost) location.reload(); });
})();
