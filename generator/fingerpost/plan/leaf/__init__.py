"""The leaf: what one person is told until the next visit, on one sheet of paper."""
