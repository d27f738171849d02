"""What is said of a thing, an opening or a finding: the words of titles, keys and descriptions."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from enfilade.checks.sentences import asks, measured_words
from enfilade.findings import Finding
from enfilade.lengths import System, show_size
from enfilade.listing import capital
from enfilade.project.choices import Finish, Product
from enfilade.project.furnishings import Screen
from enfilade.project.spaces import Opening
from enfilade.project.surfaces import Surface
from enfilade.project.thing import Thing

__all__ = [
    "finding_sentence",
    "findings_by_subject",
    "opening_title",
    "show_size",
    "size_words",
    "thing_title",
]


def size_words(thing: Thing, system: System) -> str:
    """Return width, depth and heights of a thing in a phrase."""
    wide, deep = show_size(thing.width_mm, system), show_size(thing.depth_mm, system)
    high = show_size(thing.top_mm - thing.bottom_mm, system)
    above = f", {show_size(thing.bottom_mm, system)} above the floor" if thing.bottom_mm > 0 else ""
    return f"{wide} wide, {deep} deep, {high} high{above}"


def thing_title(
    thing: Thing,
    system: System,
    products: Mapping[str, Product],
    finishes: Mapping[str, Finish],
    findings: Iterable[Finding] = (),
) -> str:
    """Return what a pointer is told of a thing: name, size, state, product, finish, what falls short."""
    words = [f"{capital(thing.called)}: {size_words(thing, system)}"]
    if thing.name and thing.kind not in thing.name.lower():
        words.append(thing.kind)
    if isinstance(thing, Surface) and thing.thickness_mm is not None:
        words.append(f"top {show_size(thing.thickness_mm, system)} thick")
    if isinstance(thing, Screen) and thing.diagonal_mm is not None:
        words.append(f"{show_size(thing.diagonal_mm, system)} across the picture")
    if thing.state == "removed":
        words.append("removed")
    elif thing.state == "kept":
        words.append("kept")
    if thing.basis == "assumed":
        words.append("size assumed")
    if thing.product in products:
        words.append(products[thing.product or ""].name)
    if thing.finish in finishes:
        words.append(finishes[thing.finish or ""].name)
    words += [f"{finding.verdict}: {finding.title}" for finding in findings if finding.verdict == "falls short"]
    return "; ".join(words)


def opening_title(opening: Opening, system: System, beyond: str | None, findings: Iterable[Finding] = ()) -> str:
    """Return what a pointer is told of an opening."""
    name = opening.name or opening.kind
    size = f"{show_size(opening.width_mm, system)} wide, {show_size(opening.height_mm, system)} high"
    words = [f"{capital(name)}: {size}"]
    if opening.sill_mm > 0:
        words.append(f"sill {show_size(opening.sill_mm, system)} above the floor")
    if beyond:
        words.append(f"to {beyond}")
    elif opening.beyond == "none":
        words.append("to outdoors")
    if opening.state != "kept":
        words.append(opening.state)
    words += [f"{finding.verdict}: {finding.title}" for finding in findings if finding.verdict == "falls short"]
    return "; ".join(words)


def finding_sentence(finding: Finding, system: System) -> str:
    """Return a finding as one line of a key: the verdict in words, what was measured, what is asked."""
    label = finding.source.label or finding.source.document
    if finding.measured is None or finding.required is None:
        lacks = f": {finding.because}" if finding.because else ""
        return f"{finding.title}: {finding.verdict}{lacks} ({label})"
    measured = measured_words(finding, system)
    return f"{finding.title}: {finding.verdict}, {measured}; {label} asks {asks(finding.required, system)}"


def findings_by_subject(findings: Sequence[Finding]) -> dict[str, list[Finding]]:
    """Return the findings of each subject."""
    found: dict[str, list[Finding]] = {}
    for finding in findings:
        for subject in finding.subjects:
            found.setdefault(subject, []).append(finding)
    return found
