window.bayleafBay = (function () {
"use strict";
var root = document.documentElement, main = document.getElementById("sheet"), work = window.bayleafWork;
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
if (root.getAttribute("data-first") === "imperial") both.reverse();
return both[0] + (both[1] ? " (" + both[1] + ")" : "");
}
var plural = function (n, one, more) { return n + " " + (n === 1 ? one : more || one + "s"); };
var shown = function (el) { return !el.closest("[hidden]"); };

var units = window.bayleafUnits || [];
function unitOf(text) {
var plain = text.toLowerCase().replace(/[·⋅.\-\s\/]/g, "");
for (var i = 0; i < units.length; i++) if ((" " + units[i][2] + " ").indexOf(" " + plain + " ") >= 0) return units[i];
return null;
}
function judge(text, tq) {
var read = /^\s*(\d+(?:[.,]\d+)?)\s*(.*?)\s*$/.exec(text);
if (!read) return { ok: false, say: "“" + text + "” is not a torque. Enter a number and its unit, such as 45 N·m." };
var unit = unitOf(read[2]);
if (!unit) return { ok: false, say: read[2] ? "“" + read[2] + "” is no unit of torque. Enter N·m, lb·ft or lb·in." : "The unit is missing. Enter N·m, lb·ft or lb·in." };
var number = Number(read[1].replace(",", ".")), moment = number * unit[1];
var low = tq.getAttribute("data-low"), high = tq.getAttribute("data-high");
if (low === null && high === null) return { ok: false, say: "The guide gives no torque that this can be checked against." };
var within = function (x) { return (low === null || x >= Number(low) - 1e-6) && (high === null || x <= Number(high) + 1e-6); };
if (within(moment)) return { ok: true, say: "As asked for." };
var say = read[1] + "\u00a0" + unit[0] + (unit[1] === 1 ? "" : " is " + Number(moment.toPrecision(3)) + "\u00a0N·m") + ", and "
+ (high !== null && moment > Number(high) ? "above" : "below") + " what is asked for: " + value(tq.querySelector(".val")) + ".";
var other = units.filter(function (u) { return u !== unit && /^(N·m|lb·ft|lb·in)$/.test(u[0]) && within(number * u[1]); })[0];
return { ok: false, say: say + (other ? " In " + other[0] + " it would be right: look at the unit." : " Stop and put it right, or say below why it stays.") };
}

var accounts = {};
all("#accounts li").forEach(function (li) {
accounts[li.getAttribute("data-account")] = { name: li.textContent, state: li.getAttribute("data-state"), connector: li.hasAttribute("data-connector") };
});
function moves() {
var found = [];
all("[data-moves]").filter(shown).forEach(function (op) {
op.getAttribute("data-moves").split(" ").forEach(function (m) {
var read = /^([+-])(.*?)(?:\*(\d+))?$/.exec(m);
found.push({ op: op, opens: read[1] === "+", account: read[2], count: Number(read[3] || 1) });
});
});
return found;
}
function openNow() {
var ticks = work.read().ticks, list = moves(), now = {};
list.forEach(function (m) {
if (!ticks[m.op.getAttribute("data-op")]) return;
if (m.opens) now[m.account] = { count: m.count, from: m.op };
else delete now[m.account];
});
return Object.keys(now).filter(function (a) {
return accounts[a] && list.some(function (m) { return !m.opens && m.account === a; });
}).map(function (a) {
var closing = list.filter(function (m) { return !m.opens && m.account === a && !ticks[m.op.getAttribute("data-op")]; })[0];
return { name: accounts[a].name, state: accounts[a].state, connector: accounts[a].connector, count: now[a].count,
closes: closing ? closing.op.closest(".step") : null };
});
}
function openWords(list) {
var count = function (some) { return some.reduce(function (sum, o) { return sum + o.count; }, 0); };
var plugs = count(list.filter(function (o) { return o.connector; })), rest = count(list) - plugs;
var states = list.filter(function (o) { return !o.connector; }).map(function (o) { return o.state; });
var one = states.length && states.every(function (s) { return s === states[0]; }) ? states[0] : "open";
return (plugs ? plural(plugs, "connector") + " still unplugged" + (rest ? ", " + rest + " more " + one : "") : rest + " still " + one);
}

var built = false, inside = false, at = 0, screens = [], fields = {}, bar, foot, jump, openButton, openPanel, says, recordScreen, orderForm, lock = null, resting = false;
function layScreens() {
var here = screens[at] && screens[at].key;
screens = [{ key: "start", name: "Before you start", parts: all(".deck,.first,.ready").concat(orderForm) }];
all(".step").filter(shown).forEach(function (step) {
screens.push({ key: step.id, name: step.querySelector(".ball").textContent + ". " + step.querySelector("h3 span").textContent, step: step, parts: [step] });
});
var ends = all(".tail").filter(function (t) { return t.querySelector("#final-checks,#follow-up"); });
if (ends.length) screens.push({ key: "end", name: "Final checks", parts: ends });
screens.push({ key: "record", name: "Record", parts: [recordScreen] });
jump.textContent = "";
screens.forEach(function (s, i) { jump.appendChild(make("option", { value: String(i), text: s.name })); });
var again = screens.findIndex(function (s) { return s.key === here; });
at = again < 0 ? Math.min(at, screens.length - 1) : again;
}
function show(to, quiet) {
at = Math.max(0, Math.min(to, screens.length - 1));
all(".now").forEach(function (el) { el.classList.remove("now"); });
if (screens[at].key === "record") fillRecord();
screens[at].parts.forEach(function (el) { el.classList.add("now"); });
jump.value = String(at);
foot.querySelector(".back").disabled = at === 0;
foot.querySelector(".next").disabled = at === screens.length - 1;
say("");
openPanel.hidden = true;
openButton.setAttribute("aria-expanded", "false");
if (quiet) return;
main.scrollTop = 0;
var head = screens[at].parts.map(function (p) { return p.querySelector("h2:not(.unseen),h3"); }).filter(Boolean)[0] || screens[at].parts[0];
head.setAttribute("tabindex", "-1");
head.focus({ preventScroll: true });
if (work.read().touched) work.change(function (s) { s.at = screens[at].key; });
}
function say(text) { says.textContent = text; says.hidden = !text; }
function unticked(step) {
return all("input[data-tick]", step).filter(function (box) { return shown(box) && !box.checked; }).length;
}
function next() {
var step = screens[at].step;
if (step) {
var stop = step.querySelector(".stop input");
if (stop && !stop.value.trim()) {
say("Stop. " + words(step.querySelector(".stop span")) + ". Enter the name here first.");
stop.focus();
return;
}
var left = unticked(step);
show(at + 1);
if (left) say(plural(left, "box", "boxes") + " of step " + step.querySelector(".ball").textContent + " " + (left === 1 ? "is" : "are") + " not ticked.");
return;
}
show(at + 1);
}

function tick(id, label, holder, before) {
var box = make("input", { type: "checkbox", "data-tick": id, "aria-label": label });
var wrap = make("label", { "class": "tick bayed" }, [box]);
holder.insertBefore(wrap, before || holder.firstChild);
box.addEventListener("change", function () { work.change(function (s) { if (box.checked) s.ticks[id] = true; else delete s.ticks[id]; }); });
return box;
}
function field(label, id, value, parse, kind) {
var input = make("input", { type: "text", id: id, autocomplete: "off" });
input.addEventListener("input", function () { work.change(function (s) { parse(s, input.value); }); });
fields[id] = { input: input, value: value };
return make("p", { "class": "bayed entry " + (kind || "") }, [make("label", { "for": id, text: label }), input]);
}
function torqueEntry(dl, tq) {
var id = dl.getAttribute("data-op"), n = "applied-" + id.replace(/[^\w-]/g, "-");
var input = make("input", { type: "text", id: n, inputmode: "decimal", autocomplete: "off", "aria-describedby": n + "-say", maxlength: "40" });
var unit = make("select", { "aria-label": "Unit of the torque applied" }, ["N·m", "lb·ft", "lb·in"].map(function (u) { return make("option", { text: u }); }));
var lead = /(N·m|lb·ft|lb·in)/.exec(value(tq.querySelector(".val")));
if (lead) unit.value = lead[1];
var verdict = make("p", { id: n + "-say", role: "status", "class": "verdict" });
var why = make("input", { type: "text", id: n + "-why", autocomplete: "off" });
var note = make("p", { "class": "entry", hidden: "" }, [make("label", { "for": n + "-why", text: "Why it stays" }), why]);
var hold = function () {
var typed = input.value.trim();
var applied = !typed ? "" : /[^\d\s.,]/.test(typed) ? typed : typed + " " + unit.value;
work.change(function (s) { if (applied) s.torques[id] = { applied: applied, wrench: "", note: why.value }; else delete s.torques[id]; });
};
input.addEventListener("input", hold);
unit.addEventListener("change", hold);
why.addEventListener("input", hold);
var dd = make("dd", { "class": "bayed applied" }, [make("label", { "for": n, text: "Torque applied" }), make("span", { "class": "pair" }, [input, unit]), verdict, note]);
tq.parentNode.insertBefore(dd, tq.nextSibling);
(tq.getAttribute("data-passes") || "").split("|").filter(Boolean).forEach(function (pass, i) {
var line = make("span", { "class": "pass", text: "Pass: " + pass });
var row = make("dd", { "class": "bayed passes" }, [line]);
tick(id + "/pass/" + (i + 1), "Pass done: " + pass, row);
tq.parentNode.insertBefore(row, dd);
});
dl.refresh = function (state) {
var given = state.torques[id];
if (document.activeElement !== input && document.activeElement !== unit) {
var split = given && /^(.*\d)\s+(N·m|lb·ft|lb·in)$/.exec(given.applied);
input.value = split ? split[1] : given ? given.applied : "";
if (split) unit.value = split[2];
}
if (document.activeElement !== why) why.value = given ? given.note || "" : "";
var found = given && judge(given.applied, tq);
verdict.textContent = found ? found.say : "";
dd.classList.toggle("good", !!found && found.ok);
dd.classList.toggle("bad", !!found && !found.ok);
note.hidden = !found || found.ok;
};
}
function list(css, key) {
all(css).forEach(function (ul) {
all("li", ul).forEach(function (li, i) {
var text = words(li);
tick(key(ul) + "/" + (i + 1), text, li);
});
});
}
function build() {
built = true;
jump = make("select", { "aria-label": "Go to" });
jump.addEventListener("change", function () { show(Number(jump.value)); });
bar = make("div", { "class": "bay-bar", role: "region", "aria-label": "Bay view" }, [
make("div", { "class": "name" }, [make("h1", { text: work.guide.title }), " ", make("span", { text: (work.guide.revision ? "rev. " + work.guide.revision + " · " : "") + work.guide.fingerprint })]),
jump, button("Close bay view", "quiet", leave)]);
says = make("p", { "class": "bay-says", role: "alert", hidden: "" });
openPanel = make("ul", { id: "bay-open", hidden: "" });
openButton = button("", "open", function () {
openPanel.hidden = !openPanel.hidden;
openButton.setAttribute("aria-expanded", String(!openPanel.hidden));
});
openButton.setAttribute("aria-controls", "bay-open");
openButton.setAttribute("aria-expanded", "false");
foot = make("div", { "class": "bay-foot", role: "region", "aria-label": "Steps" }, [openPanel, button("Back", "back", function () { show(at - 1); }), openButton, button("Next", "next", next)]);
document.body.insertBefore(bar, main);
document.body.insertBefore(says, main);
document.body.insertBefore(foot, main.nextSibling);

all("[data-op]").forEach(function (dl) {
var what = dl.querySelector("dd.do"), verb = dl.querySelector("dt.do");
tick(dl.getAttribute("data-op"), words(verb) + " " + words(what), verb);
var tq = dl.querySelector(".tq");
if (tq) torqueEntry(dl, tq);
});
list(".step .ticks", function (ul) { return ul.closest(".step").id + "/check"; });
list(".r-before .ticks", function () { return "before"; });
all(".tail").forEach(function (tail) {
var head = tail.querySelector("#final-checks,#follow-up");
if (head) all(".ticks li", tail).forEach(function (li, i) { tick((head.id === "follow-up" ? "follow-up/" : "final/") + (i + 1), words(li), li); });
});
all(".step").forEach(function (step) {
var stop = step.querySelector(".stop");
if (stop) {
stop.appendChild(field("Signed at the stop by", "hold-" + step.id, function (s) { return s.holds[step.id]; }, function (s, v) {
s.holds[step.id] = v;
if (v.trim()) s.ticks[step.id + "/hold"] = true; else delete s.ticks[step.id + "/hold"];
}));
}
step.querySelector(".say").appendChild(field("Note on this step", "note-" + step.id, function (s) { return s.notes[step.id]; }, function (s, v) { s.notes[step.id] = v; }, "note"));
});
orderForm = make("div", { "class": "bayed order" }, [make("h2", { text: "This vehicle" })].concat([["registration", "Registration"], ["vin", "VIN"], ["odometer", "Odometer"], ["technician", "Technician"]].map(function (f) {
return field(f[1], "order-" + f[0], function (s) { return s.order[f[0]]; }, function (s, v) { s.order[f[0]] = v; });
})));
main.appendChild(orderForm);
recordScreen = make("section", { "class": "bayed record", "aria-label": "Record" });
main.appendChild(recordScreen);
work.onchange(function (from) {
if (!inside) return;
if (from === "elsewhere") { takeOptions(); say("The work was changed in another tab. Both show the same now."); }
refresh();
});
document.addEventListener("bayleaf:options", function () {
if (!inside) return;
if (!resting) work.change(function (s) { s.options = window.bayleafOptions.chosen(); });
layScreens();
show(at, true);
refresh();
});
main.addEventListener("click", function (e) {
if (!inside || e.target.closest("a,input,select,label,button,summary,.applied,.passes") || String(getSelection()) !== "") return;
var row = e.target.closest("[data-op]"), box = row && row.querySelector("input[data-tick]");
if (box) box.click();
});
keys();
}
function keys() {
document.addEventListener("keydown", function (e) {
if (!inside || e.ctrlKey || e.metaKey || e.altKey || /^(SELECT|TEXTAREA)$/.test(e.target.tagName) || e.target.type === "text" || e.target.type === "radio") return;
if (e.key === "ArrowRight") next();
else if (e.key === "ArrowLeft") show(at - 1);
else if (e.key === "Escape" && !openPanel.hidden) openButton.click();
else return;
e.preventDefault();
});
var from = null;
main.addEventListener("touchstart", function (e) {
from = e.touches.length === 1 && !e.target.closest("input,select,.wide") ? { x: e.touches[0].clientX, y: e.touches[0].clientY } : null;
}, { passive: true });
main.addEventListener("touchmove", function (e) {
if (!inside || !from || !e.cancelable) return;
if (Math.abs(e.touches[0].clientX - from.x) > Math.abs(e.touches[0].clientY - from.y)) e.preventDefault();
}, { passive: false });
main.addEventListener("touchend", function (e) {
if (!inside || !from) return;
var dx = e.changedTouches[0].clientX - from.x, dy = e.changedTouches[0].clientY - from.y;
if (Math.abs(dx) > 70 && Math.abs(dx) > 2 * Math.abs(dy)) { if (dx < 0) next(); else show(at - 1); }
}, { passive: true });
}

function refresh() {
var state = work.read();
all("input[data-tick]").forEach(function (box) {
box.checked = !!state.ticks[box.getAttribute("data-tick")];
var row = box.closest("[data-op],li,dd.passes");
if (row && box.getAttribute("data-tick").indexOf("/pass/") < 0) row.classList.toggle("done", box.checked);
});
all("[data-op]").forEach(function (dl) { if (dl.refresh) dl.refresh(state); });
Object.keys(fields).forEach(function (id) {
var f = fields[id];
if (document.activeElement !== f.input) f.input.value = f.value(state) || "";
});
var open = openNow();
openButton.textContent = open.length ? openWords(open) : "Nothing open";
openButton.classList.toggle("some", open.length > 0);
openPanel.textContent = "";
open.forEach(function (o) { openPanel.appendChild(openLine(o)); });
if (!open.length) openPanel.appendChild(make("li", { text: "All that was ticked as opened is ticked as closed again." }));
if (work.refusal()) say(work.refusal());
if (screens[at] && screens[at].key === "record" && !recordScreen.contains(document.activeElement)) fillRecord();
}
function openLine(o) {
var li = make("li", {}, [(o.count > 1 ? o.count + " × " : "") + o.name + ": " + o.state]);
if (o.closes) {
var number = o.closes.querySelector(".ball").textContent;
li.appendChild(document.createTextNode(", closed again in "));
li.appendChild(button("step " + number, "link", function () { show(screens.findIndex(function (s) { return s.step === o.closes; })); }));
}
return li;
}

function missing(state) {
var list = [];
all(".step").filter(shown).forEach(function (step) {
var number = step.querySelector(".ball").textContent;
var left = unticked(step);
if (left) list.push({ step: step, text: "Step " + number + ": " + plural(left, "box", "boxes") + " not ticked" });
all("[data-op]", step).filter(shown).forEach(function (dl) {
var tq = dl.querySelector(".tq"), given = state.torques[dl.getAttribute("data-op")];
if (!tq) return;
if (!given) list.push({ step: step, text: "Step " + number + ": no torque entered for " + words(dl.querySelector("dd.do")) });
else if (!judge(given.applied, tq).ok && !given.note) list.push({ step: step, text: "Step " + number + ": " + judge(given.applied, tq).say });
});
});
var ends = all(".tail").filter(function (t) { return t.querySelector("#final-checks"); });
ends.forEach(function (t) { var left = unticked(t); if (left) list.push({ text: "Final checks: " + plural(left, "box", "boxes") + " not ticked" }); });
var before = unticked(main.querySelector(".r-before") || make("p"));
if (before) list.push({ text: "Before you start: " + plural(before, "box", "boxes") + " not ticked" });
[["registration", "registration"], ["technician", "technician’s name"]].forEach(function (f) { if (!(state.order[f[0]] || "").trim()) list.push({ text: "The " + f[1] + " is missing" }); });
return list;
}
function fillRecord() {
var state = work.read(), open = openNow(), gaps = missing(state), box = recordScreen;
box.textContent = "";
var part = function (head, parts) { box.appendChild(make("h2", { "class": "phase", text: head })); parts.forEach(function (p) { box.appendChild(p); }); };
var g = work.guide;
box.appendChild(make("p", { "class": "lead" }, [make("b", { text: g.title }), make("span", { text: [g.document, g.revision && "rev. " + g.revision, g.fingerprint, window.bayleafOptions && window.bayleafOptions.words()].filter(Boolean).join(" · ") })]));
part("Order", [make("dl", { "class": "order-lines" }, [].concat.apply([], [["Registration", "registration"], ["VIN", "vin"], ["Odometer", "odometer"], ["Technician", "technician"], ["Started", "started"]].map(function (f) {
return [make("dt", { text: f[0] }), make("dd", { text: state.order[f[1]] || "–" })];
})))]);
if (open.length) part("Still open", [make("ul", { "class": "gaps" }, open.map(openLine))]);
part(gaps.length ? "Missing" : "Complete", [gaps.length ? make("ul", { "class": "gaps" }, gaps.map(function (gap) {
var li = make("li", { text: gap.text });
if (gap.step) li.appendChild(button("Go there", "link there", function () { show(screens.findIndex(function (s) { return s.step === gap.step; })); }));
return li;
})) : make("p", { text: "Every box that applies is ticked, and every torque is entered." })]);
var rows = all("[data-op]").filter(function (dl) { return shown(dl) && dl.querySelector(".tq"); }).map(function (dl) {
var given = state.torques[dl.getAttribute("data-op")], tq = dl.querySelector(".tq"), found = given && judge(given.applied, tq);
return make("tr", {}, [make("td", { text: dl.closest(".step").querySelector(".ball").textContent }), make("th", { scope: "row", text: words(dl.querySelector("dd.do")) }),
make("td", { "data-c": "Asked for", text: value(tq.querySelector(".val")) }), make("td", { "data-c": "Applied", text: given ? given.applied : "not entered" }),
make("td", { "data-c": "", text: !given ? "" : found.ok ? "as asked for" : "not as asked for" + (given.note ? ": " + given.note : "") })]);
});
if (rows.length) part("Torques", [make("div", { "class": "wide", role: "region", "aria-label": "Torques", tabindex: "0" }, [make("table", {}, [
make("thead", {}, [make("tr", {}, ["Step", "Fastener", "Asked for", "Applied", "Result"].map(function (h) { return make("th", { scope: "col", text: h }); }))]), make("tbody", {}, rows)])])]);
var notes = Object.keys(state.notes).filter(function (s) { return state.notes[s]; }).map(function (s) { return [s, state.notes[s]]; })
.concat(Object.keys(state.holds).filter(function (s) { return state.holds[s]; }).map(function (s) { return [s, "Signed at the stop by " + state.holds[s]]; }));
if (notes.length) part("Notes", [make("ul", {}, notes.map(function (n) {
var step = document.getElementById(n[0]);
return make("li", { text: (step && step.querySelector(".ball") ? "Step " + step.querySelector(".ball").textContent : n[0]) + ": " + n[1] });
}))]);
var sign = function (who, text) {
var check = make("input", { type: "checkbox", "aria-label": text });
check.checked = !!state.signed[who];
check.addEventListener("change", function () { work.change(function (s) { s.signed[who] = check.checked; }); });
return make("p", { "class": "sign" }, [make("label", {}, [check, make("span", { text: text })]), make("span", { "class": "line", text: "Signature, date" })]);
};
part("Signed off", [sign("technician", "Technician: every row that applies is ticked, and every value was applied as written."),
field("Inspector", "order-inspector", function (s) { return s.order.inspector; }, function (s, v) { s.order.inspector = v; }), sign("inspector", "Inspector: the work is checked.")]);
fields["order-inspector"].input.value = state.order.inspector || "";
var told = make("p", { role: "status", "class": "answered" }), pick = make("input", { type: "file", accept: ".json,application/json", id: "record-file", "class": "unseen" });
pick.addEventListener("change", function () { if (pick.files[0]) openFile(pick.files[0], told); });
var opener = make("label", { "for": "record-file", "class": "btn", text: "Open a saved record" });
box.appendChild(make("div", { "class": "acts" }, [button("Save the record as a file", "btn main", function () { save(told); }), button("Print the record", "btn", function () { window.print(); }), pick, opener,
button("Clear this device", "btn", function () { askClear(told); })]));
box.appendChild(told);
}
function save(told) {
var state = work.read(), name = ["record", work.guide.slug, (state.order.registration || "").replace(/[^\w-]+/g, ""), state.order.started || ""].filter(Boolean).join("-") + ".json";
var a = make("a", { href: URL.createObjectURL(new Blob([work.file(state)], { type: "application/json" })), download: name });
document.body.appendChild(a);
a.click();
a.remove();
told.textContent = "Saved as " + name + ". It stays on this device too, until it is cleared.";
}
function openFile(file, told) {
var reader = new FileReader();
reader.onload = function () {
var state;
try { state = work.open(String(reader.result)); } catch (e) { told.textContent = e.message + " The work on this device is as it was."; return; }
var take = function () { work.take(state); begin(); show(0); };
if (!work.read().touched) { take(); return; }
ask(told, "There is work on this device already. Put the record in its place?", "Put it in its place", take);
};
reader.onerror = function () { told.textContent = "The file cannot be read."; };
reader.readAsText(file);
}
function ask(told, question, yes, act) {
told.textContent = question + " ";
told.appendChild(button(yes, "btn", act));
told.appendChild(button("Keep what is here", "btn", function () { told.textContent = ""; }));
}
function askClear(told) {
ask(told, "Every tick, torque and note of this guide goes from this device. A saved file stays.", "Clear it", function () { work.clear(); layScreens(); refresh(); show(0); say("The device is cleared."); });
}

function takeOptions() {
var state = work.read();
if (!state.touched || !window.bayleafOptions) return;
resting = true;
window.bayleafOptions.choose(state.options);
resting = false;
}
function begin() {
takeOptions();
layScreens();
refresh();
var old = work.older();
if (!old) return;
var ids = {};
all("input[data-tick]").forEach(function (b) { ids[b.getAttribute("data-tick")] = true; });
var gone = Object.keys(old.ticks).filter(function (t) { return !ids[t] && !/\/hold$/.test(t); });
says.textContent = "This work was begun on " + (old.revision ? "revision " + old.revision + ", " : "") + "fingerprint " + old.fingerprint + ". This page shows "
+ (work.guide.revision ? "revision " + work.guide.revision + ", " : "") + work.guide.fingerprint + ". Look at what changed before you go on. "
+ (gone.length ? plural(gone.length, "tick belongs", "ticks belong") + " to what is no longer in the guide. " : "Every tick still has its place. ");
says.appendChild(button("Save the old record first", "btn", function () { save(make("p")); }));
says.appendChild(button("Go on with this revision", "btn", function () {
work.change(function (s) { s.revision = work.guide.revision; s.fingerprint = work.guide.fingerprint; });
say("");
}));
says.hidden = false;
}
function awake() {
if (!inside || !navigator.wakeLock || document.visibilityState !== "visible") return;
navigator.wakeLock.request("screen").then(function (l) { lock = l; }, function () { /* a low battery may refuse it */ });
}
document.addEventListener("visibilitychange", awake);
function address(on) {
var rest = location.search.slice(1).split("&").filter(function (b) { return b && !/^bay\b/.test(b); }).concat(on ? "bay" : []).join("&");
try { history.replaceState(null, "", location.pathname + (rest ? "?" + rest : "") + location.hash); } catch (e) { /* then a reload shows the guide */ }
}
function leave() {
inside = false;
root.classList.remove("in-bay");
all(".step h3").forEach(function (h) { h.removeAttribute("aria-level"); });
address(false);
if (lock) { lock.release(); lock = null; }
var step = screens[at].step;
document.getElementById("bay").focus({ preventScroll: true });
if (step) step.scrollIntoView();
}
return function enter() {
if (!built) build();
if (inside) return;
inside = true;
var button = document.getElementById("bay");
button.disabled = false;
root.classList.add("in-bay");
all(".step h3").forEach(function (h) { h.setAttribute("aria-level", "2"); });
address(true);
begin();
var last = work.read().at, back = screens.findIndex(function (s) { return s.key === last; });
var note = says.hidden ? "" : null;
var kept = document.createDocumentFragment();
while (says.firstChild) kept.appendChild(says.firstChild);
show(back < 0 ? 0 : back);
if (note === null) { says.appendChild(kept); says.hidden = false; }
awake();
};
})();
