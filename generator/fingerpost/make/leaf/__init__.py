"""The leaf as print HTML: how high each part is, what gives way, and the page."""
