/* What the page says of the state of the work: what is open on the vehicle, which boxes, values and names are missing. It is counted
   and put into words here from the page as plain data, so that it can be held against the program; what is shown of it and where is left
   to bay.js and bay-record.js.
   Needs: bay-judge.js */
/** @type {BayleafOpen} */
window.bayleafOpen = (function (/** @type {BayleafJudge} */ judge) {
  "use strict";
  const { say, fill } = window.bayleafPhrases;
  /* What the page and the program both take for space round a text that was typed. */
  const blank = (/** @type {string | undefined} */ text) => !/[^\p{White_Space}]/u.test(text || "");
  /* Whoever signed at a stop did so with a name, which ticks it. */
  /** @type {(state: BayleafState, step: string) => boolean} */
  const signedAt = (state, step) => !blank(state.holds[step]) && !!state.ticks[step + "/hold"];
  /* A record tells times to the minute. */
  const minute = (/** @type {number} */ time) => Math.floor(time / 60000);

  /* What is open -------------------------------------------------------------------------------- */
  /** @typedef {{ op: string, step: string, number: string, applies: boolean, opens: boolean, account: string, count: number }} Move */
  /** @type {(sheet: BayleafSheet) => Move[]} */
  function moves(sheet) {
    /** @type {Move[]} */
    const found = [];
    sheet.steps.forEach((step) => step.operations.forEach((op) => {
      op.moves.split(" ").filter(Boolean).forEach((m) => {
        const [account, count] = m.slice(1).split("*");
        found.push({ op: op.id, step: step.id, number: step.number, applies: op.applies, opens: m[0] === "+", account, count: Number(count || 1) });
      });
    }));
    return found;
  }
  /** How many of an account are open by what is ticked of these moves.
      @type {(list: Move[], account: string, ticks: Record<string, boolean>) => number} */
  function leftBy(list, account, ticks) {
    return list.filter((m) => m.account === account && ticks[m.op]).reduce((before, m) => {
      /* What lies off the vehicle lies there as a whole; bolts are loosened and done up in several places. */
      if (!account.startsWith("loosen/")) return m.opens ? m.count : 0;
      return Math.max(0, before + (m.opens ? m.count : -m.count));
    }, 0);
  }
  /** @type {BayleafOpen["now"]} */
  function now(sheet, state) {
    const ticks = state.ticks, every = moves(sheet), list = every.filter((m) => m.applies);
    /** @type {BayleafOpenThing[]} */
    const open = [];
    sheet.accounts.forEach((thing) => {
      const a = thing.account, closing = list.filter((m) => !m.opens && m.account === a), left = leftBy(list, a, ticks);
      const tell = (/** @type {number} */ count, /** @type {Move | undefined} */ closes, /** @type {boolean} */ stray) => {
        open.push({ name: thing.name, state: thing.state, connector: thing.connector, count, closes: closes ? closes.step : null, number: closes ? closes.number : "", stray, never: !stray && !closing.length });
      };
      if (left > 0) tell(left, closing.find((m) => !ticks[m.op]), false);
      const rest = leftBy(every, a, ticks) - left;
      if (rest > 0) tell(rest, undefined, true);
    });
    return open;
  }
  /** @type {BayleafOpen["summary"]} */
  function summary(list) {
    const count = (/** @type {BayleafOpenThing[]} */ some) => some.reduce((sum, o) => sum + o.count, 0);
    const plugs = count(list.filter((o) => o.connector)), rest = count(list) - plugs;
    const states = list.filter((o) => !o.connector).map((o) => o.state);
    const one = states.length && states.every((s) => s === states[0]) ? states[0] : say.open_word;
    if (!plugs) return fill(say.still_count, { count: rest, state: one });
    return rest ? fill(say.still_unplugged_more, { count: plugs, rest, state: one }) : fill(say.still_unplugged, { count: plugs });
  }
  /** @type {BayleafOpen["line"]} */
  function line(o) {
    const text = o.count > 1 ? fill(say.still_many, { state: o.state, count: o.count, name: o.name }) : fill(say.still_one, { state: o.state, name: o.name });
    return o.stray ? fill(say.open_stray, { line: text }) : o.never ? fill(say.open_never, { line: text }) : text;
  }

  /* What is missing ----------------------------------------------------------------------------- */
  /** @type {BayleafOpen["unticked"]} */
  const unticked = (boxes, state) => boxes.filter((id) => !state.ticks[id]).length;
  /** What the clock of a wait still shows.
      @type {BayleafOpen["minutesLeft"]} */
  function minutesLeft(state, step) {
    const wait = state.waits[step];
    return wait ? Math.max(0, Math.ceil((wait.ended - Date.now()) / 60000)) : 0;
  }
  /** The first stop before a step, or before the end, that applies and that nobody signed.
      @type {BayleafOpen["stopBefore"]} */
  function stopBefore(sheet, step, state) {
    let before = sheet.steps.filter((s) => s.applies);
    if (step) before = before.slice(0, before.findIndex((s) => s.id === step));
    return before.find((s) => s.stop && !signedAt(state, s.id)) || null;
  }
  /* The entries that are not as asked for although somebody noted why, by the numbers of their steps. */
  /** @type {(sheet: BayleafSheet, state: BayleafState) => string[]} */
  function off(sheet, state) {
    /** @type {string[]} */
    const found = [];
    sheet.steps.forEach((step) => step.operations.filter((op) => op.applies).forEach((op) => {
      op.measured.forEach((m) => {
        const read = state.measured[m.key];
        if (read && !judge.judge(read.measured, m.field).ok) found.push(step.number);
      });
      const given = state.torques[op.id];
      if (op.torque && given && !judge.judge(given.applied, op.torque).ok) found.push(step.number);
    }));
    return found;
  }
  /** The head of a record that lacks nothing, as the command prints it.
      @type {BayleafOpen["complete"]} */
  function complete(sheet, state) {
    const at = off(sheet, state), steps = at.filter((s, i) => at.indexOf(s) === i);
    return at.length ? fill(say.complete_but, { count: at.length, steps: steps.length, list: steps.join(", ") }) : say.complete;
  }
  /* A name as it is compared: however it is spaced and whatever letters are large. */
  const plain = (/** @type {string | undefined} */ name) => (name || "").split(/\p{White_Space}+/u).filter(Boolean).join(" ").toLowerCase();
  /** @type {(one: string | undefined, other: string | undefined) => boolean} */
  const isOnePerson = (one, other) => plain(one) !== "" && plain(one) === plain(other);
  const trimmed = (/** @type {string} */ text) => text.replace(/^\p{White_Space}+|\p{White_Space}+$/gu, "");
  const small = (/** @type {string} */ text) => text.replace(/[A-Z]/g, (c) => c.toLowerCase());
  /** What is the matter with the wrench of an entry, as the command says it that prints the record.
      @type {BayleafOpen["misused"]} */
  function misused(sheet, state, entry) {
    const given = trimmed(entry.wrench || "");
    if (!sheet.wrenches.length) return "";
    if (!given) return say.no_wrench_entered;
    const isMeant = (/** @type {string | null} */ name) => name !== null && small(name) === small(given);
    const wrench = sheet.wrenches.find((w) => isMeant(w.number) || isMeant(w.id) || isMeant(w.name));
    if (!wrench) return fill(say.wrench_of_nobody, { wrench: given });
    const field = { printed: [], torque: { low: wrench.low, high: wrench.high }, asked: wrench.range };
    /* What cannot be read is told with the torque. */
    if (judge.reads(entry.applied, field) && !judge.judge(entry.applied, field).ok) return fill(say.wrench_out_of_range, { entry: entry.applied, wrench: given, range: wrench.range });
    const day = state.order.finished || state.order.started || "";
    return day && wrench.until && wrench.until < day ? fill(say.calibration_ended, { wrench: given, day: wrench.until }) : "";
  }
  /** @type {BayleafOpen["gapsOf"]} */
  function gapsOf(step, state, sheet) {
    /** @type {BayleafGap[]} */
    const gaps = [], tell = (/** @type {string} */ text) => { gaps.push({ key: step.id, text: fill(say.at_place, { place: fill(say.step_numbered, { number: step.number }), words: text }), words: text }); };
    const left = unticked(step.boxes, state);
    if (left) tell(fill(say.boxes_not_ticked, { count: left }));
    const wait = state.waits[step.id];
    if (state.ticks[step.id + "/wait"] && !wait && blank(state.notes[step.id])) tell(say.wait_clock_not_run);
    if (wait && state.ticks[step.id + "/wait"] && minute(wait.ticked || 0) < minute(wait.ended)) tell(say.wait_ticked_early);
    if (step.stop && !signedAt(state, step.id)) tell(fill(say.stop_not_signed, { who: step.stop }));
    if (step.stop && isOnePerson(state.holds[step.id], state.order.technician)) tell(fill(say.stop_signed_by_technician, { who: step.stop }));
    step.operations.filter((op) => op.applies).forEach((op) => {
      /** @type {(what: string, entry: string, note: string | undefined, field: BayleafField) => void} */
      const told = (what, entry, note, field) => {
        const found = judge.judge(entry, field);
        if (!found.ok && blank(note)) tell(fill(say.at_place, { place: what, words: found.gap }));
      };
      op.measured.forEach((m) => {
        const read = state.measured[m.key];
        if (!read) tell(fill(say.value_not_entered, { name: m.name })); else told(m.name, read.measured, read.note, m.field);
      });
      const given = state.torques[op.id];
      if (!op.torque) return;
      if (!given) { tell(fill(say.no_torque_entered, { what: op.tightened })); return; }
      told(op.tightened, given.applied, given.note, op.torque);
      const wrench = blank(given.note) ? misused(sheet, state, given) : "";
      if (wrench) tell(fill(say.at_place, { place: op.tightened, words: wrench }));
    });
    return gaps;
  }
  /** What is missing or still open, in the words and the order of the command that prints the record.
      @type {BayleafOpen["missing"]} */
  function missing(sheet, state) {
    /** @type {BayleafGap[]} */
    let list = now(sheet, state).map((o) => ({ key: o.closes, text: o.closes ? fill(say.open_see_step, { line: line(o), number: o.number }) : line(o) }));
    const boxes = (/** @type {string} */ place, /** @type {string} */ key, /** @type {string[]} */ ids) => {
      const left = unticked(ids, state);
      if (left) list.push({ key, text: fill(say.at_place, { place, words: fill(say.boxes_not_ticked, { count: left }) }) });
    };
    boxes(say.before_you_start, "start", sheet.before);
    sheet.steps.filter((step) => step.applies).forEach((step) => { list = list.concat(gapsOf(step, state, sheet)); });
    boxes(say.final_checks, "end", sheet.final);
    const applies = new Set(sheet.steps.reduce((/** @type {string[]} */ ids, step) => ids.concat(step.operations.filter((op) => op.applies).map((op) => op.id)), []));
    const stray = (/** @type {string} */ entry, /** @type {string} */ op) => { if (!applies.has(op)) list.push({ key: null, text: fill(say.entry_does_not_apply, { entry, operation: op }) }); };
    Object.keys(state.torques).sort().forEach((op) => { stray(state.torques[op].applied, op); });
    Object.keys(state.measured).sort().forEach((key) => { stray(state.measured[key].measured, key.slice(0, key.lastIndexOf("#"))); });
    const has = sheet.choices.length ? sheet.solve(state.options["with"], state.options.without) || {} : {};
    sheet.choices.filter((c) => c.oneOf && !c.options.some((o) => has[o.id] === true)).forEach((c) => { list.push({ key: "start", text: fill(say.choice_not_chosen, { choice: c.label }) }); });
    if (sheet.vehicles.length > 1 && blank(state.order.vehicle)) list.push({ key: "start", text: say.vehicle_missing });
    [["registration", say.registration_missing], ["technician", say.technician_missing]].forEach(([name, text]) => { if (blank(state.order[name])) list.push({ key: "start", text }); });
    if (!state.signed.technician) list.push({ key: "record", text: say.technician_not_signed });
    if (state.signed.inspector && isOnePerson(state.order.inspector, state.order.technician)) list.push({ key: "record", text: say.inspector_is_technician });
    return list;
  }

  return { now, summary, line, unticked, misused, gapsOf, missing, minutesLeft, stopBefore, complete };
})(window.bayleafJudge);
