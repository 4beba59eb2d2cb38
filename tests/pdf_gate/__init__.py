"""The PDF gate: what must be true of every printed sheet, one small check each.

`gate.find_defects` runs every check. A check takes a `Printed` document and a `Wanted` description and yields
`Defect`s; its name is in `gate.CHECKS`, its docstring says what must hold. `breaking.py` holds the ways to spoil a
good PDF that prove that the checks see something.
"""
