(function () {
"use strict";
var root = document.documentElement;
var base = root.getAttribute("data-root") || "";

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

document.querySelectorAll("button[data-print]").forEach(function (b) {
b.addEventListener("click", function () { window.print(); });
});

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
var pan = document.createElement("div");
pan.className = "pan";
pan.tabIndex = 0;
pan.setAttribute("role", "region");
pan.setAttribute("aria-label", "Picture");
pan.append(pic);
d.append(b, pan);
if (list) d.append(list.cloneNode(true));
d.addEventListener("click", function (e2) { if (e2.target === b || e2.target === d) d.close(); });
d.addEventListener("close", function () { d.remove(); a.focus(); });
document.body.append(d);
d.showModal();
pan.scrollLeft = (pan.scrollWidth - pan.clientWidth) / 2;
});

var bay = document.getElementById("bay");
if (bay) {
var sources = bay.getAttribute("data-js").split(" ");
var link = function (rel, href) {
var l = document.createElement("link");
l.rel = rel;
if (rel === "preload") l.as = "script";
l.href = href;
return document.head.appendChild(l);
};
var load = function () {
if (!sources.length) { window.bayleafBay(); return; }
var s = document.createElement("script");
s.src = sources[0];
s.onload = function () { sources.shift(); load(); };
s.onerror = function () { s.remove(); bay.disabled = false; bay.textContent = "Bay view cannot be loaded"; };
document.head.appendChild(s);
};
var openBay = function () {
if (window.bayleafBay) { window.bayleafBay(); return; }
bay.disabled = true;
sources.forEach(function (src) { link("preload", src); });
var style = link("stylesheet", bay.getAttribute("data-css"));
style.onload = style.onerror = load;
};
var WORK = "bayleaf.work:" + location.pathname.replace(/[^/]*$/, "");
var name = function () {
try {
var kept = JSON.parse(localStorage.getItem(WORK));
bay.textContent = kept && kept.touched ? "Continue in the bay view" : "Bay view";
} catch (e) { /* nothing can be kept here */ }
};
name();
window.addEventListener("storage", function (e) { if (e.key === WORK || e.key === null) name(); });
bay.addEventListener("click", openBay);
if (/[?&]bay\b/.test(location.search)) openBay();
}


var field = document.getElementById("q");
if (!field) return;
var awake = false;
function wake() {
if (awake) return;
awake = true;
var s = document.createElement("script");
s.src = field.form.getAttribute("data-script");
s.onerror = function () {
awake = false;
document.getElementById("said").textContent = "Search could not be loaded. Its script belongs in the folder “assets” beside the pages.";
};
document.head.appendChild(s);
}
field.addEventListener("focus", wake);
document.addEventListener("keydown", function (e) {
if (e.key !== "/" || e.ctrlKey || e.metaKey || e.altKey) return;
if (/^(INPUT|SELECT|TEXTAREA)$/.test(e.target.tagName) && e.target.type !== "radio") return;
e.preventDefault();
field.focus();
field.select();
});
field.form.addEventListener("submit", function (e) { e.preventDefault(); });

var given = /[?&]q=([^&]*)/.exec(location.search);
if (given) {
try { field.value = decodeURIComponent(given[1].replace(/\+/g, " ")); } catch (e) { /* not text */ }
if (field.value) field.focus();
}
if (field.value || document.activeElement === field) wake();
})();
