/* Says when a kept copy of a procedure is shown and when a newer one exists, and lists what is kept on this device.
   Loaded by offline.js. */
(function () {
  "use strict";
  const us = window.bayleafKept, root = document.documentElement;
  const base = us.base, main = us.main, data = us.data, isKept = root.hasAttribute("data-kept");
  /** @type {HTMLElement | undefined} */
  let note;
  /** @type {(revision: string | null | undefined, print: string | undefined) => string} */
  function what(revision, print) { return (revision ? "revision " + revision + ", " : "") + print; }
  /** @type {(words: string, button?: string, act?: () => void) => void} */
  function tell(words, button, act) {
    if (!note) {
      note = document.createElement("div");
      note.className = "told";
      note.setAttribute("role", "status");
      main.before(note);
    }
    if (!button && note.textContent === words) return;
    note.textContent = words;
    if (!button || !act) return;
    const b = document.createElement("button");
    b.type = "button";
    b.className = "btn";
    b.textContent = button;
    b.addEventListener("click", act);
    note.append(" ", b);
  }
  /* What differs in the newer page. It tells what changed since the revision before it; where this one is older still, the page of this one's
     revision does. */
  /** @type {(page: Document) => Promise<string[]>} */
  function differs(page) {
    const since = page.getElementById("since"), most = 5;
    /* Whole sentences with both sides are read on the page. */
    /** @type {(rows: Iterable<Element>) => string[]} */
    const texts = (rows) => Array.from(rows).map((row) => (row.textContent || "").replace(/\s+/g, " ").trim()).filter((text) => text.length < 160).slice(0, most);
    if (!data.revision) return Promise.resolve([]);
    if (since && since.dataset.since === data.revision) return Promise.resolve(texts(since.querySelectorAll("li")));
    return fetch(new URL("rev-" + data.revision.toLowerCase() + ".html", location.href).href, { cache: "no-store" }).then((r) => r.ok ? r.text() : "").then((html) => {
      const older = new DOMParser().parseFromString(html, "text/html").getElementById("since");
      return older ? texts(older.querySelectorAll(".diff")) : [];
    }).catch(() => []);
  }
  /* Compares with the page as it is on the server now. */
  let tries = 0, wait = 0;
  function check() {
    fetch(location.href.split(/[?#]/)[0], { cache: "no-store" }).then((r) => {
      if (!r.ok) throw new Error(String(r.status));
      return r.text();
    }).then((html) => {
      tries = 0;
      const page = new DOMParser().parseFromString(html, "text/html"), now = page.querySelector("main")?.dataset || {};
      if (!now.print) return;
      if (now.print === data.print) {
        if (isKept) tell("Kept copy of " + what(data.revision, data.print) + ". It is the newest.");
        return;
      }
      differs(page).then((facts) => tell((isKept ? "Kept copy of " : "This is ") + what(data.revision, data.print) + ". A newer one exists: " + what(now.revision, now.print) + "." + (facts.length ? " It differs in: " + facts.join("; ") + "." : ""), "Take the newer one", () => {
        us.keep(now.revision, now.print).then((said) => {
          if (said.kept) location.reload();
          else tell("The newer one could not be fetched whole. The kept copy stays as it is.");
        });
      }));
    }).catch(() => {
      if (isKept) tell("Kept copy of " + what(data.revision, data.print) + ". There is no network, so a newer one may exist.");
      /* A device may be on a network that leads nowhere and never says when it does again: asked ever more seldom. */
      if (isKept) { clearTimeout(wait); wait = setTimeout(check, Math.min(30, Math.pow(2, ++tries)) * 1000); }
    });
  }

  if (us.full) tell("There is no room on this device to keep this procedure.");
  else if (data.guide) { us.check = check; check(); }
  else if (isKept) tell("Kept copy of this page. There is no network, so a newer one may exist.");

  /* The list of what is kept. */
  const place = /** @type {HTMLElement} */ (document.getElementById("kept"));
  if (!place) return;
  const PREFIX = "bayleaf " + base + " ";
  function list() {
    caches.keys().then((keys) => Promise.all(keys.filter((k) => k.indexOf(PREFIX) === 0 && k !== PREFIX + "shell").map((k) => {
        const slug = k.slice(PREFIX.length).split(" ")[0];
        return caches.open(k).then((s) => s.match(base + "guides/" + slug + "/kept.json"))
          .then((r) => r && r.json()).then((g) => ({ store: k, guide: g }));
      }))).then((found) => {
      const all = found.filter((one) => one.guide).sort((a, b) => a.guide.title < b.guide.title ? -1 : 1);
      place.textContent = "";
      if (/[?&]missed/.test(location.search)) line("p", "say", "There is no network, and the page you asked for is not kept on this device.");
      if (!all.length) return line("p", "say", "Nothing is kept yet. Open a procedure, and it is.");
      const ul = line("ul", "register");
      all.forEach((one) => {
        const g = one.guide, li = document.createElement("li");
        li.innerHTML = '<span class="doc"></span><div class="job"><a></a><p></p></div><p class="who"></p><p class="how-long"><button type="button" class="btn">Remove</button></p>';
        const part = (/** @type {string} */ css) => /** @type {HTMLElement} */ (li.querySelector(css));
        part(".doc").textContent = g.document || "";
        const a = /** @type {HTMLAnchorElement} */ (part("a")), b = part("button");
        a.textContent = g.title;
        a.href = base + "guides/" + g.slug + "/index.html";
        part("p").textContent = what(g.revision, g.print);
        part(".who").textContent = "kept " + new Date(g.kept).toLocaleDateString(root.lang === "en" ? "en-GB" : root.lang, { day: "numeric", month: "short", year: "numeric" });
        b.setAttribute("aria-label", "Remove " + g.title);
        b.addEventListener("click", () => { caches.delete(one.store).then(list); });
        ul.append(li);
      });
      const rest = line("p", "say"), clear = document.createElement("button");
      clear.type = "button";
      clear.className = "btn";
      clear.textContent = "Remove all";
      clear.addEventListener("click", () => {
        Promise.all(all.map((one) => one.store).concat(PREFIX + "search").map((name) => caches.delete(name))).then(list);
      });
      rest.append(clear);
      caches.open(PREFIX + "search").then((s) => s.keys()).then((pieces) => {
        line("p", "say", pieces.some((r) => /\/search\/whole\?/.test(r.url))
          ? "Search works without a network too: all that it looks through is kept."
          : "Without a network, search finds only what was searched for on this device before.");
      });
    }).catch(() => { /* Storage is refused: the page says what is needed. */ });
  }
  /** @type {(name: string, kind: string, words?: string) => HTMLElement} */
  function line(name, kind, words) {
    const e = document.createElement(name);
    e.className = kind;
    if (words) e.textContent = words;
    place.append(e);
    return e;
  }
  list();
})();
