"""The command line: one case or thousands, from beginning to end."""
