// The search box. What it needs to rank pages is asked for once a reader is there, as scripts: a folder can give those, too.
{
  const box = document.querySelector(".search");
  const [form, query, output, status, list, none] =
    ["form", "query", "output", "meta", "found", "none"].map((part) => box.querySelector(`.search-${part}`));
  let loading = null, find = null, hits = [], goes = false;

  const loadScript = (address) => new Promise((done, failed) => {
    document.head.append(Object.assign(document.createElement("script"), { src: address, onload: done, onerror: failed }));
  });
  const load = () => {
    loading ||= Promise.all([box.dataset.ranking, box.dataset.index].map(loadScript)).then(
      () => { find = makeFinder(searchIndex); update(); },
      () => { loading = null; tell(box.dataset.lost, true); },
    );
  };

  const tell = (words, helpless) => {
    if (status.textContent !== words) status.textContent = words;
    none.hidden = !helpless;
  };
  const write = (kind, words) => Object.assign(document.createElement("span"), { className: kind, textContent: words });
  const linkTo = ({ page, part }) => `${box.dataset.home}${page.address}index.html${part < 0 ? "" : `#${page.parts[part][1]}`}`;
  // Beside the title: the part that fits, or the name in the trade and the other one by which the page was found.
  const nameAside = ({ page, name, part }) =>
    part < 0 ? [...new Set([page.called[0], page.called[name - 1]])].filter(Boolean).join(", ") : page.parts[part][0];
  const writeHit = (hit) => {
    const link = Object.assign(document.createElement("a"), { href: linkTo(hit) });
    link.append(write("found-title", hit.page.title), " ");
    const aside = nameAside(hit);
    if (aside) link.append(write("found-aside", aside), " ");
    link.append(write("found-says", hit.page.says));
    const item = document.createElement("li");
    item.append(link);
    return item;
  };

  const update = () => {
    if (!find) return;
    const typed = query.value.trim();
    hits = typed ? find(query.value) : [];
    list.replaceChildren(...hits.map(writeHit));
    output.scrollTop = 0;
    const { how, none: nothing, one, many } = box.dataset;
    tell(!typed ? how : hits.length ? `${hits.length} ${hits.length === 1 ? one : many}` : nothing, Boolean(typed) && !hits.length);
    if (goes) enter();
  };
  const enter = () => {
    goes = !find;
    if (hits.length) location.assign(linkTo(hits[0]));
    if (hits.length) close();
  };

  const open = () => { load(); output.hidden = false; };
  const close = () => { output.hidden = true; goes = false; };
  const leave = () => { query.focus(); close(); };
  const step = (by) => {
    const links = [...output.querySelectorAll("a")].filter((link) => link.offsetParent);
    const at = links.indexOf(document.activeElement) + by;
    if (at < 0) query.focus();
    else links[Math.min(at, links.length - 1)]?.focus();
  };

  // What is pasted, said or filled in comes without a key, so that no key is waited for.
  query.addEventListener("input", () => { goes = false; open(); update(); });
  for (const event of ["focus", "click"]) query.addEventListener(event, open);
  form.addEventListener("submit", (event) => { event.preventDefault(); open(); enter(); });
  form.addEventListener("reset", () => setTimeout(() => { query.focus(); update(); }));
  list.addEventListener("click", close);
  box.addEventListener("keydown", (event) => {
    if (output.hidden || event.isComposing) return;
    const does = { ArrowDown: () => step(1), ArrowUp: () => step(-1), Escape: leave }[event.key];
    if (does) event.preventDefault();
    if (does) does();
  });
  box.addEventListener("focusout", (event) => { if (event.relatedTarget && !box.contains(event.relatedTarget)) close(); });
  document.addEventListener("pointerdown", (event) => { if (!box.contains(event.target)) close(); });
}
