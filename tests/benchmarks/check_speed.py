"""How long ``underbag check`` takes as a whole process, beside the import of the libraries it may need.

Run it on a quiet machine: ``python tests/benchmarks/check_speed.py``. The runs alternate, so that whatever else the
machine does meets both alike; the median of five is compared. Every module comes compiled, as it does once a package
is installed. It fails where a check takes more than 1.5 times
as long as ``import numpy, pint; pint.UnitRegistry()``.
"""

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

ROOT = Path(__file__).parents[2]
RUNS = 5
MOST = 1.5
BARE = ("-c", "import numpy, pint; pint.UnitRegistry()")
DEMOS = ("shelf", "drawer-front", "table-top", "chessboard")
"""Flat in millimetres, bent with a pressure, flat in metres, flat in inches: the last three need the unit library."""


def seconds(arguments: tuple[str, ...], environment: dict[str, str]) -> float:
    """Time of one process of this interpreter."""
    command = [sys.executable, *arguments]
    start = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, cwd=ROOT.parent, env=environment)
    return time.perf_counter() - start


def main() -> int:
    """Measure, print, and tell whether every check was fast enough."""
    with tempfile.TemporaryDirectory() as compiled:
        environment = {**os.environ, "PYTHONPYCACHEPREFIX": compiled}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        return measure(environment)


def measure(environment: dict[str, str]) -> int:
    """Measure in an environment."""
    checks = {
        name: ("-m", "underbag.app.command", "check", str(ROOT / "demos" / f"{name}.toml")) for name in DEMOS
    }
    for arguments in (BARE, *checks.values()):
        seconds(
            arguments, environment
        )  # once aside: compiled files and the disk's memory are there afterwards
    times: dict[str, list[float]] = {"bare": [], **{name: [] for name in checks}}
    for _ in range(RUNS):
        times["bare"].append(seconds(BARE, environment))
        for name, arguments in checks.items():
            times[name].append(seconds(arguments, environment))
    bare = median(times["bare"])
    sys.stdout.write(f"numpy and pint alone: {bare:.3f} s, median of {RUNS}\n")
    worst = 0.0
    for name in checks:
        ratio = median(times[name]) / bare
        worst = max(worst, ratio)
        sys.stdout.write(
            f"underbag check {name + '.toml':20} {median(times[name]):.3f} s, {ratio:.2f} times as long\n"
        )
    sys.stdout.write(f"allowed: {MOST} times\n")
    return int(worst > MOST)


if __name__ == "__main__":
    sys.exit(main())
