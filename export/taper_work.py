"""Everything that follows the tapered sheet of a plan: what all of its bodies share."""

import numpy as np

from ..model.plan import Plan, Taper
from ..model.shape.plane_cut import plane_places
from ..model.tapered_blanks import tapered_outline
from .taper_levels import Work, work_on


def taper_work(plan: Plan, taper: Taper) -> Work:
    """Panes and surfaces for the layers of a taper and for the face of its form."""
    sheet, layers = taper.states.pressed, plan.stack.layers
    widest = max((tapered_outline(layer) for layer in layers), key=lambda outline: outline.margin)
    first, last = widest.ends
    heights = {0.0, *(height for layer in layers for height in (layer.height, layer.top))}
    form = None if plan.form is None else plan.form.carcase
    if plan.form is not None:
        heights |= {height for skin in plan.form.skins for height in (skin.low, skin.high)}
    half = 0.5 * sheet.profile.length
    if form is not None:
        first, last = min(first, -half - form.past), max(last, half + form.past)
    u = np.linspace(first, last, 401)
    rows = list(widest.bounds(u))
    if form is not None:
        rows += [
            plane_places(sheet, side * 0.5 * form.width, height, u)
            for side in (-1.0, 1.0)
            for height in heights
        ]
    every = np.concatenate(rows)
    return work_on(
        sheet, taper.lift, (first, last), (float(every.min()), float(every.max())), sorted(heights)
    )
