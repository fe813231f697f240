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

  /* A picture at its largest, over the page. Without this the link leads to the picture itself. */
  document.addEventListener("click", function (e) {
    var a = e.target.closest && e.target.closest("a.zoom");
    if (!a || e.ctrlKey || e.metaKey || e.shiftKey || e.altKey || !window.HTMLDialogElement) return;
    e.preventDefault();
    var d = document.createElement("dialog"), b = document.createElement("button");
    var pic = a.firstElementChild.cloneNode(true), list = a.parentNode.querySelector(".called");
    var img = pic.querySelector("img") || pic;
    img.removeAttribute("srcset");
    img.src = a.href;
    d.className = "large";
    d.setAttribute("aria-label", img.alt);
    d.style.setProperty("--wide", img.getAttribute("width") / img.getAttribute("height"));
    b.type = "button";
    b.className = "btn";
    b.textContent = "Close";
    d.append(b, pic);
    if (list) d.append(list.cloneNode(true));
    d.addEventListener("click", function (e2) { if (e2.target === b || e2.target === d) d.close(); });
    d.addEventListener("close", function () { d.remove(); a.focus(); });
    document.body.append(d);
    d.showModal();
  });

  /* Search ------------------------------------------------------------------------------------- */
  var field = document.getElementById("q");
  if (!field) return;
  var panel = document.getElementById("hits");
  var list = panel.querySelector("ol");
  var count = panel.querySelector(".count");
  var said = document.getElementById("said");
  var MOST = 20;       /* results shown */
  var PIECES = 6;      /* guide chunks that one query may load */
  var turn = 0;        /* answers to an older query are dropped */

  var meta = null, words = {}, chunks = {}, loads = {};
  window.bayleaf = {
    index: function (m) { meta = m; },
    words: function (key, map) { words[key] = map; },
    guides: function (n, rows) { chunks[n] = rows; }
  };
  function load(path) {
    return loads[path] || (loads[path] = new Promise(function (done, fail) {
      var s = document.createElement("script");
      s.src = base + "search/" + path;
      s.onload = done;
      s.onerror = function () { delete loads[path]; s.remove(); fail(new Error(path)); };
      document.head.appendChild(s);
    }));
  }
  function split(text) {
    return text.toLowerCase().normalize("NFKD").replace(/\p{M}+/gu, "").match(/[\p{Alphabetic}\p{N}]+/gu) || [];
  }
  function shard(word) {
    return Array.from(word).slice(0, 2).map(function (c) {
      return /[a-z0-9]/.test(c) ? c : "u" + c.codePointAt(0).toString(16) + "-";
    }).join("");
  }
  /* guide number -> set of step numbers, for one word of the query */
  function find(word, open) {
    var map = words[shard(word)] || {};
    var out = new Map();
    var keys = open ? Object.keys(map).filter(function (k) { return k.indexOf(word) === 0; })
      : Object.prototype.hasOwnProperty.call(map, word) ? [word] : [];
    keys.forEach(function (k) {
      map[k].split(";").forEach(function (entry) {
        var at = entry.indexOf(":");
        if (at < 1) return;
        var guide = parseInt(entry.slice(0, at), 36);
        var steps = out.get(guide);
        if (!steps) out.set(guide, steps = new Set());
        entry.slice(at + 1).split(",").forEach(function (n) { steps.add(parseInt(n, 36)); });
      });
    });
    return out;
  }
  /* Places where all words occur, the closest first; the titles decide the rest once they are loaded. */
  function places(sets) {
    var out = [];
    sets[0].forEach(function (_, guide) {
      var here = sets.map(function (s) { return s.get(guide); });
      if (here.some(function (s) { return !s; })) return;
      var tally = new Map();
      here.forEach(function (s) { s.forEach(function (n) { tally.set(n, (tally.get(n) || 0) + 1); }); });
      var heads = tally.get(0) || 0, best = -1, most = 0, whole = false;
      tally.forEach(function (k, n) {
        if (k === sets.length) { whole = true; out.push({ g: guide, n: n, score: heads + (n ? 0 : 3) }); }
        if (n && k > most) { most = k; best = n; }
      });
      if (!whole) out.push({ g: guide, n: Math.max(best, 0), score: heads - 100 });
    });
    return out.sort(function (a, b) { return b.score - a.score || a.g - b.g || a.n - b.n; });
  }
  function hasWord(text, word, open) {
    return split(text).some(function (w) { return open ? w.indexOf(word) === 0 : w === word; });
  }
  function answer(query) {
    var mine = ++turn;
    var asked = split(query);
    /* A single letter would need every shard it begins; wait for the second one. */
    if (!asked.length || (asked.length === 1 && asked[0].length < 2 && !/\d/.test(asked[0]))) return close();
    var seen = load("index.js").then(function () {
      var known = new Set(meta.shards);
      var keys = asked.map(shard).filter(function (k, i, all) { return known.has(k) && all.indexOf(k) === i; });
      return Promise.all(keys.map(function (k) { return load("w-" + k + ".js"); }));
    }).then(function () {
      if (mine !== turn) return null;
      var last = asked.length - 1;
      var sets = asked.map(function (w, i) { return find(w, i === last); });
      /* A lone last letter that finds nothing is a word still being typed. */
      if (last > 0 && !sets[last].size && asked[last].length < 2) { sets.pop(); asked.pop(); }
      var all = places(sets), want = new Set(), near = [];
      for (var i = 0; i < all.length && near.length < 400; i++) {
        var c = Math.floor(all[i].g / meta.chunk);
        if (!want.has(c)) { if (want.size === PIECES) continue; want.add(c); }
        near.push(all[i]);
      }
      return Promise.all(Array.from(want).map(function (n) { return load("g-" + n + ".js"); })).then(function () {
        if (mine === turn) show(query, asked, near, all.length);
      });
    });
    seen.catch(function () {
      if (mine === turn) tell("Search could not read its files. They belong in the folder “search” beside the pages.", []);
    });
  }
  function show(query, asked, near, total) {
    var last = asked.length - 1;
    near.forEach(function (p) {
      var row = (chunks[Math.floor(p.g / meta.chunk)] || [])[p.g % meta.chunk];
      if (!row) { p.gone = true; return; }
      var step = p.n ? row[3][p.n - 1] : null;
      p.row = row;
      p.step = step;
      asked.forEach(function (w, i) {
        if (step && hasWord(step[1], w, i === last)) p.score += 10;
        if (hasWord(row[1], w, i === last)) p.score += step ? 4 : 14;
      });
    });
    near = near.filter(function (p) { return !p.gone; })
      .sort(function (a, b) { return b.score - a.score || a.g - b.g || a.n - b.n; }).slice(0, MOST);
    tell(!near.length ? "Nothing found for “" + query.trim() + "”. Fewer or shorter words may find it."
      : total > near.length ? "The first " + near.length + " of " + total + " places"
      : total === 1 ? "1 place" : total + " places", near, asked);
  }
  function marked(text, asked) {
    var out = document.createDocumentFragment();
    text.split(/([\p{Alphabetic}\p{M}\p{N}]+)/u).forEach(function (bit, i) {
      var hit = i % 2 && asked.some(function (w, j) { return hasWord(bit, w, j === asked.length - 1); });
      if (hit) { var m = document.createElement("mark"); m.textContent = bit; out.appendChild(m); }
      else out.appendChild(document.createTextNode(bit));
    });
    return out;
  }
  function tell(words, near, asked) {
    list.textContent = "";
    near.forEach(function (p) {
      var li = document.createElement("li"), a = document.createElement("a");
      var dot = document.createElement("span"), text = document.createElement("span"), under = document.createElement("small");
      a.href = base + "guides/" + p.row[0] + "/index.html" + (p.step ? "#" + encodeURIComponent(p.step[0]) : "");
      if (p.step) { dot.className = "dot"; dot.textContent = p.n; dot.setAttribute("aria-label", "Step " + p.n); }
      text.appendChild(marked(p.step ? p.step[1] : p.row[1], asked));
      under.appendChild(p.step ? marked(p.row[1], asked) : document.createTextNode("Procedure"));
      if (p.row[2]) under.appendChild(document.createTextNode(" · " + p.row[2]));
      text.appendChild(under);
      a.appendChild(dot);
      a.appendChild(text);
      li.appendChild(a);
      list.appendChild(li);
    });
    count.textContent = words;
    said.textContent = words;
    panel.hidden = false;
    panel.scrollTop = 0;
  }
  function close() {
    turn++;
    panel.hidden = true;
    list.textContent = "";
    said.textContent = "";
  }

  var pause = 0;
  function soon() {
    clearTimeout(pause);
    pause = setTimeout(function () { answer(field.value); }, 80);
  }
  field.addEventListener("input", soon);
  field.addEventListener("focus", function () { if (field.value.trim() && panel.hidden) answer(field.value); });
  field.form.addEventListener("submit", function (e) {
    e.preventDefault();
    var a = list.querySelector("a");
    if (a && !panel.hidden) a.click(); else answer(field.value);
  });
  field.form.addEventListener("keydown", function (e) {
    if (e.key === "Escape") {
      e.preventDefault();
      field.value = "";
      close();
      field.focus();
      return;
    }
    if (e.key !== "ArrowDown" && e.key !== "ArrowUp") return;
    var links = Array.prototype.slice.call(list.querySelectorAll("a"));
    if (panel.hidden || !links.length) return;
    e.preventDefault();
    var at = links.indexOf(document.activeElement) + (e.key === "ArrowDown" ? 1 : -1);
    if (at < 0) field.focus();
    else links[Math.min(at, links.length - 1)].focus();
  });
  document.addEventListener("keydown", function (e) {
    if (e.key !== "/" || e.ctrlKey || e.metaKey || e.altKey) return;
    if (/^(INPUT|SELECT|TEXTAREA)$/.test(e.target.tagName) && e.target.type !== "radio") return;
    e.preventDefault();
    field.focus();
    field.select();
  });
  document.addEventListener("click", function (e) { if (!field.form.contains(e.target)) { panel.hidden = true; } });
  field.form.addEventListener("focusout", function (e) {
    if (e.relatedTarget && !field.form.contains(e.relatedTarget)) panel.hidden = true;
  });
  list.addEventListener("click", function (e) { if (e.target.closest("a")) panel.hidden = true; });

  /* Handed over from outside: index.html?q=words */
  var given = /[?&]q=([^&]*)/.exec(location.search);
  if (given) {
    try { field.value = decodeURIComponent(given[1].replace(/\+/g, " ")); } catch (e) { /* not text */ }
    if (field.value) { field.focus(); answer(field.value); }
  }
})();
