"""The page of one injury: what may be done now, who sees it and how long it takes; the rest behind folds."""
