"""The eye of the drawn views: the same directions and the same light as the viewer's camera (``camera.js``)."""

from dataclasses import dataclass

import numpy as np

from ...model.scene import Points
from ...model.shape.profile import Floats
from ...model.units import Radian

LAMP: Floats = np.array([0.303, -0.404, 0.863])


@dataclass(frozen=True, slots=True, kw_only=True)
class Eye:
    """A parallel view: turned about z, then raised above the bench."""

    turn: Radian
    rise: Radian

    @property
    def back(self) -> Floats:
        """Unit direction from the work to the eye."""
        return np.array(
            [np.sin(self.turn) * np.cos(self.rise), -np.cos(self.turn) * np.cos(self.rise), np.sin(self.rise)]
        )

    def see(self, points: Points) -> Points:
        """Points ``(n, 3)`` as right, up and toward the eye, mm."""
        right = np.array([np.cos(self.turn), np.sin(self.turn), 0.0])
        seen: Points = points @ np.column_stack((right, np.cross(self.back, right), self.back))
        return seen


CORNER = Eye(turn=0.6, rise=0.5)


def light(normals: Points) -> Floats:
    """Share of a colour's brightness on faces with these normals, 0 to 1."""
    shares: Floats = 0.64 + 0.36 * (0.5 + 0.5 * normals @ LAMP)
    return shares
