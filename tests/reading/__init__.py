"""The reading gate: how hard the printed and shown text is to read, by a scorer that needs no network."""
