"""How long the meshes of a bent stack of twelve layers take in numpy, beside the CAD kernel's.

Run it on a quiet machine: ``python tests/benchmarks/mesh_speed.py``. Both make the same twelve layers from the same
plan with the same chordal tolerance, the kernel by building and tessellating its solids. The runs alternate, and
medians are compared. It fails where numpy is less than a hundred times as fast.
"""

import sys
import time
from collections.abc import Callable
from statistics import median

from underbag.export.bodies import bent_bodies
from underbag.export.kernel import kernel
from underbag.model.layup.settle import settle
from underbag.model.plan import plan
from underbag.model.scene import TOLERANCE
from underbag.model.shape.slabs import slabs
from underbag.model.stack import Stack

RUNS = 9
REPEATS = 20
"""Meshes made in numpy for each one of the kernel; their mean is one run."""
LEAST = 100.0
ASKED = {
    "panel": {"width": 150.0},
    "bend": {"chord": 600.0, "rise": 60.0},
    "substrate": {"laminations": 3, "thickness": 3.0},
    "absorbent": {"material": "none"},
}


def seconds(work: Callable[[], object], repeats: int) -> float:
    """Mean time of some work."""
    start = time.perf_counter()
    for _ in range(repeats):
        work()
    return (time.perf_counter() - start) / repeats


def main() -> int:
    """Measure, print, and tell whether numpy was fast enough."""
    from OCP.BRepMesh import BRepMesh_IncrementalMesh

    made = plan(settle(ASKED))
    stack, lift = made.stack, made.base.lift
    assert len(stack.layers) == 12, [layer.key for layer in stack.layers]

    def by_numpy() -> object:
        return meshes(stack, lift)

    def by_kernel() -> None:
        for body in bent_bodies(stack, lift, (0.0, stack.height)):
            BRepMesh_IncrementalMesh(body, TOLERANCE)

    kernel()
    by_numpy()
    by_kernel()
    ours, theirs = [], []
    for _ in range(RUNS):
        theirs.append(seconds(by_kernel, 1))
        ours.append(seconds(by_numpy, REPEATS))
    ratio = median(theirs) / median(ours)
    sys.stdout.write(
        f"kernel: {1e3 * median(theirs):.1f} ms, numpy: {1e3 * median(ours):.2f} ms, median of {RUNS}\n"
    )
    sys.stdout.write(f"{ratio:.0f} times as fast; at least {LEAST:.0f} asked for\n")
    return int(ratio < LEAST)


def meshes(stack: Stack, lift: float) -> object:
    """Meshes of all layers."""
    return slabs(
        stack.sheet,
        [(layer.outline.length, layer.outline.width) for layer in stack.layers],
        [(layer.height, layer.top) for layer in stack.layers],
        TOLERANCE,
        lift,
    )


if __name__ == "__main__":
    sys.exit(main())
