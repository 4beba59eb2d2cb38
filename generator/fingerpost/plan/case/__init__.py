"""One person's case: what must not be, and what follows from it."""
