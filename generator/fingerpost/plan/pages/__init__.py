"""The pages of the site, and what anybody may print from it."""
