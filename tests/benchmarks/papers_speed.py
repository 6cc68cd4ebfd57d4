"""How long all papers of a bent layup take to make, beside the import of the CAD kernel.

Run it on a quiet machine: ``python tests/benchmarks/papers_speed.py``. Papers are all that is read or printed: the
drawings in every format, cut list, report with its pictures, press sheet. Both are whole processes, taken in turn,
and medians of three are compared. It fails where the papers take more than three times as long as the import.
"""

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from underbag.app.exports import EXPORTS

ROOT = Path(__file__).parents[2]
DEMO = ROOT / "demos" / "drawer-front.toml"
NO_PAPERS = {"plan", "preview", "outlines", "glb", "stl", "3mf", "step"}
"""What is for programs, screens and machines."""
RUNS = 3
MOST = 3.0
IMPORT = "import cadquery"
MAKE = "import sys; from underbag.app.command import main; sys.exit(main(sys.argv[1:]))"


def seconds(*arguments: str) -> float:
    """Time of a process of this Python."""
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", *arguments], check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - start


def main() -> int:
    """Compare, tell, and give the status."""
    names = ",".join(export.name for export in EXPORTS if export.name not in NO_PAPERS)
    imports, papers = [], []
    with tempfile.TemporaryDirectory() as folder:
        for _ in range(RUNS):
            imports.append(seconds(IMPORT))
            papers.append(seconds(MAKE, "make", str(DEMO), "-o", folder, "--only", names))
    ratio = statistics.median(papers) / statistics.median(imports)
    sys.stdout.write(
        f"papers ({names}): {statistics.median(papers):.2f} s\n"
        f"import of the kernel: {statistics.median(imports):.2f} s; {ratio:.2f} times, {MOST:g} at most\n"
    )
    return int(ratio > MOST)


if __name__ == "__main__":
    sys.exit(main())
