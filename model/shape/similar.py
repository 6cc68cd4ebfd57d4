"""A curve in proportion: every length multiplied, every angle kept."""

from dataclasses import dataclass

from .curve import Course, CurvePiece, TurnedPiece
from .profile import Floats, Piece, Profile, Run


@dataclass(frozen=True, slots=True)
class EnlargedCourse:
    """A course with all of its lengths multiplied; its parameter stays."""

    course: Course
    factor: float

    @property
    def start(self) -> float:
        """Parameter of the first end."""
        return self.course.start

    @property
    def end(self) -> float:
        """Parameter of the last end."""
        return self.course.end

    def at(self, u: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Points and derivatives by u."""
        point, first, second, third = self.course.at(u)
        return self.factor * point, self.factor * first, self.factor * second, self.factor * third

    def breaks(self) -> Floats:
        """Parameters between which the curve is smooth."""
        return self.course.breaks()


def enlarged(profile: Profile, factor: float) -> Profile:
    """Profile with every length multiplied; it heads the same way everywhere."""
    return Profile(tuple(_piece(piece, factor) for piece in profile.pieces))


def _piece(piece: Piece, factor: float) -> Piece:
    if isinstance(piece, Run):
        return Run(piece.length * factor, piece.curvature / factor)
    if isinstance(piece, TurnedPiece):
        return TurnedPiece(_piece(piece.piece, factor), piece.factor)
    assert isinstance(piece, CurvePiece)
    return CurvePiece(EnlargedCourse(piece.course, factor))
