(function () {
"use strict";
if (!/^https?:$/.test(location.protocol)) return;
var me = document.currentScript, root = document.documentElement;
var base = new URL(root.getAttribute("data-root") || "./", location.href).href;
var link = document.createElement("link");
link.rel = "manifest";
link.href = base + "manifest.webmanifest";
document.head.append(link);
var main = document.querySelector("main"), worker = navigator.serviceWorker;
if (!worker || !window.caches || !main) return;
var data = main.dataset;
var us = window.bayleafKept = {
base: base, main: main, data: data,
keep: function (revision, print) {
return worker.ready.then(function (r) {
return new Promise(function (done) {
var line = new MessageChannel();
line.port1.onmessage = function (e) { done(e.data); };
r.active.postMessage({ keep: { slug: data.guide, title: data.title, document: data.document, revision: revision, print: print } }, [line.port2]);
});
});
}
};
function more() {
if (us.check) return us.check();
if (us.asked) return;
us.asked = true;
var s = document.createElement("script");
s.src = me.dataset.more;
document.head.append(s);
}
worker.register(base + "worker.js", { scope: base }).catch(function () { /* refused: nothing is kept */ });
if (root.hasAttribute("data-kept") || document.getElementById("kept")) more();
if (!data.guide) return;
if (!root.hasAttribute("data-kept")) {
us.keep(data.revision, data.print).then(function (said) { if (said.full) { us.full = true; more(); } });
}
window.addEventListener("online", more);
document.addEventListener("visibilitychange", function () { if (!document.hidden) more(); });
})();
