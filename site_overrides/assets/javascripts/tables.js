// A wordy table is laid out as blocks on a narrow screen, and some browsers then forget that it is one. In HTML these roles
// go without saying, and may not be said.
const ROLES = { table: "table", thead: "rowgroup", tbody: "rowgroup", tr: "row", "thead th": "columnheader", "tbody th": "rowheader", td: "cell" };
for (const [parts, role] of Object.entries(ROLES)) {
  document.querySelectorAll(`.wordy ${parts}`).forEach((part) => part.setAttribute("role", role));
}
