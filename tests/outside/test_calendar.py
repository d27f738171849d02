"""The service calendar, read back with a general-purpose library and held against another one's dates."""

from __future__ import annotations

import datetime as dt
from itertools import islice

import icalendar
import pytest
from dateutil.rrule import rrulestr
from hypothesis import given
from hypothesis import strategies as st

from enfilade.errors import OutOfRange
from enfilade.export.calendar import calendar_text
from enfilade.trade.intervals import months_after, next_on
from enfilade.walkthrough.services import ServiceDue, every_words

days = st.dates(dt.date(1990, 1, 1), dt.date(2100, 12, 31))
intervals = st.integers(1, 60)
texts = st.text(max_size=120) | st.sampled_from(["a\r\nBEGIN:VALARM", "x;y,z\\n", "\u6728" * 60, "-->", "\x00\x07\x85"])


def service(first: dt.date, every: int, *, base: dt.date | None = None, **words: str) -> ServiceDue:
    about = {"what": "Oil", "of": "counter", "by": "the household", "care": ""} | words
    return ServiceDue("products/counter/oil", **about, rooms=("Kitchen",), every_months=every,
                      counted_from=base or first, first=first)  # fmt: skip


def events(text: str) -> list[icalendar.Event]:
    return list(icalendar.Calendar.from_ical(text).walk("VEVENT"))


def expanded(event: icalendar.Event, count: int) -> list[dt.date]:
    start = dt.datetime.combine(event.decoded("DTSTART"), dt.time())
    rule = rrulestr(event["RRULE"].to_ical().decode(), dtstart=start)
    return [day.date() for day in islice(rule, count)]


@given(days, intervals)
def test_an_event_comes_back_on_the_days_that_another_library_finds(first: dt.date, every: int) -> None:
    (event,) = events(calendar_text([service(first, every)], "house", "House", None))
    assert event.decoded("DTSTART") == first
    assert expanded(event, 12) == [months_after(first, every * turn) for turn in range(12)]


@given(days, intervals)
def test_the_first_time_after_delivery_is_the_first_of_the_rule(delivered: dt.date, every: int) -> None:
    first = months_after(delivered, every)
    (event,) = events(calendar_text([service(first, every, base=delivered)], "house", "House", None))
    assert expanded(event, 12) == [months_after(delivered, every * turn) for turn in range(1, 13)]


def test_the_end_of_the_month() -> None:
    # RFC 5545, 3.3.10: a rule leaves out days that a month does not have; so the last one that there is is asked for.
    (event,) = events(calendar_text([service(dt.date(2027, 8, 31), 6)], "house", "House", None))
    assert expanded(event, 4) == [
        dt.date(2027, 8, 31),
        dt.date(2028, 2, 29),
        dt.date(2028, 8, 31),
        dt.date(2029, 2, 28),
    ]
    (leap,) = events(calendar_text([service(dt.date(2028, 2, 29), 12)], "house", "House", None))
    assert expanded(leap, 5)[::4] == [dt.date(2028, 2, 29), dt.date(2032, 2, 29)]
    (usual,) = events(calendar_text([service(dt.date(2027, 8, 28), 6)], "house", "House", None))
    assert usual["RRULE"].to_ical() == b"FREQ=MONTHLY;INTERVAL=6"


@given(texts, texts, texts, texts)
def test_text_reads_back_and_stays_text(what: str, of: str, by: str, care: str) -> None:
    text = calendar_text([service(dt.date(2026, 1, 1), 1, what=what, of=of, by=by, care=care)], "house", of, None)
    found = icalendar.Calendar.from_ical(text)
    assert [part.name for part in found.walk()] == ["VCALENDAR", "VEVENT"]
    (event,) = found.walk("VEVENT")
    assert plain(str(event["SUMMARY"])) == plain(f"{what}: {of}")
    assert plain(care) in plain(str(event.get("DESCRIPTION", "")))


def plain(text: str) -> str:
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())


@given(texts)
def test_lines_are_folded_at_75_octets_between_letters(care: str) -> None:
    # RFC 5545, 3.1: lines end in CRLF and are folded at 75 octets, never within a letter.
    data = calendar_text([service(dt.date(2026, 1, 1), 1, care=care * 9)], "house", "House", None).encode()
    assert data.endswith(b"END:VCALENDAR\r\n")
    lines = data.split(b"\r\n")
    assert all(len(line) <= 75 for line in lines)
    assert all(b"\n" not in line and b"\r" not in line for line in lines)
    for line in lines:
        line.decode("utf-8")


def test_what_a_calendar_must_hold() -> None:
    # RFC 5545, 3.6: PRODID and VERSION; 3.6.1: UID and DTSTAMP in UTC.
    text = calendar_text([service(dt.date(2026, 1, 1), 1)], "house", "House", dt.date(2026, 3, 16))
    found = icalendar.Calendar.from_ical(text)
    assert (str(found["VERSION"]), bool(found["PRODID"])) == ("2.0", True)
    (event,) = found.walk("VEVENT")
    assert event["DTSTAMP"].to_ical() == b"20260316T000000Z"
    assert "@" not in event["UID"]
    assert event["DTSTART"].params["VALUE"] == "DATE"


def test_an_event_keeps_its_identifier() -> None:
    one = calendar_text([service(dt.date(2026, 1, 1), 1)], "house", "House", None)
    later = calendar_text(
        [service(dt.date(2026, 5, 1), 3, what="Oil well")], "house", "A new name", dt.date(2027, 1, 1)
    )
    other = calendar_text([service(dt.date(2026, 1, 1), 1)], "another", "House", None)
    ids = [events(text)[0]["UID"] for text in (one, later, other)]
    assert ids[0] == ids[1] != ids[2]
    assert one == calendar_text([service(dt.date(2026, 1, 1), 1)], "house", "House", None)


def test_a_hundred_thousand_characters() -> None:
    text = calendar_text([service(dt.date(2026, 1, 1), 1, care="\u00e9;" * 50_000)], "house", "House", None)
    assert str(events(text)[0]["DESCRIPTION"]).count("\u00e9;") == 50_000


@given(days, intervals, days, st.integers(0, 3))
def test_the_next_day_is_the_first_that_is_not_before(base: dt.date, every: int, asked: dt.date, skip: int) -> None:
    found = next_on(base, every, asked, skip=skip)
    # Held against a plain count through all of them.
    turn = skip
    while months_after(base, turn * every) < asked:
        turn += 1
    assert found == months_after(base, turn * every)


def test_days_beyond_the_calendar_are_refused() -> None:
    with pytest.raises(OutOfRange, match="up to 9999"):
        months_after(dt.date(9999, 12, 31), 1)
    with pytest.raises(OutOfRange, match="0 or more"):
        months_after(dt.date(2026, 1, 1), -1)
    with pytest.raises(OutOfRange, match="1 or more"):
        next_on(dt.date(2026, 1, 1), 0, dt.date(2026, 1, 1))


@pytest.mark.parametrize(
    ("months", "words"), [(1, "every month"), (3, "every 3 months"), (12, "every year"), (30, "every 30 months")]
)
def test_how_often_in_words(months: int, words: str) -> None:
    assert every_words(months) == words
