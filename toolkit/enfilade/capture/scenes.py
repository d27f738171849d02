"""The drawing of the room that a page looks at: made once for a state of the house, for all parts that need it."""

from __future__ import annotations

from typing import Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight
from enfilade.drawings.items import Scene
from enfilade.drawings.scene import plan_scene

__all__ = ["room_scene"]

_KEPT: Final = "scene"


def room_scene(desk: Desk, sight: Sight, room: str) -> Scene:
    """Return the plan of a room with its findings marked."""
    project, at, scene = sight.kept.get(_KEPT, (None, None, None))
    if project is not desk.project or at != room or scene is None:
        scene = plan_scene(desk.project, room, desk.findings(room))
        sight.kept[_KEPT] = (desk.project, room, scene)
    found: Scene = scene
    return found
