"use strict";
// What can be chosen, once the injury is known. What fits an injury stands in the page; nothing is decided here.
desk.choices = (() => {
  const form = desk.byId("desk-form"), found = desk.byId("desk-found"), search = desk.byId("desk-search");
  const box = (path) => desk.one(`[data-choices="${path}"]`);
  const picked = (path) => desk.one(`input[name="${path}"]:checked`)?.value ?? "";
  const injury = () => desk.data.injuries[picked("protocol")] ?? null;
  let offered = null;
  const grade = () => injury()?.grades.find((one) => one.id === picked("grade")) ?? null;

  function choice(path, value, label, small = "", type = "radio") {
    const input = desk.make("input", { type, name: path, value });
    input.dataset.path = path;
    const text = desk.make("span", {}, label);
    if (small) text.append(" ", desk.make("small", {}, small));
    return desk.make("label", { className: "choice" }, input, text);
  }

  // Offer these choices. The only one there is, is picked.
  function offer(path, options) {
    box(path).replaceChildren(...options.map(([value, label, small]) => choice(path, value, label, small)));
    if (options.length === 1) desk.one("input", box(path)).checked = true;
    box(path).closest(".field").hidden = options.length < 2;
  }

  function showFields(now) {
    desk.all(".needs-injury").forEach((part) => { part.hidden = !now; });
    desk.one('[data-field="side"]').hidden = !now?.sides.length;
    desk.one('[data-field="doctor_cleared"]').hidden = !now || !(now.stop || picked("age_band") === "under-18");
    desk.byId("step-grade").hidden = !now || now.grades.length < 2;
  }

  // Another injury has other places, grades and stages: what was picked for the one before does not count for it.
  function offerAll(now) {
    offered = now;
    desk.fields.forgetCheck();
    offer("place", now?.places ?? []);
    offer("grade", now?.grades.map((one) => [one.id, one.name, one.hint]) ?? []);
    desk.all('input[name="side"]').forEach((input) => { input.checked = false; });
    box("stage").replaceChildren();
    desk.all('[data-choices="finger"] .choice').forEach((label) => { label.hidden = !now?.fingers.includes(label.firstChild.value); });
  }

  function chooseInjury() {
    const now = injury();
    if (now !== offered) offerAll(now);
    desk.chosen = now;
    showFields(now);
    filter();
    chooseGrade();
  }

  function chooseGrade() {
    const stages = grade()?.stages ?? [], before = picked("stage"), began = readBegan();
    box("stage").replaceChildren(...stages.map((id, at) => stageRow(id, at + 1, began[id])));
    desk.byId("step-stage").hidden = !stages.length;
    const keep = desk.one(`input[name="stage"][value="${before}"]`);
    if (keep) keep.checked = true;
    chooseStage();
  }

  const readBegan = () => Object.fromEntries(desk.all("[data-began]").map((input) => [input.dataset.began, input.value]));

  function stageRow(id, number, began = "") {
    const input = desk.make("input", { type: "date", value: began, autocomplete: "off" });
    input.dataset.began = id;
    const row = choice("stage", id, `${number}. ${desk.chosen.stages[id]}`);
    const usual = desk.make("small", { className: "usual" });
    usual.dataset.usual = id;
    row.lastChild.append(" ", usual);
    const day = desk.make("label", { className: "began" }, `${desk.say("began")} `, input);
    return desk.make("div", { className: "stage-row" }, row, day);
  }

  // Only today's stage and those before it have begun.
  function chooseStage() {
    const rows = desk.all(".stage-row"), at = rows.findIndex((row) => desk.one("input", row).checked);
    rows.forEach((row, number) => { desk.one(".began", row).hidden = number > at; });
  }

  function showUsual(stages) {
    const usual = Object.fromEntries(stages.map((stage) => [stage.id, stage.usual]));
    desk.all("[data-usual]").forEach((small) => {
      const date = usual[small.dataset.usual];
      small.textContent = date ? desk.say("usual", { date }) : "";
    });
  }

  // The tapings of today's stage that fit, as the sheets would print them. Ticks that still fit stay. A single taping is
  // printed anyway and need not be asked for.
  function showTapings(tapings, ticked = null) {
    const part = box("tapings"), wanted = ticked ?? desk.all("input:checked", part).map((input) => input.value);
    const ids = tapings.map(([id]) => id).join(" ");
    part.closest(".field").hidden = tapings.length === 1 && !wanted.length;
    if (part.dataset.shown === ids) return;
    part.dataset.shown = ids;
    part.replaceChildren(...tapings.map(([id, name]) => choice("tapings", id, name, "", "checkbox")));
    desk.all("input", part).forEach((input) => { input.dataset.kind = "list"; input.checked = wanted.includes(input.value); });
    if (!tapings.length) part.append(desk.make("p", { className: "help" }, desk.say("tapings-none")));
  }

  // A mass is typed as the scale shows it, and the end of its key says in what.
  function chooseUnits(part = form) {
    const units = picked("units");
    desk.all("[data-unit]", part).forEach((words) => { words.textContent = desk.say("in-unit", { units }); });
    for (const input of desk.all("[data-mass]", part)) {
      if (input.dataset.key) input.dataset.key = units;
      else input.closest(".field").dataset.field = input.dataset.path = `${input.dataset.mass}_${units}`;
    }
  }

  const encloseList = desk.byId("enclose-list"), encloseOwn = desk.byId("enclose-own");
  const enclosesOwn = () => encloseOwn.checked;
  let needed = [];

  // Without a choice of one's own, what the stage needs is enclosed; a choice begins with just that.
  function chooseEnclosures(own) {
    desk.byId(own ? "enclose-own" : "enclose-as-needed").checked = true;
    encloseList.hidden = !own;
  }

  function showEnclosed(names = []) {
    if (!enclosesOwn()) needed = names;
  }

  function beginOwnChoice() {
    desk.all("input", encloseList).forEach((input) => { input.checked = needed.includes(input.value); });
  }

  const nameEnclosed = (names) => names.map((name) => desk.say(`enclose-${name}`)).join(", ");

  // The list of injuries: all of them, those that a word finds, or only the chosen one.
  function filter() {
    const asked = search.value.trim().toLowerCase(), words = asked.split(/\s+/);
    const fits = (part) => words.every((word) => part.dataset.find.includes(word));
    let count = 0;
    for (const label of desk.all('[data-choices="protocol"] .choice')) {
      label.hidden = desk.chosen ? !label.firstChild.checked : !fits(label);
      count += !label.hidden;
    }
    for (const line of desk.all(".referrals li")) {
      line.hidden = Boolean(desk.chosen) || !asked || !fits(line);
      count += !line.hidden;
    }
    desk.byId("desk-search-field").hidden = Boolean(desk.chosen);
    desk.byId("do-change").hidden = !desk.chosen;
    desk.byId("do-keep").hidden = Boolean(desk.chosen) || !offered;
    if (offered) desk.byId("do-keep").textContent = desk.say("keep-injury", { name: offered.name });
    found.textContent = desk.chosen || !asked ? "" : count ? desk.say("found", { count }) : desk.say("found-none");
  }

  function forgetSearch() {
    search.value = "";
    filter();
  }

  // While another injury is looked for, nothing that was filled in is lost, and nothing can be printed.
  function change() {
    desk.all('input[name="protocol"]').forEach((input) => { input.checked = false; });
    desk.chosen = null;
    showFields(null);
    forgetSearch();
    search.focus();
  }

  function keep() {
    desk.one(`input[name="protocol"][value="${offered.id}"]`).checked = true;
    chooseInjury();
    desk.byId("do-change").focus();
  }

  function start() {
    search.addEventListener("input", filter);
    search.addEventListener("keydown", (event) => { if (event.key === "Enter") event.preventDefault(); });
    desk.byId("do-change").addEventListener("click", () => { change(); desk.main.changed(); });
    desk.byId("do-keep").addEventListener("click", () => { keep(); desk.main.changed(); });
    form.addEventListener("change", (event) => {
      const path = event.target.name;
      if (path === "protocol") chooseInjury();
      if (path === "grade") chooseGrade();
      if (path === "stage") chooseStage();
      if (path === "age_band") showFields(desk.chosen);
      if (path === "units") chooseUnits();
      if (path === "enclose-how") {
        chooseEnclosures(enclosesOwn());
        if (enclosesOwn()) beginOwnChoice();
      }
      if (path === "grade" || path === "stage") desk.fields.forgetCheck();
    });
    chooseInjury();
  }

  return { start, picked, forgetSearch, chooseInjury, chooseGrade, chooseStage, chooseUnits, chooseEnclosures, enclosesOwn, nameEnclosed, showEnclosed, showUsual, showTapings };
})();
