"""What a reader loses on a page as it is laid out now: text that is cut off, lies outside, or lies over other text."""

from __future__ import annotations

from playwright.sync_api import Page

# What a reader may set by themself (WCAG 1.4.12), and nothing may be lost.
SPACING = """
    * { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important }
    p { margin-bottom: 2em !important }
"""
FIND = """() => {
    const lost = [], lines = [];
    const hidden = (thing) => !thing.checkVisibility({ visibilityProperty: true, opacityProperty: true });
    const styles = new Map();
    const style = (thing) => styles.get(thing) || styles.set(thing, getComputedStyle(thing)).get(thing);
    // The frames round a thing, from the inside out, as [element, 'clips' or 'scrolls' or 'away'].
    const frames = new Map();
    const framesOf = (thing) => {
        if (!thing || thing === document.documentElement) return [];
        if (!frames.has(thing)) {
            const s = style(thing), around = framesOf(thing.parentElement);
            const away = s.clipPath !== "none" || (thing.className === "md-skip");
            const held = /auto|scroll/.test(s.overflowX) ? "scrolls" : s.overflowX === "visible" ? "" : "clips";
            const kind = away ? "away" : held;
            frames.set(thing, kind && thing !== document.body ? [[thing, kind], ...around] : around);
        }
        return frames.get(thing);
    };
    const report = (why, node) => lost.push(`${why}: ${node.textContent.trim().slice(0, 60)}`);
    const wide = document.documentElement.scrollWidth;
    if (wide > innerWidth) lost.push(`the page is ${wide} wide`);
    const range = document.createRange();
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
        const parent = node.parentElement;
        if (!node.textContent.trim() || parent.closest("script, style, noscript") || hidden(parent)) continue;
        const around = framesOf(parent);
        if (around.some(([, kind]) => kind === "away")) continue;
        range.selectNodeContents(node);
        const drawn = parent.closest("svg");
        for (const box of range.getClientRects()) {
            if (box.width < 1) continue;
            const inside = around.map(([thing, kind]) => [thing.getBoundingClientRect(), kind]);
            const past = (edge) => box.left < edge.left - 1.5 || box.right > edge.right + 1.5;
            const scroller = inside.findIndex(([, kind]) => kind === "scrolls");
            const cut = inside.slice(0, scroller < 0 ? undefined : scroller).filter(([, kind]) => kind === "clips");
            const high = (edge) => box.top < edge.top - box.height / 3 || box.bottom > edge.bottom + box.height / 3;
            if (cut.some(([edge]) => past(edge) || (!drawn && high(edge)))) report("cut off", node);
            if (scroller < 0 && past({ left: 0, right: innerWidth })) report("outside of the window", node);
            if (!drawn && !parent.closest(".wide, .side")) lines.push([box, node]);
        }
    }
    lines.sort(([one], [other]) => one.top - other.top);
    lines.forEach(([box, node], at) => {
        for (let next = at + 1; next < lines.length && lines[next][0].top < box.bottom - 6; next++) {
            const [other, words] = lines[next];
            const across = Math.min(box.right, other.right) - Math.max(box.left, other.left);
            const deep = Math.min(box.bottom, other.bottom) - other.top;
            if (across > 3 && deep > 0.45 * Math.min(box.height, other.height)) report("lies over other text", words);
        }
    });
    return [...new Set(lost)];
}"""


def find_lost(page: Page) -> list[str]:
    found: list[str] = page.evaluate(FIND)
    return found
