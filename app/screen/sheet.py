"""The whole answer of ``underbag check`` on paper or screen: what to change first, then what to cut."""

from collections.abc import Iterator, Mapping

from ...model.layup.layup import Layup
from ...model.layup.sections import IN_PLAN
from ...model.shape.pathed import Pathed
from ...model.wording import both, both_size
from ..columns import WIDTH, wrap
from ..examine import Examined, Planned
from .bag import bag_lines, valve_lines
from .checks import STYLES, kept_checks, open_checks, verdict_line
from .film import film_lines
from .handling import handling_lines
from .ink import Ink
from .layers import layer_lines
from .settings import setting_lines, setting_reasons
from .values import all_values, main_values


def short_sheet(examined: Examined, lines: Mapping[str, int], ink: Ink) -> str:
    """Tell what is needed at the bench; ``lines`` tells where a key stands in the file."""
    parts = [_head(examined, lines, ink)]
    if examined.planned is not None:
        parts += [*_sizes(examined.planned, ink), main_values(examined.planned.report, ink)]
    parts += [setting_lines(examined.layup, ink)]
    more = "underbag check --all tells what holds, every value with its working, and why each default is so."
    return _joined([*parts, (ink(line, "quiet") for line in wrap(more))])


def full_sheet(examined: Examined, lines: Mapping[str, int], ink: Ink) -> str:
    """Tell everything that is known of a layup."""
    parts = [_head(examined, lines, ink)]
    if examined.planned is not None:
        parts += [
            *_sizes(examined.planned, ink),
            kept_checks(examined, ink),
            all_values(examined.planned.report, ink),
        ]
    return _joined([*parts, setting_reasons(examined.layup, ink)])


def _head(examined: Examined, lines: Mapping[str, int], ink: Ink) -> Iterator[str]:
    for line in wrap(examined.layup.title):
        yield ink(line, "heading")
    yield from wrap(_panel(examined.layup))
    yield "=" * WIDTH
    yield ink(verdict_line(examined), STYLES[examined.verdict])
    yield from open_checks(examined, lines, ink)


SHAPES = {
    "rectangle": "Flat panel",
    "rounded rectangle": "Flat panel, rounded,",
    "ellipse": "Flat ellipse",
    "superellipse": "Flat superellipse",
    "regular polygon": "Flat regular polygon",
    "polygon": "Flat polygon",
    "drawing": "Flat panel after a drawing,",
}
"""How the outline of a flat panel is called before its size."""


def _panel(layup: Layup) -> str:
    """Say what is pressed, and which way up."""
    panel = layup.panel
    size = both_size(panel.length, panel.width)
    if layup.bend is None:
        turned = isinstance(layup.edge, Pathed) and not layup.face_is_up
        lies = f"{layup.press.lay}{', so that it is cut as its mirror image' * turned}"
        return f"{SHAPES[panel.outline]} {size}{_holes(layup)}, {lies}."
    if layup.curve is not None and layup.far is not None:
        ends = f"{both(layup.curve.length)} along the curve of its near end and {both(layup.far.length)} along that of its far end"
        return f"Tapered panel, {ends}, {both(panel.width)} from end to end, on a {layup.press.lay} form."
    if panel.outline_on == IN_PLAN:
        return f"Bent panel {size} in plan, cut plumb after pressing, on a {layup.press.lay} form."
    return f"Bent panel {size} along the curve, on a {layup.press.lay} form."


def _holes(layup: Layup) -> str:
    count = len(layup.edge.loops) - 1
    return f" with {count} hole{'s' if count > 1 else ''}, cut after pressing" if count else ""


def _sizes(planned: Planned, ink: Ink) -> list[Iterator[str]]:
    plan = planned.plan
    return [
        layer_lines(plan, ink),
        bag_lines(plan, ink),
        *(() if plan.is_undercut else (film_lines(plan, planned.report, ink),)),
        valve_lines(plan, ink),
        *(() if plan.is_undercut else (handling_lines(plan, planned.report, ink),)),
    ]


def _joined(parts: list[Iterator[str]]) -> str:
    """Parts with a blank line between them, and no blanks at the ends of lines."""
    text = "\n\n".join("\n".join(part).strip("\n") for part in parts)
    return "\n".join(line.rstrip() for line in text.splitlines()) + "\n"
