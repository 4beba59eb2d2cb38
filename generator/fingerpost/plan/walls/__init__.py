"""What hangs in a gym: notices, the display, the paper key."""
