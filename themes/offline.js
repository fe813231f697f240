/* Lets a procedure be kept on this device. Only from a server: from a folder everything is here already. What is said
   about kept copies stands in kept.js, which is loaded when there is something to say. */
(function () {
  "use strict";
  if (!/^https?:$/.test(location.protocol)) return;
  const me = /** @type {HTMLScriptElement} */ (document.currentScript), root = document.documentElement;
  const base = new URL(root.getAttribute("data-root") || "./", location.href).href;
  const link = document.createElement("link");
  link.rel = "manifest";
  link.href = base + "manifest.webmanifest";
  document.head.append(link);
  const main = document.querySelector("main"), worker = navigator.serviceWorker;
  if (!worker || !window.caches || !main) return;
  const data = main.dataset;
  /** @type {BayleafKept} */
  const us = window.bayleafKept = {
    base, main, data,
    keep: function (revision, print) {
      return worker.ready.then((r) => new Promise((done) => {
          const line = new MessageChannel();
          line.port1.onmessage = function (e) { done(e.data); };
          /** @type {ServiceWorker} */ (r.active).postMessage({ keep: { slug: data.guide, title: data.title, document: data.document, revision, print } }, [line.port2]);
        }));
    }
  };
  function more() {
    if (us.check) return us.check();
    if (us.asked) return;
    us.asked = true;
    const s = document.createElement("script");
    s.src = me.dataset.more || "";
    document.head.append(s);
  }
  worker.register(base + "worker.js", { scope: base }).catch(() => { /* refused: nothing is kept */ });
  if (root.hasAttribute("data-kept") || document.getElementById("kept")) more();
  if (!data.guide) return;
  if (!root.hasAttribute("data-kept")) {
    us.keep(data.revision, data.print).then((said) => { if (said.full) { us.full = true; more(); } });
  }
  window.addEventListener("online", more);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) more(); });
})();
