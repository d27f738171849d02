"""The service calendar, for any calendar program.

Source: RFC 5545, Internet Calendaring and Scheduling (iCalendar): 3.1 content lines, 3.3.10 recurrence, 3.3.11 text,
3.6.1 events; RFC 7986, 5.1 the name of a calendar, 5.2 its description and 5.3 identifiers without a host's name.
"""

from __future__ import annotations

import datetime as dt
import re
import uuid
from collections.abc import Iterator
from typing import Final

from enfilade.export.document import Document
from enfilade.export.issue import about_lines
from enfilade.standards.cautions import cautions
from enfilade.walkthrough.services import ServiceDue, services_of
from enfilade.walkthrough.tables import each_once

__all__ = ["calendar_text", "write"]

_IDS: Final = uuid.UUID("6f2b1f0e-8a34-5c1d-9b7e-3d5a20c4e871")
"""Identifiers are made within this one from what an event is, so that it keeps its own through every issue."""
_LONGEST_BYTES: Final = 75
_SHORTEST_MONTH: Final = 28
_NOT_TEXT: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufeff]")


def write(document: Document) -> dict[str, bytes]:
    """Return `service.ics`; nothing when no service has a day, for a calendar must hold something (RFC 5545, 3.6)."""
    project = document.telling.project
    services = services_of(project)
    dated = [one for one in services if one.first is not None]
    if not services:
        document.progress("no service is recorded, so there is no service calendar")
    elif len(dated) < len(services):
        left = len(services) - len(dated)
        words = "service has no first day and is" if left == 1 else "services have no first day and are"
        document.progress(f"{left} {words} not in the calendar")
    if not dated:
        return {}
    pages = document.pages
    text = calendar_text(dated, project.id, pages.title, project.show.date, "\n".join(about_lines(pages)))
    return {"service.ics": text.encode("utf-8")}


def calendar_text(
    services: list[ServiceDue], project: str, title: str, stamped: dt.date | None, issue: str = ""
) -> str:
    """Return services as an iCalendar object: one event each, all day, coming back every so many months.

    Args:
        services: Each with a first day; the rest are left out.
        project: Id of the project, a part of every event's identifier.
        title: What the calendar is called.
        stamped: Day that the record bears; None takes each event's own first day, so that the same record gives
            the same bytes.
        issue: Which issue of the record it is made from, what changed since the last one, and what is undecided.
    """
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//enfilade//service calendar//EN", "CALSCALE:GREGORIAN"]
    lines.append(f"NAME:{_text(f'Service, {title}')}")
    if issue:
        lines.append(f"DESCRIPTION:{_text(issue)}")
    for service in services:
        if service.first is not None:
            lines += _event(service, service.first, project, stamped or service.first)
    lines.append("END:VCALENDAR")
    return "".join(f"{folded}\r\n" for line in lines for folded in _folded(line))


def _event(service: ServiceDue, first: dt.date, project: str, stamped: dt.date) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{uuid.uuid5(_IDS, f'{project}/{service.id}')}"
    yield f"DTSTAMP:{_day(stamped)}T000000Z"
    yield f"DTSTART;VALUE=DATE:{_day(first)}"
    yield f"RRULE:{_rule(service)}"
    yield f"SUMMARY:{_text(f'{service.what}: {service.of}')}"
    about = [f"By {service.by}." if service.by else "", service.care, cautions()["service"]]
    if description := "\n".join(words for words in about if words):
        yield f"DESCRIPTION:{_text(description)}"
    if service.rooms:
        yield f"LOCATION:{_text(each_once(service.rooms))}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def _rule(service: ServiceDue) -> str:
    """Return how an event comes back. After the 28th, the last day that a shorter month has is asked for by name."""
    rule = f"FREQ=MONTHLY;INTERVAL={service.every_months}"
    day = service.counted_from.day if service.counted_from is not None else 1
    if day <= _SHORTEST_MONTH:
        return rule
    days = ",".join(str(one) for one in range(_SHORTEST_MONTH, day + 1))
    return f"{rule};BYMONTHDAY={days};BYSETPOS=-1"


def _day(day: dt.date) -> str:
    return f"{day.year:04d}{day.month:02d}{day.day:02d}"


def _text(text: str) -> str:
    """Return text as a value: its own commas, semicolons, backslashes and line ends escaped, control signs left out."""
    plain = _NOT_TEXT.sub(" ", re.sub(r"\r\n?|[\u2028\u2029\x85]", "\n", text))
    for sign, written in (("\\", "\\\\"), (";", "\\;"), (",", "\\,"), ("\n", "\\n")):
        plain = plain.replace(sign, written)
    return plain


def _folded(line: str) -> Iterator[str]:
    """Yield a content line in pieces of at most 75 octets, each after the first behind a space; no letter is cut."""
    piece: list[str] = []
    room, lead = _LONGEST_BYTES, ""
    for sign in line:
        size = len(sign.encode("utf-8"))
        if size > room:
            yield lead + "".join(piece)
            piece, room, lead = [], _LONGEST_BYTES - 1, " "
        piece.append(sign)
        room -= size
    yield lead + "".join(piece)
