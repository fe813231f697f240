/* What the page says of the state of the work: what is open on the vehicle, which boxes, values and names are missing. It is counted
   and put into words here; what is shown of it and where is left to bay.js and bay-record.js. */
window.bayleafOpen = (function (page, judge) {
  "use strict";
  var main = page.main, all = page.all, words = page.words, plural = page.plural, shown = page.shown, numberOf = page.numberOf, measuredIn = page.measuredIn;

  /* What is open -------------------------------------------------------------------------------- */
  var accounts = {};
  all("#accounts li").forEach(function (li) {
    accounts[li.getAttribute("data-account")] = { name: li.textContent, state: li.getAttribute("data-state"), connector: li.hasAttribute("data-connector") };
  });
  function moves() {
    var found = [];
    all("[data-moves]").forEach(function (op) {
      op.getAttribute("data-moves").split(" ").forEach(function (m) {
        var read = /^([+-])(.*?)(?:\*(\d+))?$/.exec(m);
        found.push({ op: op, applies: shown(op), opens: read[1] === "+", account: read[2], count: Number(read[3] || 1) });
      });
    });
    return found;
  }
  /* How many are open by what is ticked of these moves. */
  function leftBy(list, ticks) {
    var left = {};
    list.forEach(function (m) {
      if (!ticks[m.op.getAttribute("data-op")]) return;
      var before = left[m.account] || 0;
      /* What lies off the vehicle lies there as a whole; bolts are loosened and done up in several places. */
      var count = /^loosen\//.test(m.account) ? before + (m.opens ? m.count : -m.count) : m.opens ? m.count : 0;
      if (count > 0) left[m.account] = count;
      else delete left[m.account];
    });
    return left;
  }
  function now(state) {
    var ticks = state.ticks, every = moves(), list = every.filter(function (m) { return m.applies; }), left = leftBy(list, ticks), whole = leftBy(every, ticks), open = [];
    Object.keys(accounts).forEach(function (a) {
      var thing = accounts[a], own = list.filter(function (m) { return !m.opens && m.account === a; });
      var tell = function (count, closes, stray) { open.push({ name: thing.name, state: thing.state, connector: thing.connector, count: count, closes: closes, stray: stray }); };
      /* What nothing on this vehicle closes again is no work left over. */
      if (left[a] && own.length) {
        var closing = own.filter(function (m) { return !ticks[m.op.getAttribute("data-op")]; })[0];
        tell(left[a], closing ? closing.op.closest(".step") : null, false);
      }
      var rest = (whole[a] || 0) - (left[a] || 0);
      if (rest > 0) tell(rest, null, true);
    });
    return open;
  }
  function summary(list) {
    var count = function (some) { return some.reduce(function (sum, o) { return sum + o.count; }, 0); };
    var plugs = count(list.filter(function (o) { return o.connector; })), rest = count(list) - plugs;
    var states = list.filter(function (o) { return !o.connector; }).map(function (o) { return o.state; });
    var one = states.length && states.every(function (s) { return s === states[0]; }) ? states[0] : "open";
    return (plugs ? plural(plugs, "connector") + " still unplugged" + (rest ? ", " + rest + " more " + one : "") : rest + " still " + one);
  }
  function line(o) { return "Still " + o.state + ": " + (o.count > 1 ? o.count + " × " : "") + o.name + (o.stray ? ", in a step that does not apply any more" : ""); }

  /* What is missing ----------------------------------------------------------------------------- */
  function unticked(step) {
    return all("input[data-tick]", step).filter(function (box) { return shown(box) && !box.checked; }).length;
  }
  /* What an operation tightens, and where. */
  function tightened(dl) {
    var dd = dl.querySelector("dd.do"), things = Array.prototype.filter.call(dd.childNodes, function (n) { return n.nodeType === 3; }).map(function (n) { return n.data; }).join(" ");
    return [things.replace(/\s+/g, " ").trim()].concat(all(".hw,.how", dd).map(words)).filter(Boolean).join(", ");
  }
  /* What the clock of a wait still shows. */
  function minutesLeft(state, step) {
    var wait = state.waits[step];
    return wait ? Math.max(0, Math.ceil((wait.ended - Date.now()) / 60000)) : 0;
  }
  /* The first stop before a step, or before the end, that applies and that nobody signed. */
  function stopBefore(step, state) {
    var before = all(".step").filter(shown);
    if (step) before = before.slice(0, before.indexOf(step));
    return before.filter(function (s) { return s.querySelector(".stop") && !(state.holds[s.id] || "").trim(); })[0] || null;
  }
  /* The entries that are not as asked for although somebody noted why. */
  function off(state) {
    var found = [];
    all("[data-op]").filter(shown).forEach(function (dl) {
      var step = numberOf(dl.closest(".step"));
      measuredIn(dl).forEach(function (m) {
        var read = state.measured[m.key];
        if (read && !judge.measured(read.measured, m.dd).ok) found.push(step);
      });
      var tq = dl.querySelector(".tq"), given = state.torques[dl.getAttribute("data-op")];
      if (tq && given && !judge.torque(given.applied, tq).ok) found.push(step);
    });
    return found;
  }
  /* The head of a record that lacks nothing, as the command prints it. */
  function complete(state) {
    var at = off(state), steps = at.filter(function (s, i) { return at.indexOf(s) === i; });
    return "Complete" + (at.length ? ", with " + plural(at.length, "value") + " not as asked for (" + (steps.length === 1 ? "step " : "steps ") + steps.join(", ") + ")" : "");
  }
  function gapsOf(step, state) {
    var gaps = [], tell = function (text) { gaps.push({ key: step.id, text: "Step " + numberOf(step) + ": " + text }); };
    var left = unticked(step), stop = step.querySelector(".stop");
    if (left) tell(plural(left, "box", "boxes") + " not ticked");
    var wait = state.waits[step.id];
    if (wait && state.ticks[step.id + "/wait"] && !(wait.ticked >= wait.ended)) tell("the wait was ticked before its clock ran out");
    if (stop && !(state.holds[step.id] || "").trim()) tell(stop.getAttribute("data-who") + " has not signed at the stop");
    all("[data-op]", step).filter(shown).forEach(function (dl) {
      var told = function (what, given, found) { if (!found.ok && !(given.note || "").trim()) tell(what + ": " + found.gap); };
      measuredIn(dl).forEach(function (m) {
        var read = state.measured[m.key];
        if (!read) tell(m.name + " is not entered"); else told(m.name, read, judge.measured(read.measured, m.dd));
      });
      var tq = dl.querySelector(".tq"), given = state.torques[dl.getAttribute("data-op")];
      if (!tq) return;
      if (!given) tell("no torque entered for " + tightened(dl)); else told(tightened(dl), given, judge.torque(given.applied, tq));
    });
    return gaps;
  }
  /* What is missing or still open, in the words and the order of the command that prints the record. */
  function missing(state) {
    var list = now(state).map(function (o) { return { key: o.closes && o.closes.id, text: line(o) + (o.closes ? ", see step " + numberOf(o.closes) : "") }; });
    var boxes = function (place, key, box) { var left = box ? unticked(box) : 0; if (left) list.push({ key: key, text: place + ": " + plural(left, "box", "boxes") + " not ticked" }); };
    boxes("Before you start", "start", main.querySelector(".r-before"));
    all(".step").filter(shown).forEach(function (step) { list = list.concat(gapsOf(step, state)); });
    all(".tail").forEach(function (t) { if (t.querySelector("#final-checks")) boxes("Final checks", "end", t); });
    var applies = {};
    all("[data-op]").filter(shown).forEach(function (dl) { applies[dl.getAttribute("data-op")] = true; });
    var stray = function (entry, op) { if (!applies[op]) list.push({ text: entry + " is entered for “" + op + "”, which does not apply to this vehicle" }); };
    Object.keys(state.torques).sort().forEach(function (op) { stray(state.torques[op].applied, op); });
    Object.keys(state.measured).sort().forEach(function (key) { stray(state.measured[key].measured, key.slice(0, key.lastIndexOf("#"))); });
    [["registration", "registration"], ["technician", "technician’s name"]].forEach(function (f) { if (!(state.order[f[0]] || "").trim()) list.push({ key: "start", text: "The " + f[1] + " is missing" }); });
    if (!state.signed.technician) list.push({ key: "record", text: "The technician has not signed" });
    return list;
  }

  return { now: now, summary: summary, line: line, unticked: unticked, gapsOf: gapsOf, missing: missing, minutesLeft: minutesLeft, stopBefore: stopBefore, complete: complete };
})(window.bayleafPage, window.bayleafJudge);
