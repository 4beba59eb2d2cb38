"""The pages of the site, and the general sheets."""
