// What stands round a page. Without this script all of it is there, and nothing moves.
{
  // The part that is being read is marked in the list beside the page, and the list moves along.
  const links = [...document.querySelectorAll(".toc a")];
  const find = (hash) => document.getElementById(decodeURIComponent(hash.slice(1)));
  const heads = links.map((link) => find(link.hash));
  const side = document.querySelector(".side-toc");
  const mark = () => {
    const at = heads.findLastIndex((head) => head && head.getBoundingClientRect().top < innerHeight / 4);
    links.forEach((link, n) => (n === at ? link.setAttribute("aria-current", "true") : link.removeAttribute("aria-current")));
    const link = links[at], room = side.clientHeight;
    if (side.contains(document.activeElement)) return;  // whoever is in the list goes through it
    if (link && (link.offsetTop < side.scrollTop || link.offsetTop > side.scrollTop + room - 60)) side.scrollTop = link.offsetTop - room / 2;
  };
  let waiting = 0;
  if (links.length) {
    addEventListener("scroll", () => { waiting ||= requestAnimationFrame(() => { waiting = 0; mark(); }); }, { passive: true });
    mark();
  }

  // Whoever is sent to a place inside something folded finds it open: browsers of today do so by themselves, older ones not.
  const reveal = (hash) => {
    const place = hash ? find(hash) : null;
    const closed = [];
    for (let fold = place?.closest("details:not([open])"); fold; fold = fold.parentElement.closest("details:not([open])")) closed.push(fold);
    closed.forEach((fold) => { fold.open = true; });
    if (closed.length) place.scrollIntoView();
  };
  addEventListener("hashchange", () => reveal(location.hash));
  addEventListener("click", (event) => {
    const link = event.target.closest?.("a[href^='#']");
    if (link && link.hash === location.hash) reveal(link.hash);  // the same place again is no change
  });
  reveal(location.hash);

  // On paper nothing is folded. Where a style sheet cannot say so, everything is opened, and folded again afterwards.
  if (!CSS.supports("selector(::details-content)")) {
    let opened = [];
    addEventListener("beforeprint", () => {
      opened = [...document.querySelectorAll(".page details:not([open])")];
      opened.forEach((fold) => { fold.open = true; });
    });
    addEventListener("afterprint", () => opened.forEach((fold) => { fold.open = false; }));
  }
}
