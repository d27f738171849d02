"""A project beside what was found of it: as it stands now, or as it was kept."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Callable, Container, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from enfilade.archive.contents import FINDINGS
from enfilade.checks.run import check, project_yardstick
from enfilade.errors import BadRecord, EnfiladeError, Fault
from enfilade.findings import Finding, Requirement
from enfilade.project.project import Project
from enfilade.project.store import HOUSE_RULES
from enfilade.quantities import Quantity
from enfilade.sources import Source
from enfilade.standards.house_rules import with_house_rules
from enfilade.standards.yardsticks import Yardstick
from enfilade.standards.yardsticks import yardstick as named_yardstick

if TYPE_CHECKING:
    from enfilade.archive.store import Store

__all__ = ["Stated", "findings_from", "findings_kept", "kept_state", "state_of", "stated"]

_TUPLES = ("subjects", "needs", "assumed", "working", "also")


@dataclass(frozen=True)
class Stated:
    """A project, its findings, and the rules by which they were found."""

    project: Project
    findings: tuple[Finding, ...]
    rules: Yardstick


def stated(project: Project, findings: Iterable[Finding] | None = None, rules: Yardstick | None = None) -> Stated:
    """Return a project with its findings; those that are not given are found by its own yardstick.

    Raises:
        NotFound, Refused, BadRecord: Its yardstick is unknown, or the house rules in its folder cannot be taken.
    """
    rules = rules or project_yardstick(project)
    return Stated(project, tuple(check(project, yardstick=rules) if findings is None else findings), rules)


def kept_state(store: Store, project: str, number: int | None = None) -> Stated:
    """Return a version of the archive with the findings that were kept with it, else with those of today's rules.

    Raises:
        NotFound: There is no such version.
        BadRecord: What the archive holds of it is damaged.
    """
    number = number or store.version(project).number
    house, paths = store.project(project, number), store.paths(project, number)
    return state_of(house, paths, lambda path: store.file(project, path, number))


def state_of(house: Project, paths: Container[str], file: Callable[[str], bytes]) -> Stated:
    """Return a kept project with the findings and house rules that were kept with it.

    Args:
        house: The project of that version.
        paths: The files that the version holds.
        file: Gives the bytes of one of them.
    """
    rules = named_yardstick(house.yardstick)
    if HOUSE_RULES in paths:
        # They could be taken when it was kept; a rule that is gone since must not hide the version.
        with contextlib.suppress(EnfiladeError, UnicodeDecodeError):
            rules = with_house_rules(rules, file(HOUSE_RULES).decode("utf-8-sig"))
    return stated(house, findings_kept(file(FINDINGS) if FINDINGS in paths else None), rules)


def findings_kept(data: bytes | None) -> tuple[Finding, ...] | None:
    """Return the findings that were kept with a version, None where there are none that can be read."""
    try:
        return None if data is None else findings_from(data)
    except BadRecord:
        return None


def findings_from(data: bytes, file: str = FINDINGS) -> tuple[Finding, ...]:
    """Read findings as `findings_bytes` wrote them; their marks were not kept.

    Raises:
        BadRecord: It is no such file; the place says which finding.
    """
    try:
        plain = json.loads(data)
    except (ValueError, RecursionError) as error:
        raise BadRecord(file, [Fault("top", "is not JSON", "a list of findings")]) from error
    if not isinstance(plain, list):
        raise BadRecord(file, [Fault("top", "is no list", "a list of findings")])
    found = []
    for place, one in enumerate(plain, 1):
        try:
            found.append(_finding(one))
        except (EnfiladeError, TypeError, ValueError, LookupError, AttributeError) as error:
            raise BadRecord(file, [Fault(f"finding {place}", "cannot be read", "a finding")]) from error
    return tuple(found)


def _finding(plain: dict[str, Any]) -> Finding:
    fields = {name: value for name, value in plain.items() if name not in ("verdict", "margin", "marks")}
    fields["source"] = Source(**fields["source"])
    if fields.get("measured") is not None:
        fields["measured"] = Quantity(**fields["measured"])
    if fields.get("required") is not None:
        asked = fields["required"]
        value = asked["value"]
        fields["required"] = Requirement(**{**asked, "value": tuple(value) if isinstance(value, list) else value})
    for name in _TUPLES:
        fields[name] = tuple(fields.get(name, ()))
    if not all(isinstance(fields[name], str) for name in ("id", "rule", "title", "level")):
        raise TypeError("a text is expected")
    return Finding(**fields)
