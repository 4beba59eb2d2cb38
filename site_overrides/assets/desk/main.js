"use strict";
// The desk at work: a change of the form asks for new sheets, and what comes back is shown.
desk.main = (() => {
  const form = desk.byId("desk-form"), state = desk.byId("desk-state"), sure = desk.byId("desk-sure");
  const actions = ["do-print", "do-save", "do-calendar", "do-pdf"].map(desk.byId);
  let enclosed = "", timer = 0, ahead = 0, unsaved = false, current = false, awake = false, pressed = false, wake;
  const whenReady = new Promise((done) => { wake = done; });

  // The state stands at the sheets, and on a narrow screen in the bar at the foot too.
  function say(text) {
    if (state.textContent !== text) state.textContent = text;
    desk.byId("desk-jump-state").textContent = text;
  }

  function allow(on) {
    actions.forEach((button) => { button.disabled = !on; });
  }

  function stop(phrase) {
    const box = desk.byId("desk-stop");
    desk.one("p", box).textContent = desk.say(phrase);
    box.hidden = false;
    say(desk.say(phrase));
  }

  // A side that is needed and not chosen yet is missing, not wrong.
  function sort(answer, data) {
    const unset = (finding) => finding.at === "side" && data.side === undefined;
    const missing = [...answer.missing, ...answer.findings.filter(unset).map((finding) => finding.at)];
    if (desk.chosen.sides.length && data.side === undefined && !missing.includes("side")) missing.push("side");
    return [answer.findings.filter((finding) => !unset(finding)), missing];
  }

  function refresh() {
    clearTimeout(timer);
    timer = 0;
    if (!awake) return;
    if (!desk.chosen) {
      allow(false);
      desk.problems.clear();
      showAge(current);
      say(current ? desk.say("choosing") : "");
      return;
    }
    const data = desk.fields.read(), answer = desk.engine.answer({ ask: "sheets", case: data });
    if (answer.fault) {
      allow(false);
      say(desk.say("fault", { kind: answer.fault }));
      return;
    }
    desk.choices.showUsual(answer.stages);
    desk.choices.showTapings(answer.tapings);
    desk.choices.showEnclosed(answer.enclosed);
    const [findings, missing] = sort(answer, data);
    desk.problems.show(findings, answer.doubts);
    if (answer.html) desk.sheets.show(answer);
    if (answer.html) enclosed = answer.enclosed.length ? desk.say("enclosed", { names: desk.choices.nameEnclosed(answer.enclosed) }) : desk.say("enclosed-nothing");
    report(answer, data, findings, missing);
  }

  // While nothing else is to be done: one picture after the other that the sheets will need, a stage at a time.
  function drawAhead(data, stage) {
    clearTimeout(ahead);
    ahead = setTimeout(() => {
      if (timer || pressed) return;
      const { drawn, more } = desk.engine.answer({ ask: "ahead", case: data, stage });
      if (more) drawAhead(data, drawn ? stage : stage + 1);
    }, 120);
  }

  // Sheets that do not follow the form any more are pale, and a line over them says so.
  function showAge(old) {
    desk.byId("desk-sheets").classList.toggle("behind", old);
    desk.byId("desk-old").hidden = !old;
    showPages();
    if (current && !old) desk.sheets.whenLettered().then(showPages);  // until then, other letters stand in, and are wider
  }

  function showPages() {
    const told = current && desk.byId("desk-old").hidden;
    desk.byId("desk-pages").textContent = told ? `${enclosed} ${desk.say("pages", desk.sheets.count())}` : "";
  }

  function report(answer, data, findings, missing) {
    allow(Boolean(answer.html));
    current ||= Boolean(answer.html);
    showAge(!answer.html && current);
    const doubts = answer.doubts?.length;
    if (answer.html) say(doubts ? desk.say("ready-look", { count: doubts }) : desk.say("ready"));
    else if (findings.length) say(desk.say("wrong", { count: findings.length }));
    else {
      say(desk.say("needed", { count: desk.problems.showMissing(missing) }));
      drawAhead(data, 0);
    }
  }

  function changed(soon = 0) {
    unsaved = true;
    clearTimeout(timer);
    clearTimeout(ahead);
    timer = setTimeout(refreshOnceFree, soon);
  }

  // While a finger or a mouse button is down nothing may move: a message that comes or goes would shift the button
  // away from under it, and the click would be lost.
  function refreshOnceFree() {
    if (!pressed) refresh();
  }

  function listenToPresses() {
    addEventListener("pointerdown", () => { pressed = true; }, true);
    for (const end of ["pointerup", "pointercancel"]) {
      addEventListener(end, () => {
        pressed = false;
        if (timer) timer = setTimeout(refreshOnceFree);
      }, true);
    }
  }

  // Do now what a change has asked for.
  function settled() {
    if (timer) refresh();
  }

  function clear() {
    clearTimeout(timer);
    clearTimeout(ahead);
    timer = 0;
    desk.fields.write({});
    desk.choices.forgetSearch();
    desk.all("details[open]", form).forEach((part) => { part.open = false; });
    desk.problems.clear();
    desk.sheets.clear();
    desk.files.forget();
    desk.files.recallLetterhead();
    if (awake) desk.engine.answer({ ask: "clear" });
    allow(false);
    current = unsaved = false;
    sure.hidden = true;
    showAge(false);
    say(desk.say("cleared-now"));
  }

  function keys(event) {
    if ((event.ctrlKey || event.metaKey) && event.key === "p" && !desk.byId("do-print").disabled) {
      event.preventDefault();
      desk.sheets.print();
    }
  }

  function listen() {
    form.addEventListener("submit", (event) => event.preventDefault());
    form.addEventListener("input", (event) => { if (event.target.id !== "desk-search") changed(150); });
    form.addEventListener("change", (event) => { if (event.target.id !== "desk-search") changed(); });
    desk.byId("do-print").addEventListener("click", () => { desk.sheets.print(); unsaved = false; });
    desk.byId("do-clear").addEventListener("click", () => { sure.hidden = false; desk.byId("do-clear-no").focus(); });
    desk.byId("do-clear-no").addEventListener("click", () => { sure.hidden = true; desk.byId("do-clear").focus(); });
    desk.byId("do-clear-yes").addEventListener("click", () => { clear(); desk.byId("desk-search").focus(); });
    desk.byId("do-checked-today").addEventListener("click", () => { desk.byId("f-checked.date").value = desk.today(); changed(); });
    listenToJump();
    listenToPresses();
    addEventListener("keydown", keys);
    addEventListener("beforeunload", (event) => { if (unsaved && desk.chosen) event.preventDefault(); });
    addEventListener("pageshow", (event) => { if (event.persisted) clear(); });
  }

  // On a narrow screen form and sheets are far apart: one button leads from each to the other.
  function listenToJump() {
    const jump = desk.byId("do-jump"), sheets = desk.byId("desk-sheets");
    let there = false;
    new IntersectionObserver(([entry]) => {
      // Not while somebody types in the form: the button would change its meaning under the finger.
      there = entry.isIntersecting && !form.contains(document.activeElement);
      jump.textContent = desk.say(there ? "see-form" : "see-sheets");
    }, { rootMargin: "0px 0px -40% 0px" }).observe(sheets);
    jump.addEventListener("click", () => {
      const to = there ? desk.byId("h-injury") : sheets;
      to.scrollIntoView();
      to.focus({ preventScroll: true });
    });
  }

  async function start() {
    for (const part of [desk.choices, desk.rows, desk.visits, desk.hand, desk.files]) part.start();
    listen();
    desk.byId("desk-here").hidden = desk.sheets.hasMarginBoxes();
    if (!desk.engine.works()) return stop("no-engine");
    try {
      const styles = await desk.engine.start((percent) => say(desk.say("waking", { percent })));
      await desk.sheets.start(styles);
    } catch {
      return stop("not-loaded");
    }
    awake = true;
    wake();
    say("");
    refresh();
  }

  setTimeout(start);
  return { ready: () => awake, changed, settled, say, keys, whenReady, isKept: () => { unsaved = false; } };
})();
