"""Files: written whole or not at all, and what was made once is not made again."""
