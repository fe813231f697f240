/* Keeps the procedures that somebody opened, so that they can be read without a network. It stands at the root of the
   site and knows nothing but the site's own folder. Each procedure is kept whole in a store of its own, named after
   its folder and fingerprint, so that page, sheets and pictures are always of one state. */
"use strict";

var scope = self.registration.scope;
var PREFIX = "bayleaf " + scope + " ";
var SHELL = PREFIX + "shell";
var SEARCH = PREFIX + "search";
var WHOLE = 400000; /* A search index of no more bytes is kept whole as soon as a procedure is kept. */
var PATIENCE = 4000; /* How long a slow network may take before the kept copy is shown, in milliseconds. */

self.addEventListener("install", function (e) {
  e.waitUntil(shell().then(function () { return self.skipWaiting(); }));
});
self.addEventListener("activate", function (e) { e.waitUntil(self.clients.claim()); });

/* An address without what stands behind ? and #; a folder stands for its index. */
function plain(url) {
  var path = url.split(/[?#]/)[0];
  return /\/$/.test(path) ? path + "index.html" : path;
}
function fresh(url) {
  return fetch(url, { cache: "no-cache" }).then(function (r) {
    if (!r.ok || r.type !== "basic") throw new Error(r.status + " " + url);
    return r;
  });
}
/* The styles, scripts and pictures that a page names. Of a picture's widths the middle one is kept. */
function named(html, page) {
  var found = [], tag = /<(?:link|script|img)\b[^>]*>/g, m;
  function add(value) {
    var url = new URL(value.replace(/&amp;/g, "&"), page).href;
    if (url.indexOf(scope) === 0 && found.indexOf(url) < 0) found.push(url);
  }
  while ((m = tag.exec(html))) {
    if (/^<link/.test(m[0]) && !/rel="(?:stylesheet|icon)"/.test(m[0])) continue;
    (m[0].match(/\s(?:href|src)="[^"]+"/g) || []).forEach(function (a) { add(a.slice(a.indexOf('"') + 1, -1)); });
  }
  /* Scripts that a page loads later stand in attributes of its elements. */
  (html.match(/\sdata-[a-z]+="[^"]+\.js"/g) || []).forEach(function (a) {
    a.slice(a.indexOf('"') + 1, -1).split(" ").forEach(add);
  });
  return found;
}
/* Fetches a page and all it names. */
function whole(url) {
  return fresh(url).then(function (r) {
    return r.clone().text().then(function (html) {
      return Promise.all(named(html, url).map(function (u) {
        return fresh(u).then(function (got) { return [u, got]; });
      })).then(function (files) { return { html: html, files: files.concat([[url, r]]) }; });
    });
  });
}
function put(name, files) {
  return caches.open(name).then(function (store) {
    return Promise.all(files.map(function (f) { return store.put(f[0], f[1]); }));
  });
}
/* The front page and the list of what is kept, as they are now; what they named before goes. */
function shell() {
  return Promise.all([whole(scope + "index.html"), whole(scope + "kept.html")]).then(function (both) {
    var files = both[0].files.concat(both[1].files), now = files.map(function (f) { return f[0]; });
    return put(SHELL, files).then(function () { return caches.open(SHELL); }).then(function (store) {
      return store.keys().then(function (all) {
        return Promise.all(all.filter(function (r) { return now.indexOf(r.url) < 0; }).map(function (r) { return store.delete(r); }));
      });
    });
  });
}

/* Keeps a procedure. Everything is fetched before anything is stored, so that a network that fails half-way leaves the
   older copy as it was. */
function keep(guide) {
  var folder = scope + "guides/" + guide.slug + "/", name = PREFIX + guide.slug + " " + guide.print;
  var mark = folder + "kept.json";
  return caches.open(name).then(function (store) { return store.match(mark); }).then(function (has) {
    if (has) return null;
    var pages = ["index.html", "torque.html", "checklist-a4.html", "checklist-letter.html"];
    return Promise.all(pages.map(function (p) { return whole(folder + p); })).then(function (all) {
      if (all[0].html.indexOf('data-print="' + guide.print + '"') < 0) throw new Error("changed meanwhile");
      return put(name, [].concat.apply([], all.map(function (one) { return one.files; })));
    }).then(function () {
      guide.kept = new Date().toISOString();
      return put(name, [[mark, new Response(JSON.stringify(guide), { headers: { "content-type": "application/json" } })]]);
    }).then(function () { return drop(guide.slug, name); });
  }).catch(function (error) {
    /* A store without its mark is no copy. */
    return caches.delete(name).then(function () { throw error; });
  });
}
function drop(slug, but) {
  return caches.keys().then(function (keys) {
    return Promise.all(keys.filter(function (k) { return k.indexOf(PREFIX + slug + " ") === 0 && k !== but; })
      .map(function (k) { return caches.delete(k); }));
  });
}
self.addEventListener("message", function (e) {
  if (!e.data || !e.data.keep) return;
  e.waitUntil(keep(e.data.keep).then(function () { return { kept: true }; }, function (error) {
    return { kept: false, full: error.name === "QuotaExceededError" };
  }).then(function (said) {
    if (e.ports[0]) e.ports[0].postMessage(said);
    return said.kept && wholeIndex();
  }));
});

/* Whatever is kept of an address. Stores come in the order they were made, so that a whole copy stands in front of a newer one
   that is still being filled. */
function kept(url) {
  return caches.keys().then(function (keys) {
    return keys.filter(function (k) { return k.indexOf(PREFIX) === 0; }).reduce(function (before, key) {
      return before.then(function (found) {
        return found || caches.open(key).then(function (store) { return store.match(url); });
      });
    }, Promise.resolve(undefined));
  });
}
/* A kept page says so in its first tag, where its script reads it. */
function marked(page) {
  return page.text().then(function (html) {
    return new Response(html.replace("<html ", "<html data-kept "), { headers: { "content-type": "text/html; charset=utf-8" } });
  });
}
/* Pages come from the network, so that nobody reads an old one while the new one can be had. */
function navigate(request) {
  var url = plain(request.url);
  var online = fetch(request).then(function (r) {
    if (r.status >= 500) throw new Error(r.status);
    return r;
  });
  return kept(url).then(function (copy) {
    if (!copy) {
      return online.catch(function () {
        return kept(scope + "kept.html").then(function (page) {
          return page ? Response.redirect(scope + "kept.html?missed") : Response.error();
        });
      });
    }
    return new Promise(function (done) {
      var wait = setTimeout(function () { done(marked(copy.clone())); }, PATIENCE);
      online.then(function (r) { clearTimeout(wait); done(r); }, function () { clearTimeout(wait); done(marked(copy)); });
    });
  });
}
/* A picture in another width is better than none. */
function another(url) {
  var stem = url.replace(/-\d+\.jpg$/, "-");
  if (stem === url) return Promise.resolve(undefined);
  return caches.keys().then(function (keys) {
    return Promise.all(keys.filter(function (k) { return k.indexOf(PREFIX) === 0; }).map(function (k) {
      return caches.open(k).then(function (store) { return store.keys().then(function (all) {
        var near = all.filter(function (r) { return r.url.indexOf(stem) === 0 && /^\d+\.jpg$/.test(r.url.slice(stem.length)); })[0];
        return near && store.match(near);
      }); });
    }));
  }).then(function (found) { return found.filter(Boolean)[0]; });
}
/* Pieces of the search index that a query has loaded. Each has the mark of its index in its address and stays right as long as that
   is the newest; the first piece has none, says the mark, and comes from the network while there is one. */
function piece(request) {
  return caches.open(SEARCH).then(function (store) {
    return /\?v=/.test(request.url) ? store.match(request).then(function (copy) { return copy || filed(store, request); })
      : filed(store, request).catch(function (error) {
        return store.match(request).then(function (copy) { if (copy) return copy; throw error; });
      });
  });
}
function filed(store, request) {
  return fetch(request).then(function (r) {
    if (!r.ok) throw new Error(r.status);
    var copy = r.clone();
    return (/\?v=/.test(request.url) ? store.put(request, copy) : copy.clone().text().then(function (text) {
      var mark = /"mark":"(\w+)"/.exec(text);
      return store.keys().then(function (all) {
        return Promise.all(all.filter(function (old) { return !mark || old.url.slice(-mark[1].length) !== mark[1]; }).map(function (old) { return store.delete(old); }));
      }).then(function () { return store.put(request, copy); });
    })).catch(function () { /* no room: it is searched all the same */ }).then(function () { return r; });
  });
}
/* Keeps all pieces of a small index, so that the words of kept procedures are found without a network although nobody searched for
   them before. Its head says how large it is and, piece by piece, what there is. A last entry says that all of it is here. */
function wholeIndex() {
  var folder = scope + "search/";
  return caches.open(SEARCH).then(function (store) {
    return filed(store, new Request(folder + "index.js", { cache: "no-cache" })).then(function (r) { return r.text(); }).then(function (text) {
      var head = JSON.parse(text.slice(text.indexOf("{"), text.lastIndexOf("}") + 1)), mark = "?v=" + head.mark, names = [];
      if (!(head.bytes <= WHOLE)) return null;
      ["t", "b", "f", "r", "g"].forEach(function (kind) {
        for (var n = 0; n < (kind === "g" ? head.g : head[kind].length); n++) names.push(kind + n + ".js");
      });
      return Promise.all(names.map(function (name) { return piece(new Request(folder + name + mark)); }))
        .then(function () { return Promise.all(names.map(function (name) { return store.match(folder + name + mark); })); })
        .then(function (all) { return all.every(Boolean) && store.put(folder + "whole" + mark, new Response("")); });
    });
  }).catch(function () { /* no network or no room: what was searched for is found, as before */ });
}
/* Whether a procedure is kept. */
function anyKept() {
  return caches.keys().then(function (keys) {
    return keys.some(function (k) { return k.indexOf(PREFIX) === 0 && k !== SHELL && k !== SEARCH; });
  });
}
self.addEventListener("fetch", function (e) {
  var request = e.request, url = plain(request.url);
  if (request.method !== "GET" || url.indexOf(scope) !== 0) return;
  if (request.mode === "navigate") {
    e.respondWith(navigate(request));
    if (url === scope + "index.html") e.waitUntil(shell().catch(function () { /* no network: the older ones stay */ }));
  } else if (url.indexOf(scope + "assets/") === 0) {
    /* The content is part of the name, so what is kept is right. */
    e.respondWith(kept(url).then(function (copy) { return copy || fetch(request); }));
  } else if (url.indexOf(scope + "search/") === 0) {
    var answer = piece(request).catch(function () { return fetch(request); });
    e.respondWith(answer);
    /* A newer head has taken the older pieces away. */
    if (url === scope + "search/index.js") e.waitUntil(answer.then(anyKept).then(function (any) { return any && wholeIndex(); }, function () {}));
  } else if (/\.(?:jpg|png|svg)$/.test(url)) {
    e.respondWith(fetch(request).catch(function (error) {
      return kept(url).then(function (copy) { return copy || another(url); }).then(function (copy) {
        if (copy) return copy;
        throw error;
      });
    }));
  }
});
