"""Rules about the way back: stages, pace, gates, grips, loads, tape."""
