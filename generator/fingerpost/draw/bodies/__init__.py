"""Bodies: hands and fingers as numbers and outlines."""
