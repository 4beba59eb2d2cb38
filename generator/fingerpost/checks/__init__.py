"""Rules over the whole collection. Each rule is one small generator and its docstring is the rule."""
