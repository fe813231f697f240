/* Keeps the procedures that somebody opened, so that they can be read without a network. It stands at the root of the
   site and knows nothing but the site's own folder. Each procedure is kept whole in a store of its own, named after
   its folder and fingerprint, so that page, sheets and pictures are always of one state. */
"use strict";

const me = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const scope = me.registration.scope;
const PREFIX = "bayleaf " + scope + " ";
const SHELL = PREFIX + "shell";
const SEARCH = PREFIX + "search";
const WHOLE = 400000; /* A search index of no more bytes is kept whole as soon as a procedure is kept. */
const PATIENCE = 4000; /* How long a slow network may take before the kept copy is shown, in milliseconds. */

me.addEventListener("install", (e) => {
  e.waitUntil(shell().then(() => { return me.skipWaiting(); }));
});
me.addEventListener("activate", (e) => { e.waitUntil(me.clients.claim()); });

/* An address without what stands behind ? and #; a folder stands for its index. */
function plain(/** @type {string} */ url) {
  const path = url.split(/[?#]/)[0];
  return /\/$/.test(path) ? path + "index.html" : path;
}
function fresh(/** @type {string} */ url) {
  return fetch(url, { cache: "no-cache" }).then((r) => {
    if (!r.ok || r.type !== "basic") throw new Error(r.status + " " + url);
    return r;
  });
}
/* The styles, scripts and pictures that a page names. Of a picture's widths the middle one is kept. */
function named(/** @type {string} */ html, /** @type {string} */ page) {
  /** @type {string[]} */
  const found = [];
  const tag = /<(?:link|script|img)\b[^>]*>/g;
  let m;
  function add(/** @type {string} */ value) {
    const url = new URL(value.replace(/&amp;/g, "&"), page).href;
    if (url.indexOf(scope) === 0 && found.indexOf(url) < 0) found.push(url);
  }
  while ((m = tag.exec(html))) {
    if (/^<link/.test(m[0]) && !/rel="(?:stylesheet|icon)"/.test(m[0])) continue;
    (m[0].match(/\s(?:href|src)="[^"]+"/g) || []).forEach((a) => { add(a.slice(a.indexOf('"') + 1, -1)); });
  }
  /* Scripts that a page loads later stand in attributes of its elements. */
  (html.match(/\sdata-[a-z]+="[^"]+\.js"/g) || []).forEach((a) => {
    a.slice(a.indexOf('"') + 1, -1).split(" ").forEach(add);
  });
  return found;
}
/* Fetches a page and all it names. */
function whole(/** @type {string} */ url) {
  return fresh(url).then((r) => {
    return r.clone().text().then((html) => {
      return Promise.all(named(html, url).map((u) => {
        return fresh(u).then((got) => { return /** @type {[string, Response]} */ ([u, got]); });
      })).then((files) => { return { html, files: files.concat([/** @type {[string, Response]} */ ([url, r])]) }; });
    });
  });
}
function put(/** @type {string} */ name, /** @type {[string, Response][]} */ files) {
  return caches.open(name).then((store) => {
    return Promise.all(files.map((f) => { return store.put(f[0], f[1]); }));
  });
}
/* The front page and the list of what is kept, as they are now; what they named before goes. */
function shell() {
  return Promise.all([whole(scope + "index.html"), whole(scope + "kept.html")]).then((both) => {
    const files = both[0].files.concat(both[1].files), now = files.map((f) => { return f[0]; });
    return put(SHELL, files).then(() => { return caches.open(SHELL); }).then((store) => {
      return store.keys().then((all) => {
        return Promise.all(all.filter((r) => { return now.indexOf(r.url) < 0; }).map((r) => { return store.delete(r); }));
      });
    });
  });
}

/* Keeps a procedure. Everything is fetched before anything is stored, so that a network that fails half-way leaves the
   older copy as it was. */
function keep(/** @type {{ slug: string, print: string, kept?: string }} */ guide) {
  const folder = scope + "guides/" + guide.slug + "/", name = PREFIX + guide.slug + " " + guide.print;
  const mark = folder + "kept.json";
  return caches.open(name).then((store) => { return store.match(mark); }).then((has) => {
    if (has) return null;
    const pages = ["index.html", "torque.html", "checklist.html"];
    return Promise.all(pages.map((p) => { return whole(folder + p); })).then((all) => {
      if (all[0].html.indexOf('data-print="' + guide.print + '"') < 0) throw new Error("changed meanwhile");
      return put(name, all.map((one) => { return one.files; }).flat());
    }).then(() => {
      guide.kept = new Date().toISOString();
      return put(name, [[mark, new Response(JSON.stringify(guide), { headers: { "content-type": "application/json" } })]]);
    }).then(() => { return drop(guide.slug, name); });
  }).catch((error) => {
    /* A store without its mark is no copy. */
    return caches.delete(name).then(() => { throw error; });
  });
}
function drop(/** @type {string} */ slug, /** @type {string} */ but) {
  return caches.keys().then((keys) => {
    return Promise.all(keys.filter((k) => { return k.indexOf(PREFIX + slug + " ") === 0 && k !== but; })
      .map((k) => { return caches.delete(k); }));
  });
}
me.addEventListener("message", (e) => {
  if (!e.data || !e.data.keep) return;
  e.waitUntil(keep(e.data.keep).then(() => { return { kept: true }; }, (error) => {
    return { kept: false, full: error.name === "QuotaExceededError" };
  }).then((said) => {
    if (e.ports[0]) e.ports[0].postMessage(said);
    return said.kept ? wholeIndex() : null;
  }));
});

/* Whatever is kept of an address. Stores come in the order they were made, so that a whole copy stands in front of a newer one
   that is still being filled. */
function kept(/** @type {string} */ url) {
  return caches.keys().then((keys) => {
    return keys.filter((k) => { return k.indexOf(PREFIX) === 0; }).reduce((before, key) => {
      return before.then((found) => {
        return found || caches.open(key).then((store) => { return store.match(url); });
      });
    }, /** @type {Promise<Response | undefined>} */ (Promise.resolve(undefined)));
  });
}
/* A kept page says so in its first tag, where its script reads it. */
function marked(/** @type {Response} */ page) {
  return page.text().then((html) => {
    return new Response(html.replace("<html ", "<html data-kept "), { headers: { "content-type": "text/html; charset=utf-8" } });
  });
}
/* Pages come from the network, so that nobody reads an old one while the new one can be had. */
function navigate(/** @type {Request} */ request) {
  const url = plain(request.url);
  const online = fetch(request).then((r) => {
    if (r.status >= 500) throw new Error(String(r.status));
    return r;
  });
  return kept(url).then((copy) => {
    if (!copy) {
      return online.catch(() => {
        return kept(scope + "kept.html").then((page) => {
          return page ? Response.redirect(scope + "kept.html?missed") : Response.error();
        });
      });
    }
    return new Promise((done) => {
      const wait = setTimeout(() => { done(marked(copy.clone())); }, PATIENCE);
      online.then((r) => { clearTimeout(wait); done(r); }, () => { clearTimeout(wait); done(marked(copy)); });
    });
  });
}
/* A picture in another width is better than none. */
function another(/** @type {string} */ url) {
  const stem = url.replace(/-\d+\.jpg$/, "-");
  if (stem === url) return Promise.resolve(undefined);
  return caches.keys().then((keys) => {
    return Promise.all(keys.filter((k) => { return k.indexOf(PREFIX) === 0; }).map((k) => {
      return caches.open(k).then((store) => { return store.keys().then((all) => {
        const near = all.filter((r) => { return r.url.indexOf(stem) === 0 && /^\d+\.jpg$/.test(r.url.slice(stem.length)); })[0];
        return near && store.match(near);
      }); });
    }));
  }).then((found) => { return found.filter(Boolean)[0]; });
}
/* Pieces of the search index that a query has loaded. Each has the mark of its index in its address and stays right as long as that
   is the newest; the first piece has none, says the mark, and comes from the network while there is one. */
function piece(/** @type {Request} */ request) {
  return caches.open(SEARCH).then((store) => {
    return /\?v=/.test(request.url) ? store.match(request).then((copy) => { return copy || filed(store, request); })
      : filed(store, request).catch((error) => {
        return store.match(request).then((copy) => { if (copy) return copy; throw error; });
      });
  });
}
function filed(/** @type {Cache} */ store, /** @type {Request} */ request) {
  return fetch(request).then((r) => {
    if (!r.ok) throw new Error(String(r.status));
    const copy = r.clone();
    return (/\?v=/.test(request.url) ? store.put(request, copy) : copy.clone().text().then((text) => {
      const mark = /"mark":"(\w+)"/.exec(text);
      return store.keys().then((all) => {
        return Promise.all(all.filter((old) => { return !mark || old.url.slice(-mark[1].length) !== mark[1]; }).map((old) => { return store.delete(old); }));
      }).then(() => { return store.put(request, copy); });
    })).catch(() => { /* no room: it is searched all the same */ }).then(() => { return r; });
  });
}
/* Keeps all pieces of a small index, so that the words of kept procedures are found without a network although nobody searched for
   them before. Its head says how large it is and, piece by piece, what there is. A last entry says that all of it is here. */
function wholeIndex() {
  const folder = scope + "search/";
  return caches.open(SEARCH).then((store) => {
    return filed(store, new Request(folder + "index.js", { cache: "no-cache" })).then((r) => { return r.text(); }).then((text) => {
      const head = JSON.parse(text.slice(text.indexOf("{"), text.lastIndexOf("}") + 1)), mark = "?v=" + head.mark;
      /** @type {string[]} */
      const names = [];
      if (!(head.bytes <= WHOLE)) return null;
      ["t", "b", "f", "r", "g"].forEach((kind) => {
        for (let n = 0; n < (kind === "g" ? head.g : head[kind].length); n++) names.push(kind + n + ".js");
      });
      return Promise.all(names.map((name) => { return piece(new Request(folder + name + mark)); }))
        .then(() => { return Promise.all(names.map((name) => { return store.match(folder + name + mark); })); })
        .then((all) => { return all.every(Boolean) ? store.put(folder + "whole" + mark, new Response("")) : null; });
    });
  }).catch(() => { /* no network or no room: what was searched for is found, as before */ });
}
/* Whether a procedure is kept. */
function anyKept() {
  return caches.keys().then((keys) => {
    return keys.some((k) => { return k.indexOf(PREFIX) === 0 && k !== SHELL && k !== SEARCH; });
  });
}
me.addEventListener("fetch", (e) => {
  const request = e.request, url = plain(request.url);
  if (request.method !== "GET" || url.indexOf(scope) !== 0) return;
  if (request.mode === "navigate") {
    e.respondWith(navigate(request));
    if (url === scope + "index.html") e.waitUntil(shell().catch(() => { /* no network: the older ones stay */ }));
  } else if (url.indexOf(scope + "assets/") === 0) {
    /* The content is part of the name, so what is kept is right. */
    e.respondWith(kept(url).then((copy) => { return copy || fetch(request); }));
  } else if (url.indexOf(scope + "search/") === 0) {
    const answer = piece(request).catch(() => { return fetch(request); });
    e.respondWith(answer);
    /* A newer head has taken the older pieces away. */
    if (url === scope + "search/index.js") e.waitUntil(answer.then(anyKept).then((any) => { return any ? wholeIndex() : null; }, () => {}));
  } else if (/\.(?:jpg|png|svg)$/.test(url)) {
    e.respondWith(fetch(request).catch((error) => {
      return kept(url).then((copy) => { return copy || another(url); }).then((copy) => {
        if (copy) return copy;
        throw error;
      });
    }));
  }
});
