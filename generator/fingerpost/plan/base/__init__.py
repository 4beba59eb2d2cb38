"""What every page and sheet is made of: blocks, words, pictures, and for whom they are."""
