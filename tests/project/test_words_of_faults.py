"""What a refusal tells who wrote the file: what is wrong, in their words, and what to write instead."""

from __future__ import annotations

import doctest
import json
from collections.abc import Iterator
from typing import Any

import pytest

from breaking import THING
from enfilade.errors import BadRecord, Fault
from enfilade.project import kinds_meant as meant
from enfilade.project.faults import PATTERNS
from enfilade.project.json_faults import json_fault
from enfilade.project.kinds_meant import OTHER_WORDS, kinds_meant
from enfilade.project.reading import parsed, project_from
from enfilade.project.schema import project_schema
from enfilade.project.things import KINDS
from project_folders import good_plain


def fault_of_text(text: str) -> str:
    with pytest.raises(BadRecord) as refusal:
        parsed(text.encode(), "project.json")
    (fault,) = refusal.value.faults
    return str(fault)


def faults_at(*steps: str | int, to: Any) -> tuple[Fault, ...]:
    """Return the faults of the good project with one value changed; records of lists by their place."""
    plain: Any = good_plain()
    here = plain
    for step in steps[:-1]:
        here = here[step]
    if isinstance(here, list) and steps[-1] == len(here):
        here.append(to)
    else:
        here[steps[-1]] = to
    with pytest.raises(BadRecord) as refusal:
        project_from(json.dumps(plain).encode(), "project.json")
    return refusal.value.faults


def fault_at(*steps: str | int, to: Any) -> str:
    (fault,) = faults_at(*steps, to=to)
    return str(fault)


# Slips in the text


@pytest.mark.parametrize(
    ("text", "words"),
    [
        # a comma that is missing
        ('{"a": 1,\n "b": 2\n  "c": 3}', "line 3 column 3: a comma is probably missing at the end of line 2"),
        ('{"a": 1,\r\n "b": 2\r\n  "c": 3}', "line 3 column 3: a comma is probably missing at the end of line 2"),
        ('{"a": [{"b": 1}\n\n  {"b": 2}]}', "line 3 column 3: a comma is probably missing at the end of line 1"),
        ('{"a": [1 2]}', "line 1 column 10: a comma is probably missing before this"),
        ('{"a": [true false]}', "line 1 column 13: a comma is probably missing before this"),
        # a comma too many
        ('{"a": 1,\n}', "line 1 column 8: a comma stands before `}`"),
        ('{"a": [1, 2,]}', "line 1 column 12: a comma stands before `]`"),
        ('{"a": 1,, "b": 2}', "line 1 column 9: two commas stand side by side"),
        ('{"a": 0,66}', "line 1 column 8: a comma stands inside a number; expected a point for the decimals"),
        # quotes
        ("{'a': 1}", 'line 1 column 2: single quotes stand here; expected `"`'),
        ('{"a": \u201cx\u201d}', 'line 1 column 7: typographic quotes stand here; expected `"`'),
        ('{"a": tru}', "line 1 column 7: `tru` stands without quotes"),
        ("{a: 1}", "line 1 column 2: `a` stands without quotes"),
        ('{"a": "it"s"}', "line 1 column 11: `s` follows the end of the text that opens at line 1 column 7"),
        ('{"a": "5\' 6"",\n"b": 2}', '(`"` inside a text is written `\\"`)'),
        # a text or bracket that is never closed, with where it opened
        ('{"a": "x', "line 1 column 7: the text that opens here is never closed"),
        ('{"a": 1,\n"b": "x,\n"c": 2}', "line 2 column 9: the text that opens at line 2 column 6 is not closed"),
        ('{\n "a": [1, 2\n', "line 3 column 1: the file ends, and the `[` that opens at line 2 column 7 is never"),
        ('{"a": {"b": "[{"', "the file ends, and the `{` that opens at line 1 column 7 is never closed"),
        ('{"a": ', "the file ends, and the `{` that opens at line 1 column 1 is never closed; expected `}`"),
        ('{"a": [1}', "line 1 column 9: `}` stands where the `[` that opens at line 1 column 7 is still open"),
        # the rest
        ('{"a": 1}}', "line 1 column 9: something stands after the last bracket"),
        ('{"a": 1 // one\n}', "line 1 column 9: a comment stands here"),
        ('{"a": True}', "line 1 column 7: `True` stands here; expected `true`"),
        ('{"a" 1}', "line 1 column 6: a colon is missing after the name"),
        ('{"a": , "b": 1}', "line 1 column 7: a value is missing"),
        ('{"a": .5}', "line 1 column 7: a number begins with `.`"),
        ('{"a": 30in}', 'line 1 column 9: a number goes on with `in`; expected a plain number, or a length as a text'),
        ('{"a": 131 1/4}', "line 1 column 11: a number goes on with `1`"),
        ('{"a": "c:\\drive"}', "line 1 column 10: a backslash stands alone in a text"),
        ('{"a": "x\ty"}', "line 1 column 9: the sign U+0009 stands in a text"),
    ],
)  # fmt: skip
def test_a_slip_in_the_text_is_told_in_words(text: str, words: str) -> None:
    assert words in fault_of_text(text)


@pytest.mark.parametrize("text", ['{"a": 1}}', '{"a": [1}', '{"a": 30in}', '{"a": 1; "b": 2}', "{'a': 1}", '{"a": "x'])
def test_no_comma_is_missed_where_none_is_missing(text: str) -> None:
    assert "comma is probably missing" not in fault_of_text(text)


def test_a_comma_too_many_is_told_where_the_reader_stops_at_the_comma() -> None:
    text = '{"a": [1, 2,\n]}'
    error = json.JSONDecodeError("Illegal trailing comma before end of array", text, 11)  # as Python 3.13 words it
    assert str(json_fault(text, error)).startswith("line 1 column 12: a comma stands before `]`")


# Fields


def test_an_unknown_field_is_told_with_the_fields_of_its_own_record() -> None:
    assert fault_at("client", "name", to="A") == (
        "client/name: is not a field of client; did you mean `names`? It has names, address, contact, notes"
    )
    assert fault_at("things", 1, "place", "ofset_mm", to=1) == (
        "things/top/place/ofset_mm: is not a field of place `wall`; did you mean `offset_mm`? "
        "It has how, wall, from_end, offset_mm, gap_mm"
    )
    assert fault_at("decisions", 0, "options", 0, "zz", to=1).startswith(
        "decisions/sink-size/options/wide/zz: is not a field of option; it has id, text, why_not"
    )


def test_an_unknown_field_of_a_large_record_is_told_with_the_nearest_five() -> None:
    told = fault_at("things", 2, "width", to=1)
    assert told.startswith("things/bowl/width: is not a field of sink; did you mean `width_mm`? The nearest of its ")
    assert told.endswith("(`enfilade schema` lists them all)")
    named = told.partition("fields are ")[2].partition(" (")[0].split(", ")
    assert len(named) == 5
    assert set(named) <= set(KINDS["sink"].model_fields)
    assert "width_mm" in named
    assert "; the nearest of its" in fault_at("things", 2, "qqqq", to=1)  # nothing near is put forward
    assert "did you mean `decisions`?" in fault_at("decision", to=[])


@pytest.mark.parametrize(
    ("steps", "to", "words"),
    [
        (("client",), "A. Client", "client: 'A. Client': is no record; expected an object in { } with its fields: "
                                   "names, address, contact, notes"),
        (("things", 7), "box", "things/7: 'box': is no record; expected an object in { } with at least id, kind, "
                                "space, place, width_mm, depth_mm, top_mm (`enfilade schema`"),
        (("spaces", 1), "hall", "expected an object in { } with at least id, name, use, outline, walls "
                                "(`enfilade schema`"),
        (("openings", 0, "swing"), "left", "fields: hinge, into, angle_deg, closer_and_latch, or `none`"),
        (("client", "names"), "A. Client", "client/names: 'A. Client': is no list; expected a list, such as "
                                           '["A. Client"]'),
        (("client", "names"), {}, 'client/names: is no list; expected a list, such as ["..."]'),
        (("things", 5, "controls"), "lamp", 'is no list; expected a list, such as ["lamp"]'),
        (("spaces",), {}, 'spaces: is no list; expected a list of records, such as [{"id": ...}]'),
        (("things", 0, "opens"), "drawer", 'a list of records, such as [{"kind": ...}], or `none`'),
        (("things", 0, "opens"), {"kind": "drawer"}, 'a list of records, such as [{"kind": ...}], or `none`'),
        (("spaces", 0, "outline", 0), "0,0", "is no list; expected a list of 2, such as [0, 0]"),
        (("things", 0, "width_mm"), "0,66 m", "things/base/width_mm: '0,66 m' is not a length: write 0.66 m;"),
        (("things", 0, "width_mm"), "6' 14\"", "write 7' 2\""),
    ],
)  # fmt: skip
def test_what_stands_in_the_place_of_a_record_a_list_or_a_length(steps: tuple[Any, ...], to: Any, words: str) -> None:
    told = fault_at(*steps, to=to)
    assert words in told
    assert not isinstance(to, str) or told.count(repr(to)) <= 1


@pytest.mark.parametrize(
    ("steps", "to", "words"),
    [
        (("id",), "Test House", "'Test House': does not read as it should; expected small letters, digits and hyphens, "
                                "at most 64, such as `sink-1`"),
        (("openings", 0, "beyond"), "Hall N", "such as `sink-1`, or `none`"),
        (("finishes", 0, "colour"), "teal", "`#` and six signs of 0-9 and a-f (red, green, blue), such as `#b08850`"),
        (("photographs", 0, "file"), "a.png", "(64 signs of 0-9 and a-f), then .png, .jpg or .webp"),
    ],
)  # fmt: skip
def test_patterns_are_told_in_words(steps: tuple[Any, ...], to: Any, words: str) -> None:
    told = fault_at(*steps, to=to)
    assert words in told
    assert "[a-z0-9]" not in told
    assert "[0-9a-f]" not in told


def patterns(schema: Any) -> Iterator[str]:
    for key, value in schema.items() if isinstance(schema, dict) else enumerate(schema):
        if key == "pattern" and isinstance(value, str):
            yield value
        elif isinstance(value, dict | list):
            yield from patterns(value)


def test_every_pattern_of_a_text_has_its_words() -> None:
    # Money is written as text in the schema, with a pattern of pydantic's own that its messages never show.
    own = {pattern for pattern in patterns(project_schema()) if pattern.startswith(("^[", "^#"))}
    assert own == set(PATTERNS)


def test_a_missing_format_is_told_as_it_is_written() -> None:
    plain = good_plain()
    del plain["format"]
    with pytest.raises(BadRecord, match='format: is missing; expected `"format": 1`'):
        project_from(json.dumps(plain).encode(), "project.json")


# Kinds


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        (
            "stove",
            "'stove' is no such kind; expected `range` or `cooktop`, or another of the kinds in `enfilade schema`",
        ),
        ("cabinett", "'cabinett' is no such kind; expected `"),
        ("fridge", "`refrigerator`"),
        ("Sink", "`sink`"),
        ("bar stool", "`seat`"),
        ("dish washer", "`dishwasher`"),
    ],
)
def test_a_kind_that_is_none_is_told_with_the_nearest(kind: str, words: str) -> None:
    told = fault_at("things", 7, to=THING | {"kind": kind})
    assert told.startswith("things/box: ")
    assert words in told
    assert told.count("`") <= 8  # never the whole list


def test_all_kinds_are_told_where_none_is_near() -> None:
    told = fault_at("things", 7, to=THING | {"kind": "spaceship"})
    assert all(f"'{kind}'" in told for kind in KINDS)


def test_a_thing_without_a_kind_or_a_place_without_its_way_is_told_which_word_is_wanted() -> None:
    no_kind = {key: value for key, value in THING.items() if key != "kind"}
    assert 'does not say its kind; expected the field `kind`, such as "base cabinet"' in fault_at(
        "things", 7, to=no_kind
    )
    no_way = fault_at("things", 7, to=THING | {"place": {"x_mm": 1, "y_mm": 1}})
    assert 'does not say its how; expected the field `how`: "free", "wall" or "set in"' in no_way


def test_other_words_lead_to_kinds_and_are_none_themselves() -> None:
    assert all(set(kinds) <= set(KINDS) for kinds in OTHER_WORDS.values())
    assert not set(OTHER_WORDS) & set(KINDS)
    assert set(kinds_meant("cabinett")) == {"base cabinet", "wall cabinet", "tall cabinet"}
    assert kinds_meant("") == ()
    assert doctest.testmod(meant).failed == 0
