"""One person's sheets: the handout, the coach sheet, the calendar."""
