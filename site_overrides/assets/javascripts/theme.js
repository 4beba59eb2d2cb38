// Single letters stay the reader's own: the theme would take them as commands (WCAG 2.1.4).
addEventListener("keydown", (event) => {
  const plain = event.key.length === 1 && event.key !== " " && !event.ctrlKey && !event.metaKey && !event.altKey;
  if (plain && !event.target.closest("input, textarea, select, [contenteditable]")) event.stopImmediatePropagation();
}, true);
// A browser lets a page read nothing but scripts from a folder, so the index of the search is one. From a server the theme
// asks for the same as JSON: that is the script without its first words.
globalThis.XMLHttpRequest = class extends XMLHttpRequest {
  open(method, url) {
    this.skip = url.endsWith("/search_index.json") ? "var __index = ".length : 0;
    super.open(method, this.skip ? url.replace(/json$/, "js") : url);
  }
  get response() { return this.skip ? super.response.slice(this.skip) : super.response; }
};
