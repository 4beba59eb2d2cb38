"""Rules about what is said: words, reading, figures, safety, how soon."""
