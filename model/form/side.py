"""Which side of the bend the form lies on, and why."""

from dataclasses import dataclass

from ..layup.layup import Layup


@dataclass(frozen=True, slots=True, kw_only=True)
class FormSide:
    """Side of the bend that the form lies on, as seen from the work.

    Parameters
    ----------
    side
        ``"inside"`` of the bend, under a crown, or ``"outside"``, in whose hollow the work lies.
    reasons
        What speaks for this side.
    price
        What it costs against the other one.
    """

    side: str
    reasons: tuple[str, ...]
    price: str


def form_side(layup: Layup) -> FormSide:
    """Side of the form of a bent layup.

    Source: common practice; that tight film adds pressure over a crown and takes some away in a hollow is statics.
    """
    shown = f"the show face, {layup.bend.show_face if layup.bend else 'outside'} of the bend,"
    if layup.press.lay == "convex":
        return FormSide(
            side="inside",
            reasons=(
                "the film drapes over a crown by itself and presses a little more the tighter it is",
                f"{shown} lies uppermost, where it can be seen and its joints stay clean"
                if layup.face_is_up
                else "the plies are bent down from their middle, so that none of them is trapped",
            ),
            price=""
            if layup.face_is_up
            else f"{shown} lies on the form, out of sight until the bag is opened",
        )
    return FormSide(
        side="outside",
        reasons=(
            f"{shown} lies uppermost, where it can be seen and its joints stay clean"
            if layup.face_is_up
            else f"the form gives {shown} its shape, free of every fault of thickness",
        ),
        price="the film has to reach the bottom of the hollow, and tight film presses less there",
    )
