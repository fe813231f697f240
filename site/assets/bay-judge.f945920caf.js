window.bayleafJudge = (function (page, units) {
"use strict";
function bounds(dd) {
return (dd.getAttribute("data-bounds") || dd.getAttribute("data-reads") || "").split("|").filter(Boolean).map(function (r) {
var part = r.split(";"), number = function (text) { return text === "" ? null : Number(text); };
return { unit: part[0], low: number(part[1]), high: number(part[2]) };
});
}
function offWords(text, off, asked) { return text + " is " + off + " what is asked for, " + asked + ", and no note says why"; }

function unitOf(text) {
var plain = text.toLowerCase().replace(/[·⋅.\-\s\/]/g, "");
for (var i = 0; i < units.length; i++) if ((" " + units[i][2] + " ").indexOf(" " + plain + " ") >= 0) return units[i];
return null;
}
function torque(text, tq) {
var none = "“" + text + "” is not a torque; it takes a number and its unit, such as 45 N·m";
if (/\d\s*(?:[-–]|to|\.\.)\s*\d/.test(text)) return { ok: false, say: "“" + text + "” is a range. Enter the one torque that was applied.", gap: none };
var read = /^\s*(\d+(?:[.,]\d+)?)\s*(.*?)\s*$/.exec(text.replace(/\s*\+\s*\d+(?:[.,]\d+)?\s*(?:°|deg(?:rees)?)\s*$/, ""));
if (!read) return { ok: false, say: "“" + text + "” is not a torque. Enter a number and its unit, such as 45 N·m.", gap: none };
var unit = unitOf(read[2]);
if (!unit) return { ok: false, say: read[2] ? "“" + read[2] + "” is no unit of torque. Enter N·m, lb·ft or lb·in." : "The unit is missing. Enter N·m, lb·ft or lb·in.", gap: none };
var number = Number(read[1].replace(",", ".")), moment = number * unit[1];
var low = tq.getAttribute("data-low"), high = tq.getAttribute("data-high");
if (low === null && high === null) return { ok: false, say: "The guide gives no torque that this can be checked against.", gap: "the guide gives no torque that this can be checked against" };
var list = bounds(tq);
var side = function (x, in_) {
var printed = list.filter(function (b) { return b.unit === in_[0]; })[0], own = printed || { low: low, high: high }, y = printed ? x : x * in_[1];
return own.low !== null && y < Number(own.low) - 1e-6 ? "below" : own.high !== null && y > Number(own.high) + 1e-6 ? "above" : "";
};
var off = side(number, unit), asked = page.value(tq.querySelector(".val"));
if (!off) return { ok: true, say: "As asked for." };
var say = read[1] + "\u00a0" + unit[0] + (unit[1] === 1 ? " is " : " is " + Number(moment.toPrecision(3)) + "\u00a0N·m, ") + off + " what is asked for: " + asked + ".";
var other = units.filter(function (u) { return u !== unit && /^(N·m|lb·ft|lb·in)$/.test(u[0]) && !side(number, u); })[0];
return { ok: false, say: say + (other ? " In " + other[0] + " it would be right: look at the unit." : ""), then: " Stop and put it right, or say below why it stays.", gap: offWords(text, off, asked) };
}

function measured(text, dd) {
var read = /^\s*([-\u2212]?\d+(?:[.,]\d+)?)\s*(.*?)\s*$/.exec(text), list = bounds(dd), names = list.map(function (r) { return r.unit; }).join(" or ");
var found = read && list.filter(function (r) { return r.unit === read[2]; })[0];
if (!found) return { ok: false, say: "“" + text + "” is not a number with its unit, " + names + ".", gap: "“" + text + "” is not a number with its unit, " + names };
var number = Number(read[1].replace(",", ".").replace("\u2212", "-"));
var side = found.low !== null && number < found.low - 1e-6 ? "below" : found.high !== null && number > found.high + 1e-6 ? "above" : "";
var asked = page.value(dd.querySelector(".val"));
if (side) return { ok: false, say: text + " is " + side + " what is asked for: " + asked + ".", then: " Stop and put it right, or say below why it stays.", gap: offWords(text, side, asked) };
return { ok: true, say: "As asked for." };
}

function unitsOf(dd) { return bounds(dd).map(function (b) { return b.unit; }); }
function band(dd, chosen, text) {
var given = /^\s*[-\u2212]?\d+(?:[.,]\d+)?\s*([^\d\s+][^+]*?)\s*(?:\+.*)?$/.exec(text || ""), torque = dd.classList.contains("tq");
var typed = given && (torque ? (unitOf(given[1]) || [])[0] : given[1]), unit = typed || chosen;
var list = bounds(dd), own = list.filter(function (b) { return b.unit === unit; })[0];
if (own) return within(own.low, own.high, unit);
var known = torque && units.filter(function (u) { return u[0] === unit; })[0];
if (known) return within(inward(dd.getAttribute("data-low"), known[1], Math.ceil), inward(dd.getAttribute("data-high"), known[1], Math.floor), unit);
return list[0] ? within(list[0].low, list[0].high, list[0].unit) : "";
}
function inward(newtonMetres, factor, round) {
if (newtonMetres === null) return null;
var x = Number(newtonMetres) / factor, places = Math.min(6, Math.max(0, 3 - Math.floor(Math.log(Math.abs(x) || 1) / Math.LN10)));
return Number((round(x * Math.pow(10, places)) / Math.pow(10, places)).toFixed(places));
}
function within(low, high, unit) {
if (low === null && high === null) return "";
return "Counts as asked for: " + (low === null ? "up to " + high : high === null ? "from " + low : low === high ? low : low + " to " + high) + "\u00a0" + unit;
}

return { torque: torque, measured: measured, unitsOf: unitsOf, band: band };
})(window.bayleafPage, window.bayleafUnits || []);
