// Single letters stay the reader's own: the theme would take them as commands (WCAG 2.1.4).
addEventListener("keydown", (event) => {
  const plain = event.key.length === 1 && event.key !== " " && !event.ctrlKey && !event.metaKey && !event.altKey;
  if (plain && !event.target.closest("input, textarea, select, [contenteditable]")) event.stopImmediatePropagation();
}, true);
