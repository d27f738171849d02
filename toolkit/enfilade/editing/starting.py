"""A new project, from what is asked before anything is measured."""

from __future__ import annotations

import re
from collections.abc import Container
from typing import Final

from pydantic import ValidationError

from enfilade.editing.ids import new_id
from enfilade.errors import BadRecord, Fault
from enfilade.lengths import System, inches
from enfilade.project.people import Show
from enfilade.project.project import Project

__all__ = ["assumed_ceiling_mm", "folder_name", "new_project"]

LONGEST_NAME: Final = 200
_LONGEST_FOLDER: Final = 80
_NOT_IN_A_FOLDER: Final = re.compile(r'[<>:"/\\|?*\x00-\x1f\x7f]+')
# Names that Windows keeps for devices, whatever follows the point.
_DEVICES: Final = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?", re.IGNORECASE)


def new_project(name: str, units: str) -> Project:
    """Return a project with nothing in it yet.

    Who lives there stays unknown until it is asked; the yardstick is the general one.

    Args:
        name: What the house is called.
        units: `us` for feet and inches, `metric` for millimetres.
    Raises:
        BadRecord: A name that is empty or too long, or other units.
    """
    name = " ".join(name.split())
    faults = []
    if not name:
        faults.append(Fault("name", "the house has no name yet", "what you call it among yourselves"))
    elif len(name) > LONGEST_NAME:
        faults.append(Fault("name", f"the name has {len(name)} letters", f"at most {LONGEST_NAME}"))
    if units not in ("us", "metric"):
        faults.append(Fault("units", "how lengths are written is not chosen", "feet and inches, or millimetres"))
    if faults:
        raise BadRecord("house", faults)
    try:
        return Project(id=new_id(name, ()), name=name, show=Show(units="us" if units == "us" else "metric"))
    except ValidationError as error:
        what = error.errors(include_url=False)[0]["msg"]
        raise BadRecord("house", [Fault("name", what, "a name in letters")]) from error


def assumed_ceiling_mm(units: System) -> float:
    """Return the ceiling height that is put down until one is measured, to be marked as assumed [mm].

    Source: common practice, no document: 8 ft, or 2440 mm.
    """
    return inches(96) if units == "us" else 2440.0


def folder_name(name: str, taken: Container[str] = ()) -> str:
    """Return a folder's name for a house, which every system can write and which is not among `taken`.

    >>> folder_name("Miller: kitchen / bath")
    'Miller kitchen bath'
    >>> folder_name("Boathouse", {"Boathouse"})
    'Boathouse 2'
    """
    plain = " ".join(_NOT_IN_A_FOLDER.sub(" ", name).split())[:_LONGEST_FOLDER].strip(" .")
    if not plain or _DEVICES.fullmatch(plain):
        plain = f"House {plain}".strip()
    number, free = 1, plain
    while free in taken:
        number += 1
        free = f"{plain} {number}"
    return free
