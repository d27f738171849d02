"""The published rows: all there, reachable, and refused when a file is wrong."""

import re

import pytest

from enfilade.errors import BadRecord, NotFound, OutOfRange
from enfilade.quantities import Quantity, Unit
from enfilade.standards import Row, rows, yardstick
from enfilade.standards.rows import cautions, read_rows


def _ids(text: str) -> list[str]:
    return text.split()


# Ids of the 31 guidelines and all their sub-rows, typed from the table of facts.
KITCHEN_RULES = _ids("""K1 K1a K2 K2a K3 K3b K3c K4 K5 K6 K6a K6b K6c K7 K7a K8 K8a K9 K9a K10 K10a K11 K11b K11c K11d
K11a K12 K12a K13 K13b K13a K14 K15 K16 K16a K17 K17b K17c K17a K18 K19 K19a K20 K21 K21a K22 K23 K23a K24
K25 K25b K25a K26 K27 K27b K27c K27a K28 K29 K30 K31""")
OTHER_RULES = _ids("""KH1 KH2 KH3 KH4 KH5 KH6 KH7 A3041 A3042 A3053 A3057 A3062 A3063 A3082 A3082b A3083 A309 A4042
A4044 A606 A8041 A8042 A8042x A8043 A8045 A8063 A8064 A8065 A8066 I303a I303b I304 I305 I306 I308a I308b IE1 IE2 IE3
IE4 IE5 N1 N2 N3 N4 N5 N6 N7 N8 N9 N10 F1 F2 F3 F4 F5 F6 F7 F8 F9 Q1 Q2 Q3 Q4 Q5 Q6 Q7 Q13 Q14 Q16 P1 P2 P3 P4 P5 P6
R1 R2 R3 R4 R5 R6 R7 T1 T2 T3 T4 T5 T6 T7 D1 D2 D3 D4 D5""")
HAZARDS = {
    "K18": "fire", "K19": "ventilation", "K20": "fire", "IE1": "electricity", "IE2": "electricity",
    "IE3": "electricity", "IE4": "electricity", "I303a": "ventilation", "I304": "building", "I305": "building",
    "I306": "building", "I308a": "glass", "I308b": "glass", "K17b": "fire", "K30": "electricity",
}  # fmt: skip


@pytest.mark.parametrize("rule", [*KITCHEN_RULES, *OTHER_RULES])
def test_every_rule_is_there(rule: str) -> None:
    assert any(row.rule == rule for row in rows())


def test_no_rule_is_there_that_was_not_listed() -> None:
    assert {row.rule for row in rows()} == {*KITCHEN_RULES, *OTHER_RULES}


@pytest.mark.parametrize("row", rows(), ids=lambda row: row.name)
def test_every_row_is_reachable_by_its_name_in_some_yardstick(row: Row) -> None:
    found = [yardstick(name) for name in ("us", "us-access", "us-1990s")]
    assert any(y.has(row.rule, row.part) and y.row(row.rule, row.part) is row for y in found)


@pytest.mark.parametrize("row", rows(), ids=lambda row: row.name)
def test_every_row_has_a_label_that_is_no_bare_code(row: Row) -> None:
    assert row.source.label
    assert row.rule not in row.source.label.split()


BANNED = re.compile(r"\b(safe|safely|safest|compl(y|ies|ied|iant|iance))\b", re.IGNORECASE)
"""Verdicts that a row must not give away: they belong to local codes and licensed practice."""
RESEARCH = re.compile(
    r"\b(advice page|article|website|www|http|copy|course material|secondary|local copy|buying guide|popular guide"
    r"|was read|were read|not found)\b",
    re.IGNORECASE,
)
"""How a value was come by is said by `known` and in comments of the data, never in a sentence that a client reads."""


def _sentences(row: Row) -> dict[str, str]:
    said = {"title": row.title, "words": row.words, "label": row.source.label, "caution": row.caution}
    return {**said, **{f"also {number}": text for number, text in enumerate(row.also, 1)}}


@pytest.mark.parametrize("row", rows(), ids=lambda row: row.name)
def test_no_sentence_of_a_row_gives_a_verdict_that_is_not_ours(row: Row) -> None:
    assert {where: text for where, text in _sentences(row).items() if BANNED.search(text)} == {}


@pytest.mark.parametrize("row", rows(), ids=lambda row: row.name)
def test_no_sentence_of_a_row_talks_of_how_it_was_found(row: Row) -> None:
    told = _sentences(row) | {"document": row.source.document, "body": row.source.body}
    assert {where: text for where, text in told.items() if RESEARCH.search(text)} == {}


@pytest.mark.parametrize("name", ["us", "us-access", "us-1990s"])
def test_no_option_talks_of_how_it_was_found(name: str) -> None:
    told = [option.words for option in yardstick(name).options]
    assert told
    assert [words for words in told if RESEARCH.search(words) or BANNED.search(words)] == []


@pytest.mark.parametrize("text", ["It is safe.", "This complies.", "compliant with"])
def test_the_ban_on_verdicts_can_fail(text: str) -> None:
    assert BANNED.search(text)


@pytest.mark.parametrize("row", rows(), ids=lambda row: row.name)
def test_a_title_reads_on_to_its_figure(row: Row) -> None:
    # It is followed by a colon and the figure, so it has none itself and ends in no stop.
    assert not set(row.title) & set(":.;!?")
    assert row.title[0].isupper() or row.title[0].isdigit()


@pytest.mark.parametrize("row", [r for r in rows() if r.level == "access"], ids=lambda row: row.name)
def test_access_rows_carry_a_caution(row: Row) -> None:
    assert row.caution in cautions().values()


@pytest.mark.parametrize(("rule", "hazard"), HAZARDS.items())
def test_hazard_rows_carry_their_caution(rule: str, hazard: str) -> None:
    judged = [r for r in rows() if r.rule == rule and r.level != "access" and not r.definition]
    assert judged
    assert all(row.caution == cautions()[hazard] for row in judged)


MUST_CAUTION = [
    row for row in rows()
    if not row.definition and (row.level == "code" or re.fullmatch(r"K(18|19|20|30|31)[a-z]?", row.rule))
]  # fmt: skip


def test_code_rows_are_there_to_be_cautioned() -> None:
    assert {row.rule for row in MUST_CAUTION} >= {"K18", "K19", "K20", "K30", "K31", "I304", "I305", "I306", "I308a"}


@pytest.mark.parametrize("row", MUST_CAUTION, ids=lambda row: row.name)
def test_what_a_code_asks_carries_a_caution(row: Row) -> None:
    assert row.caution in cautions().values()


@pytest.mark.parametrize("hazard", sorted({*HAZARDS.values(), "gas"}))
def test_a_finding_carries_further_cautions_after_the_rows_own(hazard: str) -> None:
    row = yardstick("us").row("K18", "protected")
    where = {"space": "kitchen", "subjects": ["range"], "cautions": [hazard, hazard]}
    own, more = cautions()["fire"], cautions()[hazard]
    expected = own if hazard == "fire" else f"{own} {more}"
    assert row.finding(measured=Quantity(30, "in"), **where).caution == expected
    assert row.not_assessed(because="missing fact", **where).caution == expected
    bare = yardstick("us").row("K6", "one cook")
    assert bare.finding(measured=Quantity(42, "in"), **where).caution == more


def test_a_caution_that_does_not_exist_is_refused() -> None:
    with pytest.raises(NotFound, match="caution 'ghosts' is unknown"):
        yardstick("us").row("K6", "one cook").not_assessed(
            space="k", subjects=["a"], because="does not apply", cautions=["ghosts"]
        )


def test_each_row_without_a_document_says_that_it_is_practice_or_derived() -> None:
    bodiless = [r for r in rows() if not r.source.body and r.origin == "practice"]
    assert bodiless
    assert {r.source.known for r in bodiless} <= {"common practice", "recalled"}


# Facts, kitchen table, column "value mm": inch x 25.4 rounded to 1 mm.
@pytest.mark.parametrize(
    ("rule", "part", "printed_mm"),
    [
        ("K1", "", 813), ("K1", "door leaf", 864), ("K1a", "", 864), ("K1a", "deep passage", 914),
        ("K1a", "passage depth", 610), ("K2a", "pull latch side", 457), ("K2a", "pull depth", 1524),
        ("K2a", "push depth", 1219), ("K2a", "push latch side", 305), ("K3", "sum", 7925), ("K3", "leg", (1219, 2743)),
        ("K3b", "", (1219, 2743)), ("K3c", "", 305), ("K6", "one cook", 1067), ("K6", "two cooks", 1219),
        ("K6a", "circle", 1524), ("K6a", "square", 1524), ("K6a", "block width", 305), ("K6a", "block length", 610),
        ("K6a", "arm", 914), ("K6b", "knee width", 914), ("K6b", "knee height", 686), ("K6b", "knee depth", 203),
        ("K6b", "toe depth", 432), ("K6b", "toe height", 229), ("K6c", "width", 762), ("K6c", "length", 1219),
        ("K7", "", 914), ("K7a", "", 1067), ("K8", "no traffic", 813), ("K8", "edge past", 914),
        ("K8", "walk past", 1118), ("K8a", "wheelchair past", 1524), ("K8a", "no traffic", 914),
        ("K9", "seat width", 610), ("K9", "30 in high", 457), ("K9", "36 in high", 381), ("K9", "42 in high", 305),
        ("K9a", "surface height", (711, 864)), ("K9a", "seat width", 762), ("K9a", "seat width, generous", 914),
        ("K9a", "knee depth", 483), ("K9a", "knee width", 914), ("K9a", "knee height", 686),
        ("K10a", "rim height", 864), ("K10a", "adjustable rim", (737, 914)), ("K10a", "bowl depth", 165),
        ("K11", "longer side", 610), ("K11", "shorter side", 457), ("K11b", "depth", 406),
        ("K11b", "height", (711, 1143)),
        ("K11c", "sink to corner", 76), ("K11c", "short side", 457), ("K11c", "return frontage", 533),
        ("K11c", "centreline to corner", 381), ("K11d", "longer side", 610), ("K11d", "shorter side", 76),
        ("K11a", "height", 864), ("K11a", "adjustable height", (737, 914)), ("K12", "width", 914),
        ("K12", "depth", 610),
        ("K12a", "width", 762), ("K12a", "height", 864), ("K12a", "adjustable height", (737, 914)), ("K13", "", 914),
        ("K13b", "", 533), ("K13a", "raised", (152, 305)), ("K13a", "clear floor width", 762),
        ("K13a", "clear floor length", 1219), ("K15", "shorter side", 76), ("K15", "longer side", 457),
        ("K16", "landing", 381), ("K16", "across", 1219), ("K16a", "clear floor width", 762),
        ("K16a", "clear floor length", 1219), ("K16a", "offset", 610), ("K17", "shorter side", 305),
        ("K17", "longer side", 381), ("K17b", "", 229), ("K17a", "height", 864), ("K18", "protected", 610),
        ("K18", "unprotected", 762), ("K20", "extinguisher height", (381, 1219)), ("K21", "below shoulder", 76),
        ("K21", "highest", 1372), ("K21", "lowest", 381), ("K21a", "", 1219), ("K22", "", 381), ("K23", "landing", 381),
        ("K23", "across", 1219), ("K24", "", 305), ("K25", "total", 4013), ("K25", "depth", 610),
        ("K25", "clear above", 381), ("K25a", "lower counter", (711, 914)), ("K25a", "higher counter", (914, 1143)),
        ("K27", "small", 35560), ("K27", "medium", 43180), ("K27", "large", 50800), ("K27b", "small wall", 7620),
        ("K27b", "small base", 13208), ("K27b", "small drawer", 9144), ("K27b", "small pantry", 4572),
        ("K27b", "small misc", 1016), ("K27b", "medium wall", 9144), ("K27b", "medium base", 15621),
        ("K27b", "medium drawer", 10160), ("K27b", "medium pantry", 5842), ("K27b", "medium misc", 2413),
        ("K27b", "large wall", 9144), ("K27b", "large base", 16764), ("K27b", "large drawer", 13335),
        ("K27b", "large pantry", 7874), ("K27b", "large misc", 3683), ("K27c", "", 2134),
        ("K27a", "reach", (381, 1219)),
        ("K27a", "high reach over counter", 1118), ("K28", "within", 1829), ("K28", "small", 10160),
        ("K28", "medium", 12192), ("K28", "large", 14224), ("K30", "reach", (381, 1219)),
        ("K30", "reach over counter", (381, 1118)), ("K30", "counter depth", (508, 635)),
        ("A8041", "", 1016), ("A8042", "", 1524), ("A3082b", "over 20 in", 1219), ("A3082b", "over 25 in", 1118),
        ("A3083", "over 24 in", 1168), ("KH1", "small", 3353), ("KH1", "larger", 5029), ("KH5", "with walkway", 1651),
    ],
)  # fmt: skip
def test_inches_as_printed_give_the_printed_millimetres(
    rule: str, part: str, printed_mm: float | tuple[float, float]
) -> None:
    row = next(r for r in rows() if (r.rule, r.part) == (rule, part))
    got = (round(row.low_mm), round(row.high_mm))
    assert got == (printed_mm if isinstance(printed_mm, tuple) else (printed_mm, printed_mm))


# Facts: guideline 30 prints 5 lbf = 22.2 N; guideline 19 prints 150 cfm = 255 m3/h.
@pytest.mark.parametrize(
    ("rule", "part", "unit", "printed", "digits"),
    [("K30", "force", "N", 22.2, 1), ("K19", "recommended", "m3/h", 255, 0),
     ("K19", "code, intermittent", "m3/h", 170, 0),
     ("K19", "code, continuous", "m3/h", 42, 0), ("K19", "make-up air", "m3/h", 680, 0),
     ("IE3", "first", "m2", 0.836, 3),
     ("IE3", "further", "m2", 1.672, 3)],
)  # fmt: skip
def test_other_units_give_the_printed_conversion(rule: str, part: str, unit: Unit, printed: float, digits: int) -> None:
    row = next(r for r in rows() if (r.rule, r.part) == (rule, part))
    assert round(row.number_in(unit), digits) == printed


def test_a_finding_holds_the_measure_against_the_row() -> None:
    row = yardstick("us").row("K6", "one cook")
    short = row.finding(space="kitchen", subjects=["run", "island"], measured=Quantity(1000, "mm"), working=["1000 mm"])
    assert short.id == "K6:one-cook:run+island"
    assert short.verdict == "falls short"
    assert short.margin == pytest.approx(1000 / 25.4 - 42)
    assert short.source.label == "Kitchen guideline 6"
    # 42 in = 1066.8 mm; a length within 0.8 mm of it meets it (half of 1/16 in).
    near = row.finding(space="kitchen", subjects=["run"], measured=Quantity(1066, "mm"))
    assert near.verdict == "met"


def test_a_required_value_can_be_worked_out_from_a_row() -> None:
    row = yardstick("us").row("K24")
    shared = row.requirement.__class__("at least", 36.0, "in")  # 24 in and 12 in more
    finding = row.finding(space="k", subjects=["a", "b"], measured=Quantity(30, "in"), required=shared, part="shared")
    assert (finding.id, finding.verdict, finding.margin) == ("K24:shared:a+b", "falls short", -6.0)


def test_not_assessed_says_why_and_what_it_needs() -> None:
    finding = (
        yardstick("us")
        .row("K18", "protected")
        .not_assessed(space="kitchen", subjects=["range"], because="missing fact", needs=["height of the hood"])
    )
    assert finding.verdict == "not assessed"
    assert finding.needs == ("height of the hood",)
    assert finding.caution == cautions()["fire"]


def test_a_definition_is_never_judged_by_itself() -> None:
    row = yardstick("us").row("K25", "depth")
    with pytest.raises(OutOfRange, match="K25/depth is a definition"):
        row.finding(space="k", subjects=["c"], measured=Quantity(20, "in"))


def test_a_measure_of_another_kind_is_refused() -> None:
    with pytest.raises(OutOfRange, match="units of one kind"):
        yardstick("us").row("K7").finding(space="k", subjects=["w"], measured=Quantity(1, "count"))


def test_a_range_has_no_single_number() -> None:
    with pytest.raises(OutOfRange, match="use low and high"):
        _ = yardstick("us").row("K3", "leg").value_mm


GOOD = """
[source]
title = "A set"
body = ""
edition = ""
[[row]]
rule = "T1"
title = "A row"
level = "practice"
section = ""
label = "A set 1"
how = "at least"
value = 1
unit = "in"
known = "own choice"
words = "At least 1 in."
"""


def test_a_good_file_is_read() -> None:
    (row,) = read_rows({"set.toml": GOOD}, {})
    assert (row.rule, row.value_mm, row.origin) == ("T1", 25.4, "set")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('unit = "in"', 'unit = "furlong"', r"set.toml: row 1 \(T1/\): unit is 'furlong'; expected mm, in"),
        ('words = "', 'wrods = "', "lacks words"),
        ('title = "A row"', 'title = "A row"\ncolour = "red"', "unknown key colour"),
        ("value = 1", "value = [1, 2]", "does not fit 'at least'"),
        ("value = 1", "value = nan", "value is nan"),
        ("value = 1", "value = true", "value is True"),
        ('how = "at least"\nvalue = 1', 'how = "between"\nvalue = [2, 1]', r"value is \[2, 1\]"),
        ('level = "practice"', 'level = "must"', "level is 'must'"),
        ('known = "own choice"', 'known = "own choice"\ncaution = "ghosts"', "caution is 'ghosts'"),
        ('edition = ""', 'edition = ""\nyear = 1', "has or lacks year"),
        ("[source]", "[source", "set.toml: text"),
    ],
)
def test_a_wrong_file_is_refused_with_its_place(old: str, new: str, words: str) -> None:
    assert old in GOOD
    with pytest.raises(BadRecord, match=words):
        read_rows({"set.toml": GOOD.replace(old, new, 1)}, {})


def test_a_row_twice_is_refused_within_and_between_files() -> None:
    with pytest.raises(BadRecord, match="is there already"):
        read_rows({"set.toml": GOOD, "other.toml": GOOD}, {})
    with pytest.raises(BadRecord, match="row 2"):
        read_rows({"set.toml": GOOD + GOOD[GOOD.index("[[row]]") :]}, {})
