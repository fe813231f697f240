/* Says when a kept copy of a procedure is shown and when a newer one exists, and lists what is kept on this device.
   Loaded by offline.js. */
(function () {
  "use strict";
  var us = window.bayleafKept, root = document.documentElement;
  var base = us.base, main = us.main, data = us.data, isKept = root.hasAttribute("data-kept"), note;
  function what(revision, print) { return (revision ? "revision " + revision + ", " : "") + print; }
  function tell(words, button, act) {
    if (!note) {
      note = document.createElement("div");
      note.className = "told";
      note.setAttribute("role", "status");
      main.before(note);
    }
    if (!button && note.textContent === words) return;
    note.textContent = words;
    if (!button) return;
    var b = document.createElement("button");
    b.type = "button";
    b.className = "btn";
    b.textContent = button;
    b.addEventListener("click", act);
    note.append(" ", b);
  }
  /* Compares with the page as it is on the server now. */
  var tries = 0, wait = 0;
  function check() {
    fetch(location.href.split(/[?#]/)[0], { cache: "no-store" }).then(function (r) {
      if (!r.ok) throw new Error(r.status);
      return r.text();
    }).then(function (html) {
      tries = 0;
      var now = new DOMParser().parseFromString(html, "text/html").querySelector("main").dataset;
      if (!now.print) return;
      if (now.print === data.print) {
        if (isKept) tell("Kept copy of " + what(data.revision, data.print) + ". It is the newest.");
        return;
      }
      tell((isKept ? "Kept copy of " : "This is ") + what(data.revision, data.print) + ". A newer one exists: " + what(now.revision, now.print) + ".", "Take the newer one", function () {
        us.keep(now.revision, now.print).then(function (said) {
          if (said.kept) location.reload();
          else tell("The newer one could not be fetched whole. The kept copy stays as it is.");
        });
      });
    }).catch(function () {
      if (isKept) tell("Kept copy of " + what(data.revision, data.print) + ". There is no network, so a newer one may exist.");
      /* A device may be on a network that leads nowhere and never says when it does again: asked ever more seldom. */
      if (isKept) { clearTimeout(wait); wait = setTimeout(check, Math.min(30, Math.pow(2, ++tries)) * 1000); }
    });
  }

  if (us.full) tell("There is no room on this device to keep this procedure.");
  else if (data.guide) { us.check = check; check(); }
  else if (isKept) tell("Kept copy of this page. There is no network, so a newer one may exist.");

  /* The list of what is kept. */
  var place = document.getElementById("kept");
  if (!place) return;
  var PREFIX = "bayleaf " + base + " ";
  function list() {
    caches.keys().then(function (keys) {
      return Promise.all(keys.filter(function (k) { return k.indexOf(PREFIX) === 0 && k !== PREFIX + "shell"; }).map(function (k) {
        var slug = k.slice(PREFIX.length).split(" ")[0];
        return caches.open(k).then(function (s) { return s.match(base + "guides/" + slug + "/kept.json"); })
          .then(function (r) { return r && r.json(); }).then(function (g) { return g && [k, g]; });
      }));
    }).then(function (all) {
      all = all.filter(Boolean).sort(function (a, b) { return a[1].title < b[1].title ? -1 : 1; });
      place.textContent = "";
      if (/[?&]missed/.test(location.search)) line("p", "say", "There is no network, and the page you asked for is not kept on this device.");
      if (!all.length) return line("p", "say", "Nothing is kept yet. Open a procedure, and it is.");
      var ul = line("ul", "register");
      all.forEach(function (one) {
        var g = one[1], li = document.createElement("li");
        li.innerHTML = '<span class="doc"></span><div class="job"><a></a><p></p></div><p class="who"></p><p class="how-long"><button type="button" class="btn">Remove</button></p>';
        li.querySelector(".doc").textContent = g.document || "";
        var a = li.querySelector("a"), b = li.querySelector("button");
        a.textContent = g.title;
        a.href = base + "guides/" + g.slug + "/index.html";
        li.querySelector("p").textContent = what(g.revision, g.print);
        li.querySelector(".who").textContent = "kept " + new Date(g.kept).toLocaleDateString(root.lang === "en" ? "en-GB" : root.lang, { day: "numeric", month: "short", year: "numeric" });
        b.setAttribute("aria-label", "Remove " + g.title);
        b.addEventListener("click", function () { caches.delete(one[0]).then(list); });
        ul.append(li);
      });
      var rest = line("p", "say"), clear = document.createElement("button");
      clear.type = "button";
      clear.className = "btn";
      clear.textContent = "Remove all";
      clear.addEventListener("click", function () {
        Promise.all(all.map(function (one) { return one[0]; }).concat(PREFIX + "search").map(function (name) { return caches.delete(name); })).then(list);
      });
      rest.append(clear);
      caches.open(PREFIX + "search").then(function (s) { return s.keys(); }).then(function (pieces) {
        line("p", "say", pieces.some(function (r) { return /\/search\/whole\?/.test(r.url); })
          ? "Search works without a network too: all that it looks through is kept."
          : "Without a network, search finds only what was searched for on this device before.");
      });
    }).catch(function () { /* Storage is refused: the page says what is needed. */ });
  }
  function line(name, kind, words) {
    var e = document.createElement(name);
    e.className = kind;
    if (words) e.textContent = words;
    place.append(e);
    return e;
  }
  list();
})();
