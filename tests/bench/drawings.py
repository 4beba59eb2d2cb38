"""How much of a handout's making is drawing: `.venv/bin/python tests/bench/drawings.py`. CPU time, median of five."""

from __future__ import annotations

import statistics
import time
from datetime import date
from pathlib import Path

from generator import press
from generator.content import read_case, read_library
from generator.plan.handout import plan_handout
from generator.render import make_environment
from generator.sheets import draw_handout, forget_drawings

PROJECT = Path(__file__).resolve().parents[2]


def main() -> None:
    library, _ = read_library(PROJECT / "protocols")
    path = PROJECT / "tests" / "golden" / "cases" / "pulley-left-ring.yml"
    case, _ = read_case(path, path.name)
    assert case
    environment = make_environment(press.read_templates(PROJECT / "templates"))
    planned = plan_handout(library, case.value, date(2026, 11, 25))
    press.print_handout(environment, planned, PROJECT)
    drawing, whole = [], []
    for _ in range(5):
        forget_drawings()
        start = time.process_time()
        draw_handout(planned)
        drawing.append(time.process_time() - start)
        forget_drawings()
        start = time.process_time()
        press.print_handout(environment, planned, PROJECT)
        whole.append(time.process_time() - start)
    share = statistics.median(drawing) / statistics.median(whole)
    part, total = statistics.median(drawing), statistics.median(whole)
    print(f"drawing {part:.2f} s of {total:.2f} s: {share:.0%} (aim: under 15 %)")


if __name__ == "__main__":
    main()
