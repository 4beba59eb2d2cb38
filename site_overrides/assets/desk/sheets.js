"use strict";
// The sheets: a frame without scripts that holds exactly what is printed.
desk.sheets = (() => {
  const frame = desk.byId("desk-frame"), empty = desk.byId("desk-empty");
  const LEAVES = "p, li, tr, figure, caption, h1, h2, h3, .gallery-one";
  const PARTS = ".leaf, .sheet";
  const SHELL = `<!doctype html><html><head><meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:">
<style id="page-styles"></style><style id="frame-styles"></style></head><body></body></html>`;
  const narrow = matchMedia("(max-width: 61.99rem)");
  const watcher = new ResizeObserver(() => fit());
  let inside = null, old = null, fading = 0, notes = "";

  // Whether this browser prints names and page numbers in the margin of a page.
  function hasMarginBoxes() {
    try {
      const sheet = new CSSStyleSheet();
      sheet.replaceSync("@page { @top-left { content: 'x' } }");
      return sheet.cssRules[0].cssText.includes("top-left");
    } catch {
      return false;
    }
  }

  function start(styles) {
    return new Promise((done) => {
      frame.addEventListener("load", () => {
        inside = frame.contentDocument;
        inside.head.prepend(desk.make("style", { textContent: styles }));
        inside.addEventListener("keydown", desk.main.keys);
        watcher.observe(frame);
        done();
      }, { once: true });
      frame.srcdoc = SHELL;
    });
  }

  // The width of paper fits the frame. On a narrow screen the frame is as high as its sheets, so that only the page scrolls.
  function fit() {
    if (!desk.one(PARTS, inside)) return;
    const wide = inside.body.classList.contains("letter") ? 215.9 : 210;
    const room = frame.clientWidth - 18, paper = ((wide + 10) * 96) / 25.4;
    inside.documentElement.style.setProperty("--zoom", Math.min(1.25, Math.max(0.3, room / paper)).toFixed(3));
    frame.style.height = narrow.matches ? `${Math.ceil(inside.body.getBoundingClientRect().height) + 2}px` : "";
  }

  // On a leaf a picture gets smaller where something else needs room: it is the same as long as it shows the same, and
  // stands under the same heading.
  function tell(leaf) {
    if (!leaf.closest(".side:not(.large)")) return leaf.outerHTML;
    const field = leaf.closest(".field");
    return `${field ? desk.one("h3", field).textContent : ""} ${leaf.textContent}`;
  }

  function mark(body) {
    const leaves = desk.all(LEAVES, body), now = leaves.map(tell);
    const before = old && new Set(old);
    old = now;
    if (!before) return;
    const changed = leaves.filter((leaf, at) => !before.has(now[at]) && !desk.all(LEAVES, leaf).some((inner) => !before.has(tell(inner))));
    changed.forEach((leaf) => leaf.classList.add("desk-changed"));
    clearTimeout(fading);
    fading = setTimeout(() => desk.all(".desk-changed", inside).forEach((leaf) => leaf.classList.remove("desk-changed")), 1800);
    return changed;
  }

  // Show the change where none of it can be seen.
  function follow(changed) {
    if (!changed?.length) return;
    const high = frame.clientHeight;
    const seen = (leaf) => { const box = leaf.getBoundingClientRect(); return box.bottom > 0 && box.top < high; };
    if (!changed.some(seen)) changed[0].scrollIntoView({ block: "center" });
  }

  // In a browser without margin boxes the head of a table carries name, version and sheet onto every page.
  function carry(sheet) {
    const line = desk.make("td", {}, [sheet.dataset.head, sheet.dataset.foot, sheet.dataset.sheet].filter(Boolean).join("  "));
    const content = desk.make("td", {}, ...sheet.childNodes);
    const table = desk.make("table", { className: "desk-carry" }, desk.make("thead", {}, desk.make("tr", {}, line)),
      desk.make("tbody", {}, desk.make("tr", {}, content)));
    table.setAttribute("role", "presentation");
    sheet.append(table);
  }

  // Sides of a leaf fill a page and have their head on them, unless they are in large print and run on.
  function dress(body, answer) {
    const parts = desk.all(PARTS, body), framed = !hasMarginBoxes() && body.classList.contains("size-12");
    body.classList.toggle("framed", framed);
    parts.forEach((part, at) => {
      const filled = part.classList.contains("leaf") ? desk.all(".side", part) : [part];
      filled.forEach((one) => {
        one.dataset.head = answer.head;
        one.dataset.foot = answer.foot;
        one.dataset.sheet = desk.say("sheet-line", { number: at + 1, count: parts.length });
        if (!hasMarginBoxes() && !(framed && one !== part)) carry(one);
      });
    });
    inside.getElementById("frame-styles").textContent = framed ? "@page leaf { margin: 0; } @page leaf:left { margin: 0; }" : "";
    notes = answer.notes;
  }

  function show(answer) {
    const made = new DOMParser().parseFromString(answer.html, "text/html");
    const body = inside.importNode(made.body, true), at = inside.scrollingElement.scrollTop;
    dress(body, answer);
    frame.hidden = false;
    empty.hidden = true;
    inside.title = answer.title;
    inside.documentElement.lang = made.documentElement.lang;
    inside.getElementById("page-styles").textContent = desk.one("style", made).textContent;
    const changed = mark(body);
    watcher.unobserve(inside.body);
    inside.body.replaceWith(body);
    watcher.observe(body);  // letters and pictures come a moment later, and make it higher
    fit();
    inside.scrollingElement.scrollTop = at;
    follow(changed);
    return changed?.length ?? 0;
  }

  // How many pages each part takes on paper: laid out in columns that are as large as the room on a page. What is enclosed
  // begins on a front, so a back that would be blank is put in, with lines for notes.
  function count() {
    const root = inside.documentElement;
    desk.all(".blank-back", inside).forEach((back) => back.remove());
    const parts = desk.all(PARTS, inside);
    root.classList.add("counting");
    const pages = parts.map((part) => Math.max(1, Math.round(part.scrollWidth / part.clientWidth)));
    root.classList.remove("counting");
    const odd = parts.filter((part, at) => pages[at] % 2 && part !== parts.at(-1));
    odd.forEach((part) => { part.after(makeBack(desk.one(".side", part) ?? part)); });
    const sheets = pages.reduce((sum, one) => sum + Math.ceil(one / 2), 0);
    return { sheets, pages: pages.reduce((sum, one) => sum + one, odd.length) };
  }

  function makeBack(front) {
    const back = desk.make("section", { className: "blank-back" }), { head, foot, sheet } = front.dataset;
    back.dataset.title = [...(hasMarginBoxes() ? [] : [head, foot, sheet]), notes].filter(Boolean).join("  ");
    return back;
  }

  function whenLettered() {
    return inside.fonts.ready;
  }

  function clear() {
    old = null;
    frame.hidden = true;
    empty.hidden = false;
    if (!inside) return;
    inside.body.replaceChildren();
    inside.title = "";
  }

  function print() {
    desk.all(".desk-changed", inside).forEach((leaf) => leaf.classList.remove("desk-changed"));
    frame.contentWindow.focus();
    frame.contentWindow.print();
    desk.files.logPrint();
  }

  return { start, show, count, whenLettered, clear, print, hasMarginBoxes };
})();
