/* The guide's page as the bay view reads it, and the making of the elements that are added to it. What is read says nothing of the
   work: what was entered is judged by bay-judge.js, what is left to do is counted by bay-open.js. */
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
    /* What stands on lines of its own is told with commas between. */
    all(".hw,.how", copy).forEach(function (x) { if (x.previousSibling && x.previousSibling.textContent.trim()) x.insertBefore(document.createTextNode(", "), x.firstChild); });
    return copy.textContent.replace(/\s+/g, " ").trim();
  };
  /* A value as it leads on the page, the other units in brackets. */
  function value(val) {
    var both = [".m", ".u"].map(function (css) { return val.querySelector(css); }).filter(Boolean).map(words);
    if (document.documentElement.getAttribute("data-first") === "imperial") both.reverse();
    /* A limit is said once for both. */
    var bound = /^(max|min)\. /.exec(both[0]), second = both[1] && bound && both[1].indexOf(bound[0]) === 0 ? both[1].slice(bound[0].length) : both[1];
    return both[0] + (second ? " (" + second + ")" : "");
  }
  var plural = function (n, one, more) { return n + " " + (n === 1 ? one : more || one + "s"); };
  var shown = function (el) { return !el.closest("[hidden]"); };
  var numberOf = function (step) { return step.querySelector(".ball").textContent; };
  /* The values of an operation that are read off and entered. */
  var measuredIn = function (dl) {
    return all("[data-reads]", dl).map(function (dd) {
      /* The record counts all values of the operation, as the guide does. */
      var name = dd.previousElementSibling, at = all("dt.sp", dl).indexOf(name) + 1;
      return { dd: dd, name: words(name), key: dl.getAttribute("data-op") + "#" + at };
    });
  };

  return { main: main, all: all, make: make, button: button, words: words, value: value, plural: plural, shown: shown, numberOf: numberOf, measuredIn: measuredIn };
})();
