"""Going through what was read, and the marks of its figures."""
