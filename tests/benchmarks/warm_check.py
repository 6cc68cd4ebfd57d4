"""How long a whole check, plan and report, takes in a warm process: for a bent stack of more than twelve layers.

Run it alone on a machine at rest: ``python tests/benchmarks/warm_check.py``. Every round plans another width, so that
nothing is known beforehand. The status is 1 where the median is over 20 ms. Each time is told by the clock and by what
the processor spent: on a machine that is not at rest only the second says much.
"""

import statistics
import sys
import time

from underbag.app.read.layup_file import read_text
from underbag.model.layup.layup import Layup
from underbag.model.plan import plan
from underbag.model.report import report

ROUNDS, WARM = 60, 5
LIMIT_MS = 20.0
# back and face, three sheets with four glue lines, release on both sides, paper and breather: thirteen layers
STACK = """
title = "Thirteen layers"
[panel]
width = {width}
[bend]
chord = 500
rise = 60
[substrate]
thickness = 3
laminations = 3
"""


def main() -> int:
    """Measure, print the medians, and give the status."""
    layups = [read_text(STACK.format(width=200 + number)) for number in range(WARM + ROUNDS)]
    times = [_timed(layup) for layup in layups][WARM:]
    count = len(plan(layups[0]).stack.layers)
    clock, processor = (statistics.median(column) for column in zip(*times, strict=True))
    sys.stdout.write(
        f"{count} layers with their glue lines, medians of {ROUNDS} checks, ms\n"
        f"clock {clock:.1f} (limit {LIMIT_MS:g})  processor {processor:.1f}\n"
    )
    return int(clock > LIMIT_MS)


def _timed(layup: Layup) -> tuple[float, float]:
    """Milliseconds of the clock and of the processor for one check."""
    clock, processor = time.perf_counter(), time.process_time()
    report(plan(layup))
    return 1000.0 * (time.perf_counter() - clock), 1000.0 * (time.process_time() - processor)


if __name__ == "__main__":
    sys.exit(main())
