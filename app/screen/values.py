"""Values of a report: the main ones at a glance, and all of them with their working."""

from collections.abc import Iterator

from ...model.report import Report
from ...model.telling import tell
from ...model.value import Value
from ..columns import left, wrap
from .ink import Ink

LABEL = 46

MAIN = (
    ("springback.form_radius", ""),
    *(
        (f"taper.{end}.form.{size}", f"{end} end of the form's face, {size}")
        for end in ("near", "far")
        for size in ("radius", "chord", "rise")
    ),
    ("press.net", "pressure on the work"),
    ("press.force", "force on the work"),
    ("press.contact", "contact pressure on the bend"),
    ("glue.mass", "glue to mix, for all glue lines"),
    ("time.closed_by", "bag closed, counted from the first glue"),
    ("pump.strokes_down", "strokes to bring the film down"),
    ("pump.strokes_draw", "strokes more to the gauge reading"),
    ("pump.time", "time to pump down to the gauge reading"),
    ("leak.fall_30", "fall of the gauge allowed in half an hour"),
    ("time.least", "under pressure at the least"),
    ("time.safe", "under pressure to be safe"),
    ("panel.thickness", "thickness of the panel, glue wet"),
    ("panel.mass", "mass of the panel before trimming, glue wet"),
    ("stack.height", "height of the stack"),
)
"""Values that everybody needs, in the order in which they are shown, and what to call them; by their own name if empty."""


def main_values(report: Report, ink: Ink) -> Iterator[str]:
    """Values that everybody needs."""
    yield ink("VALUES", "heading")
    found = report.by_key()
    for key, label in MAIN:
        if key in found:
            yield f"  {left(label or found[key].name, LABEL - 2)}{tell(found[key])}"


def all_values(report: Report, ink: Ink) -> Iterator[str]:
    """Every value with its expression or method, its inputs and its source."""
    yield ink("ALL VALUES, with their working; mm, N, MPa, °C, g", "heading")
    for value in report.values:
        yield from _with_working(value, ink)


def _with_working(value: Value, ink: Ink) -> Iterator[str]:
    yield from wrap(f"{value.name}: {tell(value)}", "      ", f"  {value.key}: ")
    working = f"{value.symbol} = {value.expression}"
    if value.is_method:
        working = f"{value.symbol} by the {value.expression}"
    inputs = ", ".join(f"{item.symbol} = {item.number:.6g}" for item in value.inputs)
    for part in (working, inputs, f"[{value.source}]"):
        yield from (ink(line, "quiet") for line in wrap(part, "        ", "      "))
