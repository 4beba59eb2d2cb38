"""All rules."""
def find_problems(library): return []
