"""Pure arithmetic: dates, loads, tape lengths, a finger in a grip. One topic per file."""
