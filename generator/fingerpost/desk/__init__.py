"""The desk: a page on which a clinician fills in a form, and the browser itself makes the sheets."""
