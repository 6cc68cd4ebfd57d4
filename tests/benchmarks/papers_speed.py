"""Making all papers of a bent layup of twelve layers, against importing the CAD kernel: side by side in one run.

Run it alone: ``python tests/benchmarks/papers_speed.py``. Both are programs of their own, started in turns; each time
is that of the whole program, from its start to its end. The status is 1 where the median of making every drawing in
three formats, their set, the press sheet, the report with its pictures and the cut list is over three times that of
``import cadquery``. The processor's time is told beside the clock's and decides: on a machine that is not at rest
only that says much.
"""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROUNDS = 5
MOST = 3.0
SOLIDS_AND_SCREENS = {"plan", "preview", "outlines", "glb", "stl", "3mf", "step"}
MAKE = "import sys; from underbag.app.command import main; sys.exit(main())"
NAMES = "from underbag.app.exports import EXPORTS; print(*(export.name for export in EXPORTS))"
KERNEL = ("-c", "import cadquery")
# back and face, three sheets with four glue lines, release on both sides and breather: twelve layers without paper
STACK = """
title = "Twelve layers"
[panel]
width = 200
[bend]
chord = 500
rise = 60
[substrate]
thickness = 3
laminations = 3
[absorbent]
material = "none"
"""


def run(arguments: tuple[str, ...]) -> tuple[float, float]:
    """Give the clock's and the processor's seconds of one run of Python."""
    before, begun = os.times(), time.perf_counter()
    subprocess.run([sys.executable, *arguments], check=True, stdout=subprocess.DEVNULL)
    after, ended = os.times(), time.perf_counter()
    used = after.children_user + after.children_system - before.children_user - before.children_system
    return ended - begun, used


def main() -> int:
    """Tell both medians and their ratio."""
    told = subprocess.run([sys.executable, "-c", NAMES], check=True, capture_output=True, text=True).stdout
    papers = ",".join(name for name in told.split() if name not in SOLIDS_AND_SCREENS)
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder, "layup.toml")
        job.write_text(STACK, encoding="utf-8")
        make = ("-c", MAKE, "make", str(job), "-o", str(Path(folder, "made")), "--only", papers)
        run(make), run(KERNEL)
        pairs = [(run(make), run(KERNEL)) for _ in range(ROUNDS)]
    lines = []
    for place, name in enumerate(("clock", "processor")):
        made, kernel = (statistics.median(pair[side][place] for pair in pairs) for side in (0, 1))
        ratio = made / kernel
        lines.append(
            f"{name}: papers {made:.2f} s, kernel {kernel:.2f} s, ratio {ratio:.2f} (at most {MOST:g})"
        )
    sys.stdout.write("\n".join([*lines, f"papers: {papers}", ""]))
    return int(ratio > MOST)


if __name__ == "__main__":
    sys.exit(main())
