"""A studio may be stricter than what is published, never laxer, and it is told as its own."""

from pathlib import Path

import pytest

from enfilade.errors import BadRecord, Refused
from enfilade.quantities import Quantity
from enfilade.standards import with_house_rules, yardstick

US = yardstick("us")


def test_a_stricter_value_is_taken_and_told_as_the_studios_own() -> None:
    ours = with_house_rules(US, '[rules]\n"K6/one cook" = { value = 45, why = "two people pass" }\n')
    row = ours.row("K6", "one cook")
    assert (row.printed, row.level, row.source.known) == ("45 in", "recommended", "own choice")
    assert row.source.label == "House rule (stricter than Kitchen guideline 6)"
    assert row.also[:2] == ("Why: two people pass", "Kitchen guideline 6 asks at least 42 in.")
    finding = row.finding(space="k", subjects=["a"], measured=Quantity(43, "in"))
    assert (finding.verdict, finding.house_rules) == ("falls short", ours.house_rules)
    assert US.row("K6", "one cook").printed == "42 in"


def test_the_mark_goes_into_every_finding_and_follows_the_content() -> None:
    one = with_house_rules(US, '[rules]\n"K7" = 40\n')
    same = with_house_rules(US, '# a note\n[rules]\nK7 = "40 in"\n')
    other = with_house_rules(US, "[rules]\nK7 = 41\n")
    assert len(one.house_rules) == 12
    assert one.house_rules == same.house_rules != other.house_rules
    assert {row.house_rules for row in one.rows()} == {one.house_rules}
    assert US.house_rules == ""


def test_typed_lengths_are_read() -> None:
    ours = with_house_rules(US, '[rules]\n"K6/two cooks" = "1300 mm"\nK7 = "3\' 1\\""\n')
    assert ours.row("K6", "two cooks").value_mm == pytest.approx(1300)
    assert ours.row("K7").printed == "37 in"


def test_at_most_and_between_know_what_stricter_is() -> None:
    ours = with_house_rules(US, '[rules]\nK13 = 24\n"K3/leg" = [50, 100]\n')
    assert ours.row("K13").printed == "24 in"
    assert ours.row("K3", "leg").printed == "50 to 100 in"


def test_options_are_chosen_in_the_same_file() -> None:
    ours = with_house_rules(US, '[options]\nreceptacle_edition = "2023"\n')
    assert ours.option("receptacle_edition") == "2023"
    assert ours.house_rules


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('"K6/one cook" = 40', r"studio.toml: rules/K6/one cook: 40 is not stricter than .*; expected above 42 in"),
        ('"K6/one cook" = 42', "not stricter"),
        ("K13 = 40", "expected below 36 in"),
        ('"K3/leg" = [40, 100]', "expected within 48 to 108 in"),
        ('"K3/leg" = [100, 50]', "is above 50"),
        ('"K3/leg" = 60', "a low and a high value"),
        ("K99 = 40", "no row K99"),
        ('"K6/three cooks" = 40', "K6/one cook or K6/two cooks"),
        ('"K25/depth" = 30', "is a definition"),
        ('K7 = "wide"', "is not a length"),
        ("K7 = true", "value is True"),
        ("K7 = nan", "out of range"),
        ("K7 = { why = 'x' }", "has or lacks value"),
        ('"I303a/glazing" = "10 mm"', "a number in %"),
        ("K24 = { value = 14, because = 'x' }", "because"),
    ],
)
def test_what_is_laxer_unknown_or_unreadable_is_refused(text: str, words: str) -> None:
    with pytest.raises(BadRecord, match=words):
        with_house_rules(US, f"[rules]\n{text}\n")


def test_all_faults_are_told_at_once() -> None:
    with pytest.raises(BadRecord) as caught:
        with_house_rules(US, '[rules]\nK7 = 1\nK99 = 2\n[options]\nreceptacle_edition = "1950"\n')
    assert len(caught.value.faults) == 3


@pytest.mark.parametrize("text", ["[rulez]\nK7 = 40", "rules = 3", "[rules"])
def test_other_content_is_refused(text: str) -> None:
    with pytest.raises(BadRecord, match=r"studio\.toml"):
        with_house_rules(US, text)


def test_files_are_read_with_a_size_limit(tmp_path: Path) -> None:
    file = tmp_path / "studio.toml"
    file.write_text("[rules]\nK7 = 40\n")
    assert with_house_rules(US, file).row("K7").printed == "40 in"
    file.write_text("#" * 1_000_001)
    with pytest.raises(Refused, match="over 1 MB"):
        with_house_rules(US, file)
    file.write_bytes(b"\xff\xfe")
    with pytest.raises(Refused, match="UTF-8"):
        with_house_rules(US, file)
    with pytest.raises(Refused, match="cannot be read"):
        with_house_rules(US, tmp_path / "none.toml")
