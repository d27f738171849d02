"""All checks held against a project."""

from __future__ import annotations

import importlib
import pkgutil
from collections import OrderedDict
from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from enfilade import checks
from enfilade.checks.registry import CHECKS, EVERYTHING, PARTS, Check
from enfilade.checks.view import House, View
from enfilade.errors import BadRecord, NotFound
from enfilade.findings import Finding
from enfilade.project.project import Project
from enfilade.project.store import FILE, HOUSE_RULES
from enfilade.standards.house_rules import LIMIT_BYTES, with_house_rules
from enfilade.standards.yardsticks import Yardstick
from enfilade.standards.yardsticks import yardstick as named_yardstick

if TYPE_CHECKING:
    from collections.abc import Iterator

__all__ = ["HOUSE_RULES", "all_checks", "check", "project_yardstick"]

_Inputs = tuple[Any, ...]
_CACHE: OrderedDict[tuple[str, str], tuple[Yardstick, tuple[int, ...], _Inputs, tuple[Finding, ...]]] = OrderedDict()
"""Findings by check and space, with what they were made from: the records are held, so that their ids stay theirs."""
_CACHED: Final = 4096
"""Entries that stay beside those of the house that was checked last."""
_latest: House | None = None


@cache
def all_checks() -> tuple[Check, ...]:
    """Return every check, in the order of its module's name; each module of this package registers its own."""
    for module in sorted(info.name for info in pkgutil.iter_modules(checks.__path__)):
        importlib.import_module(f"{checks.__name__}.{module}")
    return tuple(sorted(CHECKS, key=lambda one: one.name.partition(".")[0]))


def check(project: Project, space: str | None = None, yardstick: str | Yardstick | None = None) -> list[Finding]:
    """Hold a project against the published rules.

    Args:
        project: The declared house; it is not changed.
        space: Id of one space; None for the whole house.
        yardstick: Name of a set of rules, or one with house rules; None takes the project's own,
            with the house rules in its folder.
    Returns:
        One finding for all that was looked at, met ones too, by space and rule.
    Raises:
        NotFound: The space or the yardstick does not exist.
    """
    rules = _rules(project, yardstick)
    if space is not None:
        project.space(space)
    house = _house(project)
    memos: dict[str, dict[Any, Any]] = {name: {} for name in house.spaces}
    found: dict[str, Finding] = {}
    for one in all_checks():
        for view in _views(one, house, memos, space):
            for finding in _judged(one, view, rules):
                # A door or an aisle between two spaces is judged from both; what falls short from one side stays.
                if finding.id not in found or finding.verdict == "falls short":
                    found[finding.id] = finding
    # A house with more views than the memory holds would push out each before it is asked for again.
    while len(_CACHE) > _CACHED + len(all_checks()) * len(house.spaces):
        _CACHE.popitem(last=False)
    return list(found.values())


def project_yardstick(project: Project, name: str | None = None) -> Yardstick:
    """Return a project's yardstick, made stricter by the house rules that lie in its folder.

    The same name and the same house rules give the same object, so that findings are remembered by it.

    Raises:
        NotFound: The yardstick does not exist.
        Refused: The house rules cannot be read, or hold what cannot be taken.
    """
    folder = Path(project._loaded[0]) if project._loaded is not None else None
    try:
        rules = named_yardstick(name or project.yardstick)
    except NotFound as error:
        if name:
            raise
        file = folder / FILE if folder else "project"
        what = f"{file}: yardstick: {project.yardstick!r} is unknown"
        raise NotFound(what, expected=error.expected, do=error.do) from error
    path = folder / HOUSE_RULES if folder else None
    return rules if path is None or not path.exists() else _by_house_rules(rules, path)


def _by_house_rules(rules: Yardstick, path: Path) -> Yardstick:
    try:
        with path.open("rb") as stream:
            data = stream.read(LIMIT_BYTES + 1)
        text = data.decode("utf-8-sig") if len(data) <= LIMIT_BYTES else None
    except (OSError, UnicodeDecodeError):
        text = None
    if text is None:
        return with_house_rules(rules, path)  # It says what is wrong with the file.
    try:
        return _stricter(rules.name, text)
    except BadRecord as error:
        raise BadRecord(str(path), error.faults) from error


@lru_cache(maxsize=8)
def _stricter(name: str, text: str) -> Yardstick:
    """Return a yardstick with house rules, the same object for the same text: findings are remembered by it."""
    return with_house_rules(named_yardstick(name), text)


def _house(project: Project) -> House:
    """Return a house worked out on from the one that was checked last: mostly that one, with one thing moved."""
    global _latest
    _latest = house = House(project, _latest)
    return house


def _rules(project: Project, yardstick: str | Yardstick | None) -> Yardstick:
    return yardstick if isinstance(yardstick, Yardstick) else project_yardstick(project, yardstick)


def _views(one: Check, house: House, memos: dict[str, dict[Any, Any]], only: str | None) -> Iterator[View]:
    if one.scope == "house":
        if only is None and house.spaces:
            yield View(house, one.reads, next(iter(house.spaces.values())), scope="house")
        return
    for space in house.spaces.values() if only is None else (house.spaces[only],):
        if one.uses is None or space.use in one.uses:
            yield View(house, one.reads, space, memo=memos[space.id])


def _judged(one: Check, view: View, rules: Yardstick) -> tuple[Finding, ...]:
    """Return a check's findings, from memory when nothing that it reads has changed."""
    key = (one.name, view.space.id)
    read, ids = _inputs(one, view)
    kept = _CACHE.get(key)
    if kept is not None and kept[0] is rules and kept[1] == ids:
        _CACHE.move_to_end(key)
        return kept[3]
    findings = tuple(one.judge(view, rules))
    _CACHE[key] = (rules, ids, read, findings)
    _CACHE.move_to_end(key)  # a key that was there keeps its old place otherwise
    return findings


def _inputs(one: Check, view: View) -> tuple[_Inputs, tuple[int, ...]]:
    """Return the records that a check may read, and their ids; worked out once for all that read the same.

    Records are frozen, so the same object says the same thing.
    """
    key = ("inputs", one.reads)
    if key not in view.memo:
        read = tuple(_read(one, view))
        view.memo[key] = (read, tuple(map(id, read)))
    found: tuple[_Inputs, tuple[int, ...]] = view.memo[key]
    return found


def _read(one: Check, view: View) -> list[Any]:
    house, reads = view.house, one.reads
    if one.scope == "house" and reads == EVERYTHING:
        return [getattr(house.project, name) for name in Project.model_fields]
    spaces = tuple(house.spaces.values()) if one.scope == "house" else view.room
    found: list[Any] = [*spaces]
    for space in spaces:
        found += house.records_of(space, reads)
    for part in sorted(reads & PARTS):
        if part == "openings":
            # The thing across a doorway matters only through the doorway: its wall, its space.
            doors = [door for space in spaces for door in house.doorways[space.id]]
            found += [record for door in doors for record in (door.opening, house.spaces.get(door.beyond or ""))]
        else:
            found.append(getattr(house.project, part))
    return found
