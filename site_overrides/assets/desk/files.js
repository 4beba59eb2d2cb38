"use strict";
// What leaves or enters the page because somebody pressed a button: the case as a file, the calendar, the letterhead.
desk.files = (() => {
  const opened = desk.byId("desk-opened"), chooser = desk.byId("desk-chosen-file"), keep = desk.byId("desk-keep");
  const KEY = "fingerpost-letterhead", CHECKER = ["checked.name", "checked.role"];
  const LETTERHEAD = ["clinic.name", "clinic.phone", "clinic.emergency_number", "clinic.lines", ...CHECKER];
  const letterhead = () => LETTERHEAD.map((path) => desk.one(`[data-path="${path}"]`));

  function give(name, content, type) {
    const address = URL.createObjectURL(new Blob([content], { type }));
    desk.make("a", { href: address, download: name }).click();
    setTimeout(() => URL.revokeObjectURL(address), 1000);
  }

  function save() {
    const answer = desk.engine.answer({ ask: "save", case: desk.fields.read() });
    if (!answer.text) return;
    give(`${answer.stem}.yml`, answer.text, "application/yaml");
    desk.visits.keep(answer.visits);
    desk.main.say(desk.say("saved", { name: `${answer.stem}.yml` }));
    desk.main.isKept();
  }

  // What was printed goes into the log of the form; the case is kept by nobody until it is saved.
  function logPrint() {
    const answer = desk.engine.answer({ ask: "save", case: desk.fields.read(), printed: true });
    if (answer.visits) desk.visits.keep(answer.visits);
  }

  function saveCalendar() {
    const answer = desk.engine.answer({ ask: "calendar", case: desk.fields.read() });
    if (answer.text) give(`${answer.stem}.ics`, answer.text, "text/calendar");
    desk.main.say(answer.text ? desk.say("saved", { name: `${answer.stem}.ics` }) : desk.say("calendar-none"));
  }

  function toText(bytes) {
    let text = "";
    for (let at = 0; at < bytes.length; at += 8192) text += String.fromCharCode(...bytes.subarray(at, at + 8192));
    return btoa(text);
  }

  function tell(phrase, name, lines) {
    const list = desk.make("ul", {}, ...lines.map((line) => desk.make("li", {}, line)));
    opened.replaceChildren(desk.make("p", {}, desk.say(phrase, { name })), ...(lines.length ? [list] : []));
  }

  async function open(file) {
    const bytes = new Uint8Array(await file.slice(0, 1_000_002).arrayBuffer());
    await desk.main.whenReady;
    const answer = desk.engine.answer({ ask: "open", name: file.name, bytes: toText(bytes) });
    const lines = answer.fault ? [desk.say("fault", { kind: answer.fault })] : [...answer.problems, ...(answer.count ? [answer.count] : [])];
    if (answer.case) {
      const own = letterhead().map((input) => input.value);
      const written = desk.fields.write(answer.case);
      letterhead().forEach((input, at) => { if (!written[input.dataset.path.split(".")[0]]) input.value = own[at]; });
      desk.main.changed();
    }
    tell(answer.case ? (lines.length ? "opened-wrong" : "opened") : "not-opened", file.name, lines);
    chooser.value = "";
  }

  // The letterhead and who checks are about a clinic, not about a person. It is kept only where that was asked for.
  function keepLetterhead() {
    try {
      if (keep.checked) localStorage.setItem(KEY, JSON.stringify(letterhead().map((input) => input.value)));
      else localStorage.removeItem(KEY);
    } catch {
      keep.checked = false;
    }
  }

  function recallLetterhead() {
    try {
      const kept = JSON.parse(localStorage.getItem(KEY) ?? "null");
      if (!Array.isArray(kept)) return;
      letterhead().forEach((input, at) => { input.value = String(kept[at] ?? ""); });
      keep.checked = true;
    } catch { /* no storage here: nothing is kept */ }
  }

  // Only where the page comes from `fingerpost desk`: a PDF with tags, made on this computer.
  async function savePdf() {
    const token = desk.one('meta[name="fingerpost-token"]').content;
    const body = JSON.stringify({ today: desk.today(), case: desk.fields.read() });
    const answer = await fetch("pdf", { method: "POST", body, headers: { "Content-Type": "application/json", "X-Fingerpost-Token": token } });
    if (answer.ok) {
      give(`${answer.headers.get("X-File-Stem")}.pdf`, await answer.blob(), "application/pdf");
      logPrint();
    } else desk.main.say(desk.say("fault", { kind: answer.status }));
  }

  function start() {
    desk.byId("do-save").addEventListener("click", save);
    desk.byId("do-calendar").addEventListener("click", saveCalendar);
    desk.byId("do-pdf").addEventListener("click", savePdf);
    desk.byId("do-pdf").hidden = !desk.one('meta[name="fingerpost-token"]');
    desk.byId("do-open").addEventListener("click", () => chooser.click());
    chooser.addEventListener("change", () => { if (chooser.files.length) open(chooser.files[0]); });
    keep.addEventListener("change", keepLetterhead);
    letterhead().forEach((input) => input.addEventListener("input", keepLetterhead));
    recallLetterhead();
  }

  return { start, logPrint, recallLetterhead, forget: () => opened.replaceChildren() };
})();
