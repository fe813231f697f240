window.bayleafPage = (function () {
"use strict";
var main = document.getElementById("sheet");
var all = function (css, of) { return Array.prototype.slice.call((of || main).querySelectorAll(css)); };
function make(tag, attributes, parts) {
var el = document.createElement(tag);
Object.keys(attributes || {}).forEach(function (k) {
if (k === "text") el.textContent = attributes[k]; else if (attributes[k] !== null) el.setAttribute(k, attributes[k]);
});
(parts || []).forEach(function (p) { el.appendChild(typeof p === "string" ? document.createTextNode(p) : p); });
return el;
}
function button(text, kind, act) {
var b = make("button", { type: "button", "class": kind, text: text });
b.addEventListener("click", act);
return b;
}
var words = function (el) {
var copy = el.cloneNode(true);
all(".opt,svg,input,.box", copy).forEach(function (x) { x.remove(); });
all(".hw,.how", copy).forEach(function (x) { if (x.previousSibling && x.previousSibling.textContent.trim()) x.insertBefore(document.createTextNode(", "), x.firstChild); });
return copy.textContent.replace(/\s+/g, " ").trim();
};
function value(val) {
var both = [".m", ".u"].map(function (css) { return val.querySelector(css); }).filter(Boolean).map(words);
if (document.documentElement.getAttribute("data-first") === "imperial") both.reverse();
return both[0] + (both[1] ? " (" + both[1] + ")" : "");
}
var plural = function (n, one, more) { return n + " " + (n === 1 ? one : more || one + "s"); };
var shown = function (el) { return !el.closest("[hidden]"); };
var numberOf = function (step) { return step.querySelector(".ball").textContent; };
var measuredIn = function (dl) {
return all("[data-reads]", dl).map(function (dd) {
var name = dd.previousElementSibling, at = all("dt.sp", dl).indexOf(name) + 1;
return { dd: dd, name: words(name), key: dl.getAttribute("data-op") + "#" + at };
});
};

return { main: main, all: all, make: make, button: button, words: words, value: value, plural: plural, shown: shown, numberOf: numberOf, measuredIn: measuredIn };
})();
