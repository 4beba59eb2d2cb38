"use strict";
// The log of visits: the earlier ones as they came with a file, and the one that is on the form.
desk.visits = (() => {
  const part = desk.byId("desk-earlier"), list = desk.one("ul", part);
  let kept = [], owner = "", sent = [], now = null;

  const isCurrent = (visit, data) => visit !== undefined && visit.stage === data.stage && (visit.checked !== undefined || visit.date === desk.today());

  // A log is about one injury: for another it does not count, and it is back as soon as that one is.
  const count = (data) => (data.protocol === owner ? kept : []);

  function show(visits) {
    const earlier = visits.filter((visit) => visit.date !== now?.date);
    part.hidden = !visits.length;
    list.replaceChildren(...earlier.map((visit) => {
      const told = [desk.say("visit-line", { date: visit.date, stage: desk.chosen?.stages[visit.stage] ?? visit.stage }), visit.checked?.name];
      const remove = desk.make("button", { type: "button", onclick: () => { keep(kept.filter((one) => one !== visit)); desk.main.changed(); } }, desk.say("remove"));
      return desk.make("li", {}, `${told.filter(Boolean).join(", ")} `, remove);
    }));
  }

  // A case from a file as the form holds it: the visit that is printed in its fields, the others kept.
  function open(data) {
    kept = data.visits ?? [];
    owner = data.protocol ?? "";
    now = kept.at(-1);
    if (!isCurrent(now, data)) now = null;
    const { date, stage, checked, tests, printed, ...measured } = now ?? {};
    return { ...data, visit: measured, tests, ...(checked ? { checked: { ...checked, date, stage } } : {}) };
  }

  // The data of the form with the whole log in it. The visit on the form is of the day on which it was checked, or of
  // today. The very first one, as long as it says nothing but its stage, is written down when sheets are printed or saved.
  function read(data) {
    const { checked, visit = {}, tests = [], ...rest } = data, date = checked?.date || desk.today();
    const log = count(data), before = log.find((one) => one.date === date);
    const says = checked?.date || Object.keys(visit).length || tests.length || log.length;
    now = { date, stage: data.stage, ...visit };
    if (checked?.date) now.checked = { ...(checked.name ? { name: checked.name } : {}), ...(checked.role ? { role: checked.role } : {}) };
    if (tests.length) now.tests = tests;
    if (before?.printed && before.stage === data.stage) now.printed = before.printed;
    const others = log.filter((one) => one.date !== date);
    sent = [...others, ...(says && data.stage ? [now] : [])].sort((one, other) => (one.date < other.date ? -1 : 1));
    if (visit.round_mm !== undefined) rest.finger_sizes = rest.finger_sizes.filter((size) => size.finger !== data.finger);
    show(log);
    return sent.length ? { ...rest, visits: sent } : rest;
  }

  // What was printed or saved is in the log from now on.
  function keep(visits) {
    kept = visits;
    owner = desk.choices.picked("protocol");
    show(kept);
  }

  // The visit on the form becomes an earlier one, and the form asks for today's.
  function begin() {
    desk.fields.read();
    kept = sent;
    now = null;
    const emptied = ["stage", "checked", "review_date", "note", "pace_reason", "enclose"];
    const data = Object.fromEntries(Object.entries(desk.fields.read()).filter(([key]) => !emptied.includes(key)));
    const checked = { name: desk.byId("f-checked.name").value, role: desk.byId("f-checked.role").value };
    desk.fields.write({ ...data, checked, visits: kept });
    desk.main.changed();
    desk.one('input[name="stage"]').focus();
  }

  // Where a finding about the log is put right: only the visit on the form has fields.
  function findControl(at, rest) {
    if (sent[at] !== now || !now) return null;
    if (rest === "date" || rest.startsWith("checked")) return desk.byId(rest.startsWith("checked.") ? `f-${rest}` : "f-checked.date");
    if (rest === "stage") return desk.one('input[name="stage"]:checked') ?? desk.one('input[name="stage"]');
    const test = rest.match(/^tests\[(\d+)\]\.?(\w*)/);
    if (test) return desk.one(`[data-key="${test[2] || "test"}"]`, desk.rows.used("tests")[test[1]]);
    return desk.byId(`f-visit.${rest}`);
  }

  function start() {
    desk.byId("do-new-visit").addEventListener("click", begin);
  }

  return { start, open, read, keep, findControl };
})();
