"""Findings and figures in plain sentences."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import Final

from enfilade.findings import Finding, Requirement
from enfilade.lengths import System
from enfilade.project.field_words import field_words
from enfilade.quantities import Quantity, show_quantity
from enfilade.standards.rows import cautions

__all__ = [
    "BECAUSE",
    "BESIDE",
    "LEVELS",
    "VERDICTS",
    "asks",
    "cautions_of",
    "field_words",
    "figure",
    "margin_words",
    "measured_words",
    "need_words",
    "sentence",
    "tally",
]

LEVELS: Final = {
    "code": "Model code",
    "recommended": "Recommended",
    "access": "For access",
    "practice": "Practice",
}
VERDICTS: Final = {"met": "Holds", "falls short": "Falls short", "not assessed": "Not assessed"}
BESIDE: Final = "Does not apply, or its source is silent"
# Fields whose names, read as words, do not say what is asked.
_FIELDS: Final = {
    "clear_width_mm": "how wide it is clear", "corners": "the shape of its corners",
    "drawers": "how many drawers it has", "ducted": "whether it is ducted outdoors",
    "flammable": "whether it can catch fire", "flow_m3h": "how much air it moves",
    "freezer_top_mm": "how high its freezer reaches", "glazing.openable_m2": "how much of the glass opens",
    "glazing.safety_glass": "whether the glass is safety glass",
    "ground_fault_protected": "whether it has ground-fault protection", "latch": "on which side its door opens",
    "make_up_air": "make-up air", "operable": "whether it opens", "opens": "how its doors open",
    "place": "where it stands", "seating": "how one sits at it", "swing": "which way it opens",
    "swing.closer_and_latch": "whether it closes and latches by itself", "underside": "whether its underside can burn",
}  # fmt: skip
BECAUSE: Final = {
    "missing fact": "a fact is not recorded",
    "does not apply": "it does not apply here",
    "source silent": "the source does not say",
}

_IN_OWN_WORDS: Final = frozenset({"T1", "T2", "T3"})
"""Rules of the script whose findings are about one line, which the first sentence of their working quotes."""
_OWN_FAULTS: Final = 3
"""So many faults of a line stand in its sentence (own choice: more is a list)."""


def figure(value: float, requirement: Requirement, system: System) -> str:
    """Write a number that is held in a requirement's unit."""
    return show_quantity(Quantity(value, requirement.unit), system)


@lru_cache(maxsize=1024)
def asks(requirement: Requirement, system: System) -> str:
    """Write what is asked: `at least 42"`, `between 4 and 9`, `none`."""
    if isinstance(requirement.value, tuple):
        low, high = (figure(value, requirement, system) for value in requirement.value)
        return f"between {low} and {high}"
    if requirement.value == 0 and requirement.how in ("at most", "equal"):
        return "none"
    shown = figure(requirement.value, requirement, system)
    if requirement.unit == "mm" and system == "us":
        shown = f"{shown} ({requirement.value:,.0f} mm)"  # printed in millimetres: no sixteenth was ever asked
    return shown if requirement.how == "equal" else f"{requirement.how} {shown}"


def measured_words(finding: Finding, system: System) -> str:
    """Write the measured figure in the unit that the source prints."""
    if finding.measured is None or finding.required is None:
        return "\u2013"
    nothing = finding.measured.value == 0
    if nothing and (finding.required.unit in ("mm2", "count") or asks(finding.required, system) == "none"):
        return "none"
    return show_quantity(finding.measured.to(finding.required.unit), system)


def margin_words(finding: Finding, system: System) -> str:
    """Write what is to spare or missing, such as `7" short`; empty where a figure would say nothing."""
    if finding.margin is None or finding.required is None or finding.required.how == "equal":
        return ""
    plain = finding.verdict == "met" and asks(finding.required, system) == "none"
    if plain or finding.required.unit in ("mm2", "count"):
        return ""
    shown = figure(abs(finding.margin), finding.required, system)
    if finding.verdict == "falls short":
        return f"{shown} short" if _upwards(finding) else f"{shown} too much"
    nothing = figure(0.0, finding.required, system)
    return f"{shown} to spare" if shown != nothing else "exactly"


def _upwards(finding: Finding) -> bool:
    required = finding.required
    if required is None or finding.measured is None or required.how == "at most":
        return False
    if isinstance(required.value, tuple):
        return finding.measured.to(required.unit).value < required.value[0]
    return True


def cautions_of(findings: Iterable[Finding]) -> tuple[str, ...]:
    """Return each caution that findings carry, once; a finding with several hazards carries their texts joined."""
    carried = {finding.caution for finding in findings if finding.caution}
    return tuple(text for text in cautions().values() if any(text in joined for joined in carried))


def tally(findings: Iterable[Finding]) -> dict[str, int]:
    """Count findings by verdict; what lacks a fact apart from what does not apply or is not said."""
    counts = {**dict.fromkeys(VERDICTS.values(), 0), BESIDE: 0}
    for finding in findings:
        beside = finding.because in ("does not apply", "source silent")
        counts[BESIDE if beside else VERDICTS[finding.verdict]] += 1
    return counts


def need_words(need: str, names: Mapping[str, str]) -> str:
    """Write a missing fact as people say it.

    >>> need_words("hood-1.make_up_air", {"hood-1": "range hood"})
    'range hood: make-up air'
    >>> need_words("w-1.glazing.safety_glass", {"w-1": "bath window"})
    'bath window: whether the glass is safety glass'
    >>> need_words("household.gatherings", {})
    'household: gatherings'
    """
    record, dot, rest = need.partition(".")
    if not dot or " " in record:
        return field_words(need)
    return f"{names.get(record, record)}: {_FIELDS.get(rest) or ' '.join(map(field_words, rest.split('.')))}"


def unsaid(finding: Finding) -> tuple[str, ...]:
    """Return what the working of a finding of the script holds beyond its sentence, such as the figures that agree."""
    said = _own_words(finding)
    return finding.working[len(said[: 1 + _OWN_FAULTS]) :] if said else ()


def _own_words(finding: Finding) -> tuple[str, ...]:
    """Return what a finding of the script says in its working of what falls short: the quoted line, then each fault.

    A count of faults says nothing that one could mend; so these findings are told in the words of their working.
    """
    if finding.rule not in _IN_OWN_WORDS or finding.verdict == "met" or len(finding.working) < 2:
        return ()
    wrong = len(finding.working) - 1 if finding.measured is None else int(finding.measured.value)
    return finding.working[: 1 + wrong]


def _told_in_own_words(finding: Finding) -> str:
    quoted, *wrong = _own_words(finding)
    more = f"; and {len(wrong) - _OWN_FAULTS} more" if len(wrong) > _OWN_FAULTS else ""
    each = [" ".join(one.split()).rstrip(".") for one in wrong[:_OWN_FAULTS]]
    said = "; ".join(each if len(each) == 1 else [f"({n}) {one}" for n, one in enumerate(each, 1)]) + more
    lead = finding.title if finding.measured is not None else f"{finding.title}: not assessed"
    return f"{lead}: {quoted}: {said}."


def sentence(finding: Finding, system: System, names: Mapping[str, str] = MappingProxyType({})) -> str:
    """Write a finding in a sentence that a client can read, such as

    `Work aisle, two cooks: 41". Kitchen guideline 6 asks at least 48"; 7" short.`

    Args:
        finding: The finding.
        system: Units for reading.
        names: What people call the records whose facts are missing, by id.
    """
    if _own_words(finding):
        return _told_in_own_words(finding)
    if finding.measured is None or finding.required is None:
        why = BECAUSE[finding.because or "source silent"]
        missing = "; ".join(need_words(need, names) for need in finding.needs)
        needs = f" Needed: {missing}." if missing else ""
        return f"{finding.title}: not assessed, {why}.{needs}"
    margin = margin_words(finding, system)
    tail = f"; {margin}" if margin else ""
    label = finding.source.label or finding.source.document
    return f"{finding.title}: {measured_words(finding, system)}. {label} asks {asks(finding.required, system)}{tail}."
