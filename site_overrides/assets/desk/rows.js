"use strict";
// Lists that grow: dates that matter, strength tests, hands-on tests. Each row has its template in the page.
desk.rows = (() => {
  const LISTS = ["important_dates", "baselines", "tests"];
  const box = (list) => desk.one(`[data-list="${list}"]`);

  function add(list) {
    const row = desk.byId(`row-${list}`).content.firstElementChild.cloneNode(true);
    desk.all("[data-fill]", row).forEach((input) => { input.value = input.dataset.fill; });
    box(list).append(row);
    desk.choices.chooseUnits(row);
    return row;
  }

  // A row in which nothing was filled in does not count.
  const isUsed = (row) => desk.all("input, select[data-asked]", row).some((input) => input.value.trim() && input.value !== input.dataset.fill);
  const used = (list) => desk.all("[data-row]", box(list)).filter(isUsed);

  function readRow(row, READ, kindOf) {
    const found = {};
    for (const input of desk.all("[data-key]", row)) {
      const value = READ[kindOf(input)](input);
      if (value !== "") found[input.dataset.key] = value;
    }
    return found;
  }

  const read = (READ, kindOf) => Object.fromEntries(LISTS.map((list) => [list, used(list).map((row) => readRow(row, READ, kindOf))]));

  function write(data, WRITE, kindOf) {
    for (const list of LISTS) {
      box(list).replaceChildren();
      for (const entry of data[list] ?? []) {
        const row = add(list);
        for (const input of desk.all("[data-key]", row)) {
          if (entry[input.dataset.key] !== undefined) WRITE[kindOf(input)](input, entry[input.dataset.key]);
        }
      }
    }
  }

  // A list that comes into sight has a first row, ready to be filled in.
  function begin(part) {
    for (const list of LISTS) if (part.contains(box(list)) && !box(list).childElementCount) add(list);
  }

  function start() {
    desk.byId("desk-form").addEventListener("toggle", (event) => { if (event.target.open) begin(event.target); }, true);
    desk.byId("desk-form").addEventListener("click", (event) => {
      const list = event.target.dataset.add;
      if (list) desk.one("input, select", add(list)).focus();
      if ("remove" in event.target.dataset) {
        const around = event.target.closest("[data-list]");
        event.target.closest("[data-row]").remove();
        desk.one(`[data-add="${around.dataset.list}"]`).focus();
        desk.main.changed();
      }
    });
  }

  return { start, read, write, used };
})();
