// Ranks the pages of the site by what somebody has typed into the search. It comes with the index, once a reader is at the box.
//
// What a page gets is a sum:
//   100 × its best name      how much of what was typed is in that name, times how much of the name was typed
//    80 × its best part      likewise, on pages whose parts are looked for by themselves
//    20 × its opening        how much of what was typed stands in what it says first
//    10 × its text           how much of what was typed stands anywhere on it
//     6 × its rank           3 for an injury, 2 for what helps with any; below 0 for a page about two of them
// "How much" goes by weight: the fewer pages hold a word, the more it weighs. A word counts whole as it stands, less
// where another word stands for it, where it is only begun, or where letters of it have slipped: GRADES.
// Pages with the same sum stay in the order of the site.
var makeFinder = (index) => {
  const GRADES = { whole: 1, same: 0.9, joined: 0.9, begun: 0.8, begunMore: 0.5, slip: 0.7, slips: 0.5 };
  const LEAST_WEIGHT = 0.08; // of a word that every page holds
  const UNKNOWN_WEIGHT = 0.5; // of a word that no page holds
  const LEAST_FOUND = 0.4; // the part of what was typed that a page must hold to be shown at all
  const LEAST_OF_BEST = 0.35; // the part of the best page's sum that one must have beside it
  const MOST_SHOWN = 12;

  const split = (text) =>
    text.toLowerCase().normalize("NFKD").replace(/\p{M}/gu, "").replace(/['’]/g, "").match(/[a-z0-9]+/g) || [];

  // Words that differ only in their ending are one: tape, tapes, taped, taping.
  const cut = (word) => {
    let stem = word;
    if (stem.length > 4 && stem.endsWith("ies")) stem = stem.slice(0, -3) + "y";
    else if (stem.length > 3 && /[^sui]s$/.test(stem)) stem = stem.slice(0, -1);
    const before = stem;
    if (stem.length > 5 && stem.endsWith("ing")) stem = stem.slice(0, -3);
    else if (stem.length > 4 && stem.endsWith("ed")) stem = stem.slice(0, -2);
    if (stem.length > 3 && stem.endsWith("e")) stem = stem.slice(0, -1);
    if (stem !== before || stem.length > 4) stem = stem.replace(/([bdfglmnprtz])\1$/, "$1");
    return /[aeiouy0-9]/.test(stem) ? stem : word;
  };
  const stems = (text) => split(text).map(cut);

  // --- What the index says

  const pages = index.pages.map(([address, rank, title, called, says, typed, parts]) => ({ address, rank, title, called, says, typed, parts }));
  const holds = (turned) => {
    const found = pages.map(() => new Set());
    for (const [word, steps] of Object.entries(turned)) {
      let at = 0;
      for (const step of steps.split(" ")) found[(at += Number(step))].add(cut(word));
    }
    return found;
  };
  const opening = holds(index.opening), text = holds(index.text);
  const named = pages.map((page) => [page.title, ...page.called, ...page.typed].map(stems));
  const parted = pages.map((page) => page.parts.map(([heading]) => stems(heading)));

  const counts = new Map();
  const whole = pages.map((_, n) => new Set([...opening[n], ...text[n], ...named[n].flat(), ...parted[n].flat()]));
  for (const held of whole) for (const stem of held) counts.set(stem, (counts.get(stem) || 0) + 1);
  const weigh = (stem) =>
    counts.has(stem) ? Math.max(LEAST_WEIGHT, 1 - Math.log(1 + counts.get(stem)) / Math.log(1 + pages.length)) : UNKNOWN_WEIGHT;
  const same = index.same.map(([typed, means]) => [stems(typed), stems(means)]);
  const known = [...counts.keys()].sort();

  // --- What was typed

  // How many letters are too many, too few, other ones, or two in the wrong order; `most` + 1 where they are more.
  const countSlips = (one, other, most) => {
    if (Math.abs(one.length - other.length) > most) return most + 1;
    let before = [], last = [...Array(other.length + 1).keys()];
    for (let i = 1; i <= one.length; i++) {
      const row = [i];
      for (let j = 1; j <= other.length; j++) {
        row[j] = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (one[i - 1] === other[j - 1] ? 0 : 1));
        if (i > 1 && j > 1 && one[i - 1] === other[j - 2] && one[i - 2] === other[j - 1]) row[j] = Math.min(row[j], before[j - 2] + 1);
      }
      [before, last] = [last, row];
    }
    return Math.min(last[other.length], most + 1);
  };

  // Every word of the site that a typed one may be, with its grade. `open`: it may go on, for nothing stands behind it.
  const read = (word, open) => {
    const stem = cut(word), found = new Map();
    if (counts.has(stem)) found.set(stem, GRADES.whole);
    if (word.length > 1 && (open || !found.size)) {
      const grade = found.size ? GRADES.begunMore : GRADES.begun;
      for (const other of known) if (other !== stem && other.startsWith(word)) found.set(other, grade);
    }
    return found;
  };
  const readSlips = (word) => {
    const stem = cut(word), most = stem.length > 7 ? 2 : stem.length > 3 ? 1 : 0;
    const near = known.map((other) => [other, countSlips(stem, other, most)]).filter(([, slips]) => slips <= most);
    const fewest = Math.min(...near.map(([, slips]) => slips));
    return new Map(near.filter(([, slips]) => slips === fewest).map(([other]) => [other, fewest > 1 ? GRADES.slips : GRADES.slip]));
  };
  const stands = (part, all, at) => part.every((stem, n) => all[at + n] === stem);

  const readAll = (typed) => {
    const words = split(typed), typedStems = words.map(cut);
    const found = words.map((word, n) => read(word, n === words.length - 1 && !/\s$/.test(typed)));
    const add = (n, stem, grade) => found[n].set(stem, Math.max(grade, found[n].get(stem) || 0));
    for (let n = 0; n + 1 < words.length; n++) {
      const joined = cut(words[n] + words[n + 1]);
      if (counts.has(joined)) [n, n + 1].forEach((at) => add(at, joined, GRADES.joined));
    }
    for (const [phrase, means] of same) {
      for (let n = 0; n + phrase.length <= words.length; n++) {
        if (stands(phrase, typedStems, n)) phrase.forEach((_, k) => means.forEach((stem) => add(n + k, stem, GRADES.same)));
      }
    }
    found.forEach((stems, n) => { if (!stems.size) found[n] = readSlips(words[n]); });
    return found.map((stems, n) => {
      const likely = stems.has(typedStems[n]) ? [typedStems[n]] : [...stems.keys()];
      return { stems, weight: likely.length ? Math.max(...likely.map(weigh)) : UNKNOWN_WEIGHT };
    });
  };

  // --- The sum

  const sum = (numbers) => numbers.reduce((all, number) => all + number, 0);
  // How much of a typed word a set holds, by weight.
  const take = (word, held) => {
    let most = 0;
    for (const [stem, grade] of word.stems) if (held.has(stem)) most = Math.max(most, grade * Math.min(weigh(stem), word.weight));
    return most;
  };
  const share = (words, held) => sum(words.map((word) => take(word, held))) / sum(words.map((word) => word.weight));
  const fit = (words, name) => {
    const held = new Set(name), grade = (stem) => Math.max(0, ...words.map((word) => word.stems.get(stem) || 0));
    return share(words, held) * (sum([...held].map((stem) => grade(stem) * weigh(stem))) / sum([...held].map(weigh)));
  };
  const best = (words, names) => {
    let at = -1, most = 0;
    names.forEach((name, n) => { const now = fit(words, name); if (now > most + 1e-9) [at, most] = [n, now]; });
    return { at, most };
  };

  const score = (words, n) => {
    const name = best(words, named[n]), part = best(words, parted[n]);
    const total = 100 * name.most + 80 * part.most + 20 * share(words, opening[n]) + 10 * share(words, text[n]) + 6 * pages[n].rank;
    return { page: pages[n], name: name.at, part: part.most > name.most ? part.at : -1, found: share(words, whole[n]), total };
  };

  return (typed) => {
    const words = readAll(typed);
    if (!words.length) return [];
    const hits = pages.map((_, n) => score(words, n)).filter((hit) => hit.found >= LEAST_FOUND);
    hits.sort((one, other) => other.total - one.total); // stable: equals stay as they stand on the site
    return hits.filter((hit) => hit.total >= LEAST_OF_BEST * hits[0].total).slice(0, MOST_SHOWN);
  };
};
