// The way in. It looks up what each answer says about each page, and how far, and lays the pages out by that; it sends
// nothing and stores nothing. All words and all knowledge stand in the page: #way-data and #way-labels.
(() => {
  const finder = document.querySelector("[data-way-in]");
  if (!finder) return;
  const read = (id) => JSON.parse(document.getElementById(id).textContent);
  const data = read("way-data"), labels = read("way-labels");
  const all = (selector, root = document) => [...root.querySelectorAll(selector)];
  const cards = all("[data-page]", finder), inputs = all(".way-choice input"), areas = all(".touch-area");
  const soFar = document.querySelector(".way-so-far"), answered = document.querySelector(".way-answered"), apart = finder.querySelector(".way-apart");
  const names = Object.fromEntries(cards.map((card) => [card.dataset.page, card.querySelector(".way-name").textContent]));
  const warning = "warning", no = "!";
  const known = new Set(inputs.map((input) => input.value).filter(Boolean));
  let answers = new Set(), unsure = new Set();

  // The address holds the answers and nothing else: #sudden-onset+base-palm-side+!growing
  const fromAddress = () => location.hash.slice(1).replaceAll("%21", no).split("+").filter((answer) => known.has(answer));

  function toAddress() {
    const hash = answers.size ? "#" + [...answers].join("+") : location.pathname + location.search;
    try { history.replaceState(null, "", hash); } catch { location.replace(answers.size ? hash : "#"); }
  }

  const opposite = (answer) => (answer.startsWith(no) ? answer.slice(1) : no + answer);
  const statement = (answer) => data.says[answer] || data.says[answer.replace(no, "")];

  // What the answers say about one page: the statements under each reason.
  function weigh(page) {
    const reasons = Object.fromEntries(Object.keys(data.levels).map((reason) => [reason, []]));
    for (const answer of answers) reasons[data.pages[page][answer]]?.push(answer);
    return reasons;
  }

  // How far an answer speaks for a page: above 0 it fits, below 0 it is against.
  const level = (page, answer) => data.levels[data.pages[page][answer]] ?? 0;

  // A page that comes before everything else once an answer is given: growth plates, for whoever is under 18.
  const leads = (page) => Object.entries(data.leads).some(([answer, first]) => first === page && answers.has(answer));

  // In front: nothing speaks against the page, and one of the marked places fits. Near: one thing speaks against it,
  // and something that is usual there fits.
  function sort(page) {
    const given = [...answers], fits = given.filter((answer) => level(page, answer) > 0);
    const marked = data.places.some((place) => answers.has(place));
    const found = marked ? fits.some((answer) => data.places.includes(answer)) : fits.length > 0;
    const against = given.filter((answer) => level(page, answer) < 0).length;
    if (leads(page) || (found && !against)) return "front";
    return found && against === 1 && fits.some((answer) => level(page, answer) === data.levels.fits) ? "near" : "rest";
  }

  // One page stands before another only if it fits all that the other fits, and more.
  function before(one, other) {
    const fit = (page, answer) => Math.max(level(page, answer), 0);
    const gaps = [...answers].map((answer) => fit(one, answer) - fit(other, answer));
    return gaps.every((gap) => gap >= 0) && gaps.some((gap) => gap > 0);
  }

  function order(pages) {
    const left = [...pages], ordered = [];
    while (left.length) {
      const next = left.findIndex((page) => !left.some((other) => before(other, page)));
      ordered.push(...left.splice(next, 1));
    }
    return [...ordered.filter(leads), ...ordered.filter((page) => !leads(page))];
  }

  function showPages() {
    const groups = { front: [], near: [], rest: [] };
    for (const card of cards) {
      const reasons = weigh(card.dataset.page);
      for (const line of all(".way-reason", card)) {
        const said = reasons[line.dataset.reason].map(statement);
        line.hidden = !said.length;
        line.querySelector("ul").replaceChildren(...said.map((words) => item(words)));
      }
      groups[sort(card.dataset.page)].push(card.dataset.page);
    }
    for (const [group, pages] of Object.entries(groups)) {
      const section = finder.querySelector(`[data-group=${group}]`);
      section.hidden = !pages.length;
      const ordered = group === "rest" ? pages : order(pages);
      section.querySelector(".way-pages").append(...ordered.map((page) => cards.find((card) => card.dataset.page === page)));
    }
    finder.querySelector("[data-group=rest]").open = !groups.front.length && answers.size > 0;
    return order(groups.front);
  }

  function item(...parts) {
    const entry = document.createElement("li");
    entry.append(...parts);
    return entry;
  }

  // Two pages: their names, as a link where a page tells them apart, and the signs that are still open.
  function tell(one, other) {
    const pair = data.apart[`${one} ${other}`] || data.apart[`${other} ${one}`];
    const open = (pair?.signs || []).filter(([sign]) => !answers.has(sign) && !answers.has(no + sign)).slice(0, 3);
    if (!open.length && !pair?.address) return [];
    const name = document.createElement(pair.address ? "a" : "strong");
    if (pair.address) name.href = finder.dataset.root + pair.address + "index.html";
    name.textContent = labels["apart-pair"].replace("{name}", names[one]).replace("{other}", names[other]);
    const lines = document.createElement("ul");
    const say = ([sign, page]) => labels["apart-line"].replace("{sign}", data.says[sign]).replace("{name}", names[page]);
    lines.append(...open.map((line) => item(say(line))));
    return [item(name, lines)];
  }

  function showApart(front) {
    const first = front.slice(0, 3);
    const lines = first.flatMap((one, at) => first.slice(at + 1).flatMap((other) => tell(one, other)));
    apart.hidden = !lines.length;
    apart.querySelector("ul").replaceChildren(...lines);
  }

  // One question at a time: for the places marked, the next that tells most. Those answered go under a title of theirs.
  function showQuestions() {
    const marked = data.places.filter((place) => answers.has(place));
    const wanted = (marked.length ? marked : [""]).flatMap((place) => data.ask[place]);
    const rows = all("[data-asked]"), said = (row) => isAnswered(row.dataset.question) || unsure.has(row.dataset.question);
    const next = wanted.find((sign) => !isAnswered(sign) && !unsure.has(sign));
    for (const row of rows) {
      row.hidden = row.dataset.question !== next && !said(row);
      if (said(row)) answered.append(row);
      else answered.before(row);
    }
    answered.hidden = !rows.some(said);
    document.getElementById("asked").hidden = document.querySelector(".part-asked").hidden = answered.hidden && !next;
  }

  // The warning signs that answers have brought up: the first that cannot wait.
  function showHelp() {
    const helps = all(".way-help", finder);
    for (const help of helps) help.hidden = !help.dataset.signs.split(" ").some((sign) => answers.has(sign));
    return helps.find((help) => !help.hidden && help.dataset.urgent !== undefined)?.querySelector("a");
  }

  function show() {
    for (const input of inputs) input.checked = input.value ? answers.has(input.value) : unsure.has(input.name);
    for (const area of areas) area.setAttribute("aria-pressed", String(answers.has(area.dataset.sign)));
    const marked = document.querySelector(".way-marked");
    marked.textContent = data.places.filter((place) => answers.has(place)).map(statement).join("; ");
    marked.hidden = !marked.textContent;
    showQuestions();
    const urgent = showHelp(), front = showPages();
    showApart(front);
    tellSoFar(urgent ? [urgent] : front.map((page) => finder.querySelector(`[data-page=${page}] .way-name a`)), urgent);
  }

  // Under the hand: the answer of a warning sign before all else, or the pages that fit so far, each a link.
  function tellSoFar(links, urgent) {
    if (!answers.size) return soFar.replaceChildren();
    const names = links.flatMap((link, at) => (at ? [", ", link.cloneNode(true)] : [link.cloneNode(true)]));
    const [before, after] = labels["fits-one"].split("{names}");
    soFar.replaceChildren(...(urgent ? names : names.length ? [before, ...names, after] : [labels["fits-none"]]));
  }

  const isAnswered = (name) => inputs.some((input) => input.name === name && input.value && answers.has(input.value));

  function say(answer, there) {
    if (there) answers.delete(opposite(answer)), answers.add(answer);
    else answers.delete(answer);
    toAddress();
    show();
  }

  function choose(input) {
    if (input.type === "radio") all(`input[name="${input.name}"]`).forEach((other) => answers.delete(other.value));
    if (input.value) unsure.delete(input.name);
    else unsure.add(input.name);
    say(input.value, input.checked && Boolean(input.value));
    if (input.value === no + warning && input.checked) document.querySelector(".touch-map").scrollIntoView({ block: "nearest" });
  }

  inputs.forEach((input) => input.addEventListener("change", () => choose(input)));
  for (const area of areas) {
    area.setAttribute("role", "button");
    const toggle = (event) => { event.preventDefault(); say(area.dataset.sign, !answers.has(area.dataset.sign)); };
    area.addEventListener("click", toggle);
    area.addEventListener("keydown", (event) => { if (event.key === " ") toggle(event); });
  }
  finder.querySelector(".way-begin-again").addEventListener("click", () => {
    answers = new Set();
    unsure = new Set();
    toAddress();
    show();
    document.getElementById("warning").scrollIntoView();
  });
  addEventListener("hashchange", () => {
    if (document.querySelector(".flag-answer:target")) return; // the address says which answer is open
    const found = fromAddress();
    if (found.length || location.hash.length < 2) { answers = new Set(found); show(); } else toAddress();
  });
  addEventListener("pageshow", show); // a browser may have put ticks back that are no answers any more
  answers = new Set(fromAddress());
  all(".way-form").forEach((part) => { part.hidden = false; });
  all(".way-plain").forEach((part) => { part.hidden = true; });
  show();
})();
