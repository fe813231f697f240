/* Says when a kept copy of a procedure is shown and when a newer one exists, and lists what is kept on this device.
   Loaded by offline.js. */
(function () {
  "use strict";
  const { say, fill } = window.bayleafPhrases;
  const us = window.bayleafKept, root = document.documentElement;
  const base = us.base, main = us.main, data = us.data, isKept = root.hasAttribute("data-kept");
  /** @type {HTMLElement | undefined} */
  let note;
  /** @type {(revision: string | null | undefined, print: string | undefined) => string} */
  function what(revision, print) { return revision ? fill(say.revision_print, { revision, print: print || "" }) : print || ""; }
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
        if (isKept) tell(fill(say.kept_newest, { what: what(data.revision, data.print) }));
        return;
      }
      differs(page).then((facts) => tell(fill(isKept ? say.kept_newer : say.shown_newer, { what: what(data.revision, data.print), newer: what(now.revision, now.print) }) + (facts.length ? " " + fill(say.differs_in, { facts: facts.join("; ") }) : ""), say.take_newer, () => {
        us.keep(now.revision, now.print).then((said) => {
          if (said.kept) location.reload();
          else tell(say.newer_not_whole);
        });
      }));
    }).catch(() => {
      if (isKept) tell(fill(say.kept_offline, { what: what(data.revision, data.print) }));
      /* A device may be on a network that leads nowhere and never says when it does again: asked ever more seldom. */
      if (isKept) { clearTimeout(wait); wait = setTimeout(check, Math.min(30, Math.pow(2, ++tries)) * 1000); }
    });
  }

  if (us.full) tell(say.no_room_for_procedure);
  else if (data.guide) { us.check = check; check(); }
  else if (isKept) tell(say.kept_page_offline);

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
      if (/[?&]missed/.test(location.search)) line("p", "say", say.page_missed);
      if (!all.length) return line("p", "say", say.nothing_kept_yet);
      const ul = line("ul", "register");
      all.forEach((one) => {
        const g = one.guide, li = document.createElement("li");
        li.innerHTML = '<span class="doc"></span><div class="job"><a></a><p></p></div><p class="who"></p><p class="how-long"><button type="button" class="btn"></button></p>';
        const part = (/** @type {string} */ css) => /** @type {HTMLElement} */ (li.querySelector(css));
        part(".doc").textContent = g.document || "";
        const a = /** @type {HTMLAnchorElement} */ (part("a")), b = part("button");
        a.textContent = g.title;
        b.textContent = say.remove;
        a.href = base + "guides/" + g.slug + "/index.html";
        part("p").textContent = what(g.revision, g.print);
        part(".who").textContent = fill(say.kept_on, { day: new Date(g.kept).toLocaleDateString(root.lang === "en" ? "en-GB" : root.lang, { day: "numeric", month: "short", year: "numeric" }) });
        b.setAttribute("aria-label", fill(say.remove_named, { title: g.title }));
        b.addEventListener("click", () => { caches.delete(one.store).then(list); });
        ul.append(li);
      });
      const rest = line("p", "say"), clear = document.createElement("button");
      clear.type = "button";
      clear.className = "btn";
      clear.textContent = say.remove_all;
      clear.addEventListener("click", () => {
        Promise.all(all.map((one) => one.store).concat(PREFIX + "search").map((name) => caches.delete(name))).then(list);
      });
      rest.append(clear);
      caches.open(PREFIX + "search").then((s) => s.keys()).then((pieces) => {
        line("p", "say", pieces.some((r) => /\/search\/whole\?/.test(r.url))
          ? say.search_all_kept
          : say.search_part_kept);
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
