"use strict";
// The form as data and back: the same keys as in a case file. What is wrong is said by the sheets' own code, not here.
desk.fields = (() => {
  const form = desk.byId("desk-form");
  const shown = (element) => element.closest("[hidden]") === null;
  const steps = (path) => path.split(/[.[\]]+/).filter(Boolean);

  // "64,5" and "64.5" are numbers; anything else stays text, so that it can be refused with its reason.
  function toNumber(text) {
    const number = Number(text.replace(",", "."));
    return text && Number.isFinite(number) ? number : text;
  }

  const READ = {
    text: (input) => input.value.trim(),
    number: (input) => toNumber(input.value.trim()),
    numbers: (input) => input.value.trim().split(/[\s;]+/).filter(Boolean).map(toNumber),
    lines: (input) => input.value.split("\n").map((line) => line.trim()).filter(Boolean),
    tick: (input) => input.checked,
  };
  const WRITE = {
    text: (input, value) => { input.value = value; },
    number: (input, value) => { input.value = value; },
    numbers: (input, value) => { input.value = value.join(" "); },
    lines: (input, value) => { input.value = value.join("\n"); },
    tick: (input, value) => { input.checked = value; },
  };
  const kindOf = (input) => input.dataset.kind ?? "text";
  const isEmpty = (value) => value === "" || value === false || (Array.isArray(value) && !value.length);

  function put(data, path, value) {
    const keys = steps(path), last = keys.pop();
    const place = keys.reduce((at, key) => (at[key] ??= {}), data);
    place[last] = value;
  }

  const take = (data, path) => steps(path).reduce((at, key) => at?.[key], data);

  function readOne(data, input) {
    const path = input.dataset.path;
    if (input.type === "radio") {
      if (input.checked) put(data, path, path === "print_size" ? Number(input.value) : input.value);
    } else if (kindOf(input) === "list") {
      if (input.checked) put(data, path, [...(take(data, path) ?? []), input.value]);
    } else {
      const value = READ[kindOf(input)](input);
      if (!isEmpty(value)) put(data, path, value);
    }
  }

  // What is decided anew was not checked: the day goes, and the sheets are a specimen until it is filled in again.
  function forgetCheck() {
    desk.byId("f-checked.date").value = "";
  }

  // Everything that is filled in. A field that does not belong to this injury does not count.
  function read() {
    const data = {};
    desk.all("[data-path]", form).filter(shown).forEach((input) => readOne(data, input));
    for (const path of ["place", "grade"]) if (desk.chosen && desk.choices.picked(path)) data[path] = desk.choices.picked(path);
    if (data.anchor && !data.anchor.date) delete data.anchor.date;
    if (desk.choices.enclosesOwn()) data.enclose ??= [];
    const began = desk.all("[data-began]", form).filter((input) => shown(input) && input.value);
    data.began = began.map((input) => ({ stage: input.dataset.began, date: input.value }));
    const sizes = desk.all("[data-size]", form).filter((input) => input.value.trim());
    data.finger_sizes = sizes.map((input) => ({ finger: input.dataset.size, mm: toNumber(input.value.trim()) }));
    return desk.visits.read({ ...data, ...desk.rows.read(READ, kindOf) });
  }

  function writeOne(data, input) {
    const value = take(data, input.dataset.path);
    if (input.type === "radio") input.checked = value === undefined ? "default" in input.dataset : String(value) === input.value;
    else if (kindOf(input) === "list") input.checked = (value ?? []).includes(input.value);
    else WRITE[kindOf(input)](input, value ?? (kindOf(input) === "tick" ? false : kindOf(input) === "text" || kindOf(input) === "number" ? "" : []));
  }

  // Fill the whole form from a case; what it leaves out becomes empty, or what it is by default. Gives what was filled in.
  function write(whole) {
    const data = desk.visits.open(whole);
    const inputs = (paths) => desk.all("[data-path]", form).filter((input) => !paths || paths.includes(input.dataset.path));
    inputs(["protocol", "age_band", "units"]).forEach((input) => writeOne(data, input));
    desk.choices.chooseUnits();
    desk.choices.chooseInjury();
    inputs(["grade"]).forEach((input) => writeOne(data, input));
    desk.choices.chooseGrade();
    desk.choices.showTapings((data.tapings ?? []).map((id) => [id, id]), data.tapings ?? []);
    inputs().forEach((input) => writeOne(data, input));
    desk.choices.chooseEnclosures(data.enclose !== undefined);
    if (data.checked?.stage !== data.stage) forgetCheck();
    desk.choices.chooseStage();
    const began = Object.fromEntries((data.began ?? []).map((entry) => [entry.stage, entry.date]));
    desk.all("[data-began]", form).forEach((input) => { input.value = began[input.dataset.began] ?? ""; });
    const sizes = Object.fromEntries((data.finger_sizes ?? []).map((entry) => [entry.finger, entry.mm]));
    desk.all("[data-size]", form).forEach((input) => { input.value = sizes[input.dataset.size] ?? ""; });
    desk.rows.write(data, WRITE, kindOf);
    desk.hand.show();
    return data;
  }

  return { read, write, shown, forgetCheck };
})();
