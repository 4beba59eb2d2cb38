"""Turn a planned picture into SVG text. No choices, no files."""
