"""Springback: how far a bend opens off its form, and how much tighter the form is bent for it."""

from collections.abc import Iterator

from ..mechanics.bending import OFFSET
from ..mechanics.springback import RELEASE, springback_ratio
from ..plan import Plan
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


def springback_values(plan: Plan) -> Iterator[Value]:
    """Share of the bend that is lost, turn on the form and off it, radius of the form and of the show face."""
    if plan.spring is None or plan.layup.bend is None:
        return
    yield springback_ratio.value("springback.ratio", i_f=plan.spring.plies.free, i_g=plan.spring.plies.glued)
    if plan.layup.form.springback is not None:
        yield springback_of_trial.value("springback.trial", p=plan.layup.form.springback)
    pressed, released = plan.stack.sheet, plan.released
    if plan.layup.bend.curve == FORM_FACE:
        yield released_turn.value(
            "springback.released_turn", theta_f=abs(pressed.profile.turn), s=plan.spring.used
        )
    else:
        yield pressed_turn.value("springback.pressed_turn", theta=plan.layup.bend.angle, s=plan.spring.used)
    length, work = pressed.profile.length, plan.stack.work
    show = work[-1].top if plan.layup.face_is_up else work[0].height
    yield form_radius.value(
        "springback.form_radius", k=pressed.profile.turn / length, d=0.0 - pressed.reference
    )
    yield show_face_radius.value(
        "springback.show_face", k=released.profile.turn / length, d=show - released.reference
    )
