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
    if (link && (link.offsetTop < side.scrollTop || link.offsetTop > side.scrollTop + room - 60)) side.scrollTop = link.offsetTop - room / 2;
  };
  let waiting = 0;
  if (links.length) {
    addEventListener("scroll", () => { waiting ||= requestAnimationFrame(() => { waiting = 0; mark(); }); }, { passive: true });
    mark();
  }

  // A link to something folded away opens it; on paper all is open.
  const unfold = () => {
    const target = find(location.hash);
    const folds = [];
    for (let at = target; at; at = at.parentElement) if (at.matches("details:not([open])")) folds.push(at);
    folds.forEach((fold) => { fold.open = true; });
    if (folds.length) target.scrollIntoView();
  };
  addEventListener("hashchange", unfold);
  unfold();
  const closed = [];
  matchMedia("print").addEventListener("change", ({ matches }) => {
    if (matches) closed.push(...document.querySelectorAll(".page details:not([open])"));
    closed.forEach((fold) => { fold.open = matches; });
    if (!matches) closed.length = 0;
  });
}
