"""What a change of content means: two collections compared as data. Opens no file and knows no git."""
