"""What goes with one person's leaf: what is enclosed, the coach sheet, the calendar; and what clinicians are told."""
