"""Springback: how far a bend opens off its form, and how much tighter the form is bent for it."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from ..mechanics.bending import OFFSET
from ..mechanics.springback import RELEASE, springback_ratio
from ..plan import Plan
from ..shape.profile import Run
from ..shape.sheet import Sheet
from ..source import COMMON_PRACTICE
from ..states import FORM_FACE
from ..units import Mm, Percent, PerMm, Radian, Ratio
from ..value import Value, formula


@formula("s", "springback that the form allows for, from a trial", "p / 100", COMMON_PRACTICE)
def springback_of_trial(p: Percent) -> Ratio:
    """Share of its turn that a bend lost off the form in a trial of p percent."""
    return p / 100.0


@formula("theta_f", "angle that the work turns through on its form", "theta / (1 - s)", RELEASE)
def pressed_turn(theta: Radian, s: Ratio) -> Radian:
    """Turn of the form that leaves the turn theta when the share s of it is lost; all lengths stay."""
    return theta / (1.0 - s)


@formula("theta", "angle that the panel turns through off the form", "theta_f * (1 - s)", RELEASE)
def released_turn(theta_f: Radian, s: Ratio) -> Radian:
    """Turn that is left of the form's turn theta_f when the share s of it is lost; all lengths stay."""
    return theta_f * (1.0 - s)


@formula("R_f", "radius of the form's face, to be built", "abs(1 / k + d)", OFFSET)
def form_radius(k: PerMm, d: Mm) -> Mm:
    """Radius of the form's face, at d above the curve that was asked for, whose curvature on the form is k."""
    return abs(1.0 / k + d)


@formula("R", "radius of the show face off the form", "abs(1 / k + d)", OFFSET)
def show_face_radius(k: PerMm, d: Mm) -> Mm:
    """Radius of the show face, at d above the curve that was asked for, whose curvature off the form is k."""
    return abs(1.0 / k + d)


tightest_form = replace(form_radius, name="least radius of the form's face to build")
tightest_show_face = replace(show_face_radius, name="least radius of the show face off the form")


def springback_values(plan: Plan) -> Iterator[Value]:
    """Share of the bend that is lost, turn on the form and off it, radius of the form and of the show face."""
    if plan.spring is None or plan.layup.bend is None:
        return
    yield springback_ratio.value("springback.ratio", i_f=plan.spring.plies.free, i_g=plan.spring.plies.glued)
    if plan.layup.form.springback is not None:
        yield springback_of_trial.value("springback.trial", p=plan.layup.form.springback)
    if plan.taper is not None:
        # radii are told for both ends
        return
    yield from _turns(plan, plan.spring.used)
    pressed, released = plan.stack.sheet, plan.released
    work = plan.stack.work
    show = work[-1].top if plan.layup.face_is_up else work[0].height
    is_even = pressed.profile.is_even
    build, shown = (form_radius, show_face_radius) if is_even else (tightest_form, tightest_show_face)
    # past the half round there is no form to build
    if not plan.is_undercut:
        yield build.value("springback.form_radius", k=_tightest(pressed, 0.0), d=0.0 - pressed.reference)
    yield shown.value("springback.show_face", k=_tightest(released, show), d=show - released.reference)


def _turns(plan: Plan, used: Ratio) -> Iterator[Value]:
    """Turn of an arc on the form or off it; turn and radius of the form at every arc of a chain."""
    pressed, layup = plan.stack.sheet, plan.layup
    assert layup.bend is not None
    assert layup.curve is not None
    if pressed.profile.is_even:
        if layup.bend.curve == FORM_FACE:
            yield released_turn.value("springback.released_turn", theta_f=abs(pressed.profile.turn), s=used)
        else:
            yield pressed_turn.value("springback.pressed_turn", theta=layup.bend.angle, s=used)
        return
    allowed = 0.0 if layup.bend.curve == FORM_FACE else used
    pairs = zip(layup.curve.pieces, pressed.profile.pieces, strict=True)
    for number, (asked, piece) in enumerate(pairs, 1):
        if isinstance(piece, Run) and piece.curvature:
            key = f"springback.piece-{number}"
            yield pressed_turn.value(f"{key}.pressed_turn", theta=abs(asked.turn), s=allowed)
            if plan.is_undercut:
                continue
            yield form_radius.value(f"{key}.form_radius", k=piece.curvature, d=0.0 - pressed.reference)


def _tightest(sheet: Sheet, height: Mm) -> PerMm:
    """Curvature of the profile where the sheet has its least radius at a height."""
    k = sheet.profile.bend(sheet.profile.places())
    k = k[k != 0.0]
    return float(k[int(np.abs(1.0 / k + height - sheet.reference).argmin())])
