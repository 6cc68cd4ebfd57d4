"""The notes on the section: what is drawn how, and what the sizes mean."""

import math
from collections.abc import Iterator

import numpy as np

from ...model.bag.size import CLOSED_KINDS
from ...model.plan import Plan
from ...model.shape.end_sheet import EndSheet
from ...model.shape.pathed import Pathed
from ...model.units import Mm
from ...model.wording import decimal
from ..film_words import film_short
from .cut import radius_at
from .faces import show_height
from .naming import cut_letters
from .words import said, said_size, units_of

TOLERANCE: Mm = 0.5
"""Tolerance of sizes without one of their own; common practice."""

EDGES = {
    "rectangle": "",
    "rounded rectangle": ", corners rounded",
    "ellipse": ", an ellipse",
    "superellipse": ", a superellipse",
    "regular polygon": ", a regular polygon",
    "polygon": ", a polygon",
    "drawing": ", its outline as drawn",
}


def notes(plan: Plan) -> tuple[str, ...]:
    """Sentences beside the section, the most useful first."""
    return (*_panel(plan), *_bag(plan), *_drawing(plan), *_sizes(plan))


def _panel(plan: Plan) -> Iterator[str]:
    panel = plan.layup.panel
    if plan.end is not None:
        yield from _end(plan)
        return
    size = panel if plan.cut is None else plan.cut.outline
    yield (
        f"Finished panel {said_size(size.length, size.width, units_of(plan))}{EDGES[panel.outline]}, cut along its middle, as "
        f"it lies in the press: show face {'up' if plan.layup.face_is_up else 'down'}."
    )
    if plan.cut is not None:
        yield "This is its size in plan: off the form it is cut plumb, along the line on the blank of its upper face."
    if isinstance(plan.outline, Pathed):
        yield "A–A shows sheets as long as they are at their longest; along the middle they may end before."
    if plan.outline.loops[1:]:
        yield "Holes are cut through the finished panel: core and veneers are pressed whole."
    if plan.layup.is_bent:
        yield _released(plan)


def _end(plan: Plan) -> Iterator[str]:
    """What an end of a taper shows."""
    panel, units = plan.layup.panel, units_of(plan)
    yield (
        f"The panel tapers: this is its {plan.end} end, {said(panel.length, units)} along the curve, cut in the plane of "
        f"that end as it lies in the press: show face {'up' if plan.layup.face_is_up else 'down'}."
    )
    sheet = plan.stack.sheet
    if isinstance(sheet, EndSheet) and sheet.lean > 1.0005:
        yield (
            f"Layers lie square to the sloping face, so that this plane cuts them {decimal(100.0 * (sheet.lean - 1.0), 1)} % "
            "thicker than they are; the parts list has their true thickness."
        )
    yield _released(plan)


def _released(plan: Plan) -> str:
    """Sizes of the show face off the form."""
    sheet, height, half = plan.released, show_height(plan), 0.5 * plan.outline.length
    is_even = sheet.profile.is_even
    t = np.array([-half, 0.0, half]) if is_even else np.concatenate(([-half], sheet.profile.places(), [half]))
    points = sheet.place(t, np.zeros_like(t), height)[:, [0, 2]]
    chord, rise = float(math.dist(points[0], points[-1])), float(np.ptp(points[:, 1]))
    radius, _ = radius_at(sheet, height, sheet.profile.tightest())
    least = "" if is_even else "least "
    share = 0.0 if plan.spring is None else 100.0 * plan.spring.used
    opens = (
        f"Off the form the work opens by {decimal(share, 1)} % of its turn; then the show face has"
        if share
        else "No springback is allowed for; off the form the show face has"
    )
    return f"{opens} chord {said(chord, units_of(plan))}, rise {said(rise, units_of(plan))}, {least}R {said(radius, units_of(plan))}."


def _bag(plan: Plan) -> Iterator[str]:
    if plan.is_undercut:
        yield "The bend turns past the half round: neither form nor bag is designed or drawn."
        return
    bag, valve = plan.bag, plan.valve
    yield (
        f"Bag inside, lying flat: {said_size(bag.length, bag.width, units_of(plan))}. Film as it lies under vacuum, drawn off the "
        "work; flanges are shortened."
    )
    along, across = (said(size, units_of(plan)) if size else "" for size in bag.film_short)
    if along or across:
        yield film_short(along, across)
    ends = ("closed end", "left seam") if bag.kind in CLOSED_KINDS else ("left end", "left side")
    yield (
        f"Middle of the valve on the flat bag: {said(valve.from_closed_end, units_of(plan))} from the {ends[0]}, "
        f"{said(valve.from_left_seam, units_of(plan))} from the {ends[1]}."
    )


def _drawing(plan: Plan) -> Iterator[str]:
    in_detail = "in Z thin sheets are thicker than to scale and thick parts are broken."
    glue = next((layer for layer in plan.stack.layers if layer.role == "adhesive"), None)
    if glue is None:
        yield f"In {cut_letters(plan)} sheets too thin to hatch are black; {in_detail}"
    else:
        yield (
            f"Glue lines as wet: {said(glue.thickness, units_of(plan))} each; white where drawn. In {cut_letters(plan)} sheets too thin to hatch are "
            f"black and glue lines left out; {in_detail}"
        )
    core = next((layer for layer in plan.stack.layers if layer.lipping), None)
    if core is not None:
        yield f"The core is drawn with its lipping, {said(core.lipping, units_of(plan))} wide, which is glued on and flushed before."
    if plan.form is not None and plan.form.ribs is not None:
        yield f"The form is cut through a bay in {cut_letters(plan)}; the rib behind it is seen, with no hatching. It has drawings of its own."
    yield f"Sheets that reach past the work drape over its edges under vacuum, as in {cut_letters(plan)}; in Z they are drawn straight."


def _sizes(plan: Plan) -> Iterator[str]:
    middle = " Blanks are measured flat, at mid-thickness of each sheet." if plan.layup.is_bent else ""
    yield f"Sizes from nominal thicknesses. Where no tolerance is given: ± {said(TOLERANCE, units_of(plan))} (common practice).{middle}"
