"""Yardsticks choose rows by data alone."""

import pytest

from enfilade.errors import BadRecord, NotFound
from enfilade.standards import rows, yardstick, yardstick_names
from enfilade.standards.yardsticks import read_yardsticks


def test_the_general_yardstick_has_no_access_and_no_superseded_rows() -> None:
    us = yardstick("us")
    assert {row.level for row in us.rows()} == {"code", "recommended", "practice"}
    assert not any(row.rule.startswith("KH") for row in us.rows())
    assert us.has("K6", "one cook")
    assert not us.has("A8042")


def test_the_access_yardstick_extends_the_general_one() -> None:
    general, access = yardstick("us"), yardstick("us-access")
    assert set(general.rows()) < set(access.rows())
    assert access.row("A8042").printed == "60 in"  # ADA 804.2.2
    assert access.row("K1a").printed == "34 in"  # guideline 1, access part
    assert access.option("receptacle_edition") == "2020"


def test_a_missing_row_names_close_ones() -> None:
    with pytest.raises(NotFound, match="K6/one cook or K6/two cooks"):
        yardstick("us").row("K6")
    with pytest.raises(NotFound, match="no row K99"):
        yardstick("us").row("K99")


def test_a_missing_yardstick_names_those_that_exist() -> None:
    with pytest.raises(NotFound, match="us, us-access"):
        yardstick("mars")
    assert yardstick_names()[:2] == ("us", "us-access")


def test_rows_of_a_rule_keep_their_printed_order() -> None:
    assert [row.part for row in yardstick("us").rows("K8")] == ["no traffic", "edge past", "walk past"]
    assert yardstick("us").has("K8", None)
    assert not yardstick("us").has("K8a", None)


def test_options_have_defaults_choices_and_refuse_others() -> None:
    us = yardstick("us")
    assert us.option("preparation_shares_landing") is True
    assert us.option("side_by_side_landing") == "one side"
    changed = us.with_options({"receptacle_edition": "2017", "preparation_shares_landing": False})
    assert changed.option("receptacle_edition") == "2017"
    assert changed.option("preparation_shares_landing") is False
    assert us.option("receptacle_edition") == "2020"
    with pytest.raises(NotFound, match="no choice '1999'"):
        us.with_options({"receptacle_edition": "1999"})
    with pytest.raises(NotFound, match="no choice 1"):
        us.with_options({"preparation_shares_landing": 1})  # type: ignore[dict-item]
    with pytest.raises(NotFound, match="no option 'colour'"):
        us.option("colour")


def test_values_can_be_overridden_and_rules_left_out_by_data() -> None:
    text = '[a]\ntitle = "A"\nsets = ["kitchen-guidelines"]\nlevels = ["recommended"]\n[a.values]\n"K7" = 40\n'
    text += '[b]\ntitle = "B"\nextends = "a"\noff = ["K6"]\n'
    found = read_yardsticks(text, rows())
    assert found["b"].row("K7").printed == "40 in"
    assert found["a"].has("K6", "one cook")
    assert not found["b"].has("K6", "one cook")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('sets = ["nowhere"]', "'nowhere' is unknown"),
        ('off = ["K99"]', "'K99' is unknown"),
        ('extends = "z"', "'z' is unknown"),
        ("colour = 1", "a/colour: is unknown"),
        ('values = {"K6/three" = 1}', "'K6/three' is unknown"),
        ('options = {x = {choices = [1], default = 2, words = ""}}', "is no choice"),
    ],
)
def test_wrong_yardsticks_are_refused(text: str, words: str) -> None:
    with pytest.raises(BadRecord, match=words):
        read_yardsticks(f'[a]\ntitle = "A"\n{text}\n', rows())
