/* The screen of the record: what was asked for and what was done, what is missing, the signatures; and the acts on the whole of the
   work, each of which asks before it takes something away: saving it, opening it, clearing it. The file and its seal are made by
   record.js; where a gap leads and what is shown after an act is left to bay.js, which hands it over in `place`. */
window.bayleafRecord = (function (page, judge, open, entry, work) {
  "use strict";
  var all = page.all, make = page.make, button = page.button, words = page.words, value = page.value, plural = page.plural, shown = page.shown, numberOf = page.numberOf;
  var box, view;

  /* `goTo` shows a screen by its key, `options` says the vehicle's options, `taken` and `cleared` follow upon the work being another. */
  function place(given) {
    view = given;
    box = make("section", { "class": "bayed record", "aria-label": "Record" });
    page.main.appendChild(box);
    return box;
  }
  /* What is not as asked for has a sign and a heavy edge, which paper in black and white shows as well. */
  function outcomeRow(cells, given, found) {
    var off = given && !found.ok, text = !given ? "" : off ? "not as asked for" + (given.note ? ": " + given.note : "") : "as asked for";
    return make("tr", { "class": off ? "off" : null }, cells.concat(make("td", { "data-c": "" }, off ? [make("b", { "class": "sign-off", "aria-hidden": "true", text: "!" }), text] : [text])));
  }
  function table(name, heads, rows) {
    return make("div", { "class": "wide", role: "region", "aria-label": name, tabindex: "0" }, [make("table", {}, [
      make("thead", {}, [make("tr", {}, heads.map(function (h) { return make("th", { scope: "col", text: h }); }))]), make("tbody", {}, rows)])]);
  }
  /* A turn after the torque has its own box, and is told with the torque. */
  function turns(dl, state) {
    return all(".in-passes>span", dl).map(function (pass, i) {
      var text = words(pass);
      return /°/.test(text) ? "; " + text + ": " + (state.ticks[dl.getAttribute("data-op") + "/pass/" + (i + 1)] ? "ticked" : "not ticked") : "";
    }).join("");
  }
  function fill() {
    var state = work.read(), gaps = open.missing(page.sheet(), state);
    var sheet = make("div", { "class": "pages" });
    box.textContent = "";
    var part = function (head, parts) { sheet.appendChild(make("h2", { "class": "phase", text: head })); parts.forEach(function (p) { sheet.appendChild(p); }); };
    var g = work.guide, older = work.older(), papers = [g.document, state.revision && "rev. " + state.revision, state.fingerprint];
    /* Each printed page says at its head what it belongs to. */
    box.appendChild(make("div", { "class": "running", "aria-hidden": "true" }, [make("p", { text: [g.title].concat(papers, state.order.registration).filter(Boolean).join(" · ") })]));
    box.appendChild(sheet);
    sheet.appendChild(make("p", { "class": "lead" }, [make("b", { text: g.title }), make("span", { text: papers.concat(view.options()).filter(Boolean).join(" · ") })]));
    part("Order", [make("dl", { "class": "order-lines" }, [].concat.apply([], [["Order", "order"], ["Registration", "registration"], ["Vehicle", "vehicle"], ["VIN", "vin"], ["Odometer", "odometer"], ["Technician", "technician"], ["Started", "started"], ["Finished", "finished"]].map(function (f) {
      return [make("dt", { text: f[0] }), make("dd", { text: state.order[f[1]] || "–" })];
    }).concat([[make("dt", { text: "Seal begins" }), make("dd", { "class": "seal", text: work.sealOf(state).slice(0, 16) })]])))]);
    var another = older ? [make("p", { "class": "another" }, [make("b", { text: work.another("done to") }), " What is asked for and what is missing below is told by this page, and not by the text that was worked to."])] : [];
    /* Work to another text is never complete by this one. */
    part(gaps.length ? "Missing or still open" : older ? "Done to another revision" : open.complete(page.sheet(), state), another.concat(gaps.length ? make("ul", { "class": "gaps" }, gaps.map(function (gap) {
      var li = make("li", { text: gap.text });
      if (gap.key) li.appendChild(button("Go there", "link there", function () { if (gap.key === "record") box.querySelector(".sign input").focus(); else view.goTo(gap.key); }));
      return li;
    })) : older ? [] : make("p", { text: "Every box that applies is ticked and every value that is asked for is entered." })));
    var rows = all("[data-op]").filter(function (dl) { return shown(dl) && dl.querySelector(".tq"); }).map(function (dl) {
      var given = state.torques[dl.getAttribute("data-op")], tq = dl.querySelector(".tq"), found = given && judge.judge(given.applied, page.field(tq));
      return outcomeRow([make("td", { text: numberOf(dl.closest(".step")) }), make("th", { scope: "row", text: words(dl.querySelector("dd.do")) }),
        make("td", { "data-c": "Asked for", text: value(tq.querySelector(".val")) }), make("td", { "data-c": "Applied", text: (given ? given.applied + (given.wrench ? ", " + given.wrench : "") : "not entered") + turns(dl, state) })], given, found);
    });
    if (rows.length) part("Torques", [table("Torques", ["Step", "Fastener", "Asked for", "Applied", "Result"], rows)]);
    rows = [];
    all("[data-op]").filter(shown).forEach(function (dl) {
      page.measuredIn(dl).forEach(function (m) {
        var given = state.measured[m.key], found = given && judge.judge(given.measured, m.field);
        rows.push(outcomeRow([make("td", { text: numberOf(dl.closest(".step")) }), make("th", { scope: "row", text: m.name }), make("td", { "data-c": "Asked for", text: value(m.dd.querySelector(".val")) }),
          make("td", { "data-c": "Measured", text: given ? given.measured : "not entered" })], given, found));
      });
    });
    if (rows.length) part("Measured", [table("Measured values", ["Step", "Value", "Asked for", "Measured", "Result"], rows)]);
    var notes = Object.keys(state.notes).filter(function (s) { return state.notes[s]; }).map(function (s) { return [s, state.notes[s]]; })
      .concat(Object.keys(state.holds).filter(function (s) { return state.holds[s]; }).map(function (s) { return [s, "Signed at the stop by " + state.holds[s] + (state.heldAt[s] ? ", " + state.heldAt[s] : "")]; }));
    var placed = function (list) {
      return [make("ul", {}, list.map(function (n) {
        var step = document.getElementById(n[0]);
        return make("li", { text: (step && step.querySelector(".ball") ? "Step " + numberOf(step) : n[0]) + ": " + n[1] });
      }))];
    };
    var waits = Object.keys(state.waits).sort().map(function (s) { return [s, "clock from " + work.minute(state.waits[s].started) + " until " + work.minute(state.waits[s].ended)]; });
    if (waits.length) part("Waits", placed(waits));
    if (notes.length) part("Notes", placed(notes));
    var sign = function (who, text) {
      var check = make("input", { type: "checkbox", "aria-label": text, "data-signs": who });
      check.checked = !!state.signed[who];
      var told = make("p", { role: "status", "class": "answered" });
      /* The lists above say who has not signed. */
      var signs = function (yes) {
        work.change(function (s) { s.signed[who] = yes; if (who === "technician") s.order.finished = yes ? work.today() : ""; });
        fill();
        box.querySelector("[data-signs=" + who + "]").focus({ preventScroll: true });
      };
      check.addEventListener("change", function () {
        var left = open.missing(page.sheet(), work.read()).filter(function (gap) { return gap.key !== "record"; }).length;
        told.textContent = "";
        if (!check.checked || !left) { signs(check.checked); return; }
        /* The name stands under what is listed as missing only when somebody says so. */
        check.checked = false;
        ask(told, plural(left, "entry", "entries") + " of the list above " + (left === 1 ? "is" : "are") + " still missing or open. Sign all the same? The record keeps naming " + (left === 1 ? "it." : "them."),
          "Sign with " + left + " missing", function () { signs(true); }, "Do not sign");
      });
      return make("div", {}, [make("p", { "class": "sign" }, [make("label", {}, [check, make("span", { text: text })]), make("span", { "class": "line", text: "Signature, date" })]), told]);
    };
    var inspector = entry.field("Inspector", "order-inspector", function (s) { return s.order.inspector; }, function (s, v) { s.order.inspector = v; });
    inspector.querySelector("input").value = state.order.inspector || "";
    part("Signed off", [sign("technician", "Technician: every row that applies is ticked, and every value was applied as written or is noted."), inspector,
      sign("inspector", "Inspector: the work is checked.")]);
    var told = make("p", { role: "status", "class": "answered" }), pick = make("input", { type: "file", accept: ".json,application/json", id: "record-file", "class": "unseen" });
    pick.addEventListener("change", function () { if (pick.files[0]) openFile(pick.files[0], told); });
    var opener = make("label", { "for": "record-file", "class": "btn", text: "Open a saved record" });
    /* The foot of the page stands outside of what repeats its head, so its words stand here on paper. */
    Array.prototype.forEach.call(document.querySelectorAll(".foot p:not(.jump)"), function (p) { sheet.appendChild(make("p", { "class": "deferral", "aria-hidden": "true", text: words(p) })); });
    sheet.appendChild(make("div", { "class": "acts" }, [button("Save the record as a file", "btn main", function () { save(told); }), button("Print the record", "btn", function () { window.print(); }), pick, opener,
      button("Clear this device", "btn", function () { askClear(told); })]));
    sheet.appendChild(told);
  }
  function save(told) {
    var state = work.read(), name = ["record", work.guide.slug, (state.order.registration || "").replace(/[^\w-]+/g, ""), state.order.started || ""].filter(Boolean).join("-") + ".json";
    var a = make("a", { href: URL.createObjectURL(new Blob([work.file(state)], { type: "application/json" })), download: name });
    document.body.appendChild(a);
    a.click();
    a.remove();
    answer(told, "Saved as " + name + ". It stays on this device too, until it is cleared.");
  }
  function openFile(file, told) {
    var reader = new FileReader();
    reader.onload = function () {
      var state;
      try { state = work.open(String(reader.result)); } catch (e) { answer(told, e.message + " The work on this device is as it was."); return; }
      var take = function () { work.take(state); view.taken(state); };
      if (!work.read().touched) { take(); return; }
      ask(told, "There is work on this device already. Put the record in its place?", "Put it in its place", take);
    };
    reader.onerror = function () { answer(told, "The file cannot be read."); };
    reader.readAsText(file);
  }
  /* An answer is of no use below the fold. */
  function answer(told, text) {
    told.textContent = text;
    told.scrollIntoView({ block: "center" });
  }
  function ask(told, question, yes, act, no) {
    told.textContent = question + " ";
    var keep = button(no || "Keep what is here", "btn", function () { told.textContent = ""; });
    told.appendChild(button(yes, "btn", act));
    told.appendChild(keep);
    told.scrollIntoView({ block: "center" });
    /* What loses nothing is nearest. */
    keep.focus({ preventScroll: true });
  }
  function askClear(told) {
    ask(told, "Every tick, torque and note of this guide goes from this device. A saved file stays.", "Clear it", function () { work.clear(); view.cleared(); });
  }

  return { place: place, fill: fill, save: save };
})(window.bayleafPage, window.bayleafJudge, window.bayleafOpen, window.bayleafEntry, window.bayleafWork);
