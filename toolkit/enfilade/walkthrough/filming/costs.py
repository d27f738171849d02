"""What speaks against a camera, in one measure for the search of places and for places that are given.

How much each thing counts is our own choice: no standard weighs them.
"""

from __future__ import annotations

from collections.abc import Container, Iterable
from typing import Final

import numpy as np

from enfilade.geometry.sightlines import Floats
from enfilade.walkthrough.filming.camera import FULL, Framed, Kit
from enfilade.walkthrough.filming.ground import Ground
from enfilade.walkthrough.filming.sizes import Size

__all__ = ["OUT_OF_FRAME", "TOO_NEAR", "TOO_NEAR_MM", "against_light", "framing"]

OUT_OF_FRAME: Final = 40.0
"""Against a camera from which the subject does not fit the picture: more than anything else can."""
TOO_NEAR_MM: Final = 900.0
"""What stands nearer before the lens than this fills the picture as a blur or a wall."""
TOO_NEAR: Final = 1.2
"""Against something so near over the whole width of the picture."""

_TOO_LARGE: Final = 1.5
"""Against filling e times what the size asks; filling so much less counts 1."""
_SHIFTED: Final = 0.04
_TILTED: Final = 0.45
_A_DEGREE: Final = 1 / 20
"""Against each degree that it is tilted."""
_WINDOW: Final = 0.05
_AHEAD: Final = 0.94
"""Cosine of the 20 degrees within which a window is looked into."""


def framing(framed: Framed, kit: Kit, size: Size, *, across: bool, upright: bool) -> tuple[Floats, Floats]:
    """Return how much of the picture a subject fills, and what speaks against that: by place, lens and mode.

    A camera that does not see the subject is infinitely bad.

    Args:
        framed: The subject, from each place.
        kit: Lenses and picture.
        size: What it should fill.
        across, upright: Whether its width and its height must fit.
    """
    fills = framed.fills(kit, across=across, upright=upright)
    seen = np.isfinite(fills) & (fills > 0)
    off = np.log(np.where(seen, fills, 1.0) / size.fills)
    costs = np.where(off > 0, _TOO_LARGE * off, -off) + np.where(fills > FULL, OUT_OF_FRAME, 0.0)
    costs[:, :, 1] += _SHIFTED
    costs[:, :, 2] += _TILTED + np.degrees(np.abs(framed.pitch))[:, None] * _A_DEGREE
    return fills, np.where(seen, costs, np.inf)


def against_light(
    ground: Ground, spaces: Iterable[str], eyes: Floats, yaw: Floats, besides: Container[str] = ()
) -> Floats:
    """Return a little for each window that faces the camera from within 20 degrees of where it looks.

    Args:
        ground: The house.
        spaces: The rooms whose windows count.
        eyes: x, y, height in rows [mm].
        yaw: Where each looks, in a row for each of them, or in one row for all [rad].
        besides: Ids of windows that do not count, since they are what is shown.
    """
    cost = np.zeros(np.broadcast_shapes((len(eyes), 1), yaw.shape))
    for space in spaces:
        for reveal in ground.solids.rooms[space].reveals:
            if reveal.glass and reveal.outdoors and reveal.door.id not in besides:
                to = np.array(reveal.near.midpoint) - eyes[:, :2]
                ahead = to[:, :1] * np.cos(yaw) + to[:, 1:] * np.sin(yaw)
                inside = to @ np.array(reveal.near.outward) < 0
                cost += np.where((ahead > _AHEAD * np.hypot(*to.T)[:, None]) & inside[:, None], _WINDOW, 0.0)
    return cost
