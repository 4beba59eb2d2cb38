"use strict";
// What is missing and what has to be put right, beside its field and in one list.
desk.problems = (() => {
  const form = desk.byId("desk-form"), list = desk.byId("desk-list");
  let number = 0;

  // "began[0].date" is the day of the first stage that has one; "baselines[1].kg[0]" stands in the second test.
  function findControl(path) {
    const [, name, at, rest] = path.match(/^(\w+)(?:\[(\d+)\])?\.?(.*)$/) ?? [];
    if (name === "began") return desk.all("[data-began]", form).filter((i) => desk.fields.shown(i) && i.value)[at];
    if (name === "visits") return desk.visits.findControl(Number(at), rest);
    if (name === "finger_sizes") return desk.all("[data-size]", form).filter((i) => i.value.trim())[at];
    const row = at !== undefined && desk.one(`[data-list="${name}"]`) && desk.rows.used(name)[at];
    if (row) return desk.one(`[data-key="${rest.split("[")[0]}"]`, row) ?? desk.one("input", row);
    if (name === "stage") return desk.one('input[name="stage"]:checked') ?? desk.one('input[name="stage"]');
    const whole = path.replace(/\[\d+\]/g, "");
    return desk.all("[data-path]", form).find((input) => input.dataset.path === whole && desk.fields.shown(input))
      ?? desk.one(`[data-field="${whole}"] input, [data-field="${whole}"] textarea`, form);
  }

  const findField = (control) => control.closest(".stage-row") ?? control.closest(".field") ?? control.parentElement;

  // A field's own name: the words of its label or legend, without what stands in brackets beside it.
  function label(path) {
    const control = findControl(path);
    const field = desk.one(`[data-field="${path}"]`, form) ?? (control && findField(control));
    const words = field && desk.one("legend, label", field);
    const text = words ? [...words.childNodes].find((node) => node.nodeType === Node.TEXT_NODE)?.textContent.trim() : "";
    return text || path;
  }

  function clear() {
    desk.all(".field-problem, .field-doubt").forEach((line) => line.remove());
    desk.all('[aria-describedby*="problem-"]', form).forEach((input) => {
      input.removeAttribute("aria-invalid");
      const kept = (input.getAttribute("aria-describedby") ?? "").split(" ").filter((id) => !id.startsWith("problem-")).join(" ");
      if (kept) input.setAttribute("aria-describedby", kept); else input.removeAttribute("aria-describedby");
    });
    list.replaceChildren();
  }

  // A doubt is told in the same places as what is wrong, and nothing about it is wrong.
  function setAside(finding, doubted) {
    const control = findControl(finding.at), text = [finding.says, finding.hint].filter(Boolean).join(". ");
    if (!control) return [null, text];
    const line = desk.make("p", { className: doubted ? "field-doubt" : "field-problem", id: `problem-${++number}` }, text);
    findField(control).append(line);
    if (!doubted) control.setAttribute("aria-invalid", "true");
    control.setAttribute("aria-describedby", `${control.getAttribute("aria-describedby") ?? ""} ${line.id}`.trim());
    control.closest("details")?.setAttribute("open", "");
    return [control, text];
  }

  function go(control) {
    control.closest("details")?.setAttribute("open", "");
    control.scrollIntoView({ block: "center" });
    control.focus();
  }

  function listAll(findings, doubted) {
    const lines = findings.map((finding) => setAside(finding, doubted)).map(([control, text]) => {
      const line = desk.make("li", {}, `${text} `);
      if (control) line.append(desk.make("button", { type: "button", onclick: () => go(control) }, desk.say("go")));
      return line;
    });
    return lines.length ? [desk.make("ul", {}, ...lines)] : [];
  }

  // Every finding beside its field, and all of them in the list at the sheets; then what to look at again.
  function show(findings, doubts = []) {
    clear();
    list.append(...listAll(findings, false));
    if (doubts.length) list.append(desk.make("p", { className: "look-again" }, desk.say("look-again")), ...listAll(doubts, true));
  }

  // What is still needed, in the order of the form, as buttons that lead there. Gives their number.
  function showMissing(paths) {
    const known = paths.map((path) => [path, findControl(path)]).filter(([, control]) => control);
    const below = Node.DOCUMENT_POSITION_FOLLOWING;
    known.sort(([, one], [, other]) => (one.compareDocumentPosition(other) & below ? -1 : 1));
    const buttons = known.map(([path, control]) => desk.make("button", { type: "button", onclick: () => go(control) }, label(path)));
    list.append(desk.make("div", { className: "desk-missing" }, ...buttons));
    return buttons.length;
  }

  return { show, showMissing, clear };
})();
