"""A lesson made into a house rule: one line more in the studio's file, and every other byte as it was."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import enfilade as ef
from changed_houses import kept, kitchen, taught
from enfilade.archive.keeping import keep
from enfilade.archive.lessons import make_rule, reminders
from enfilade.archive.lessons.rule_text import with_rule, written
from enfilade.archive.store import Store
from enfilade.errors import BadRecord, NotFound, Refused

ROW = "K6/one cook"
STUDIO = (
    '# Our own.\r\n[studio]\r\nname = "Rill & Moss"\r\n\r\n[rules] # what we ask\r\n"K6/two cooks" = 50 # a lesson\r\n'
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    ef.save(kitchen(40, id="new-house"), tmp_path / "new")
    return tmp_path / "new"


def test_a_lesson_becomes_a_rule_and_is_not_offered_again(address: str, folder: Path) -> None:
    (folder / "studio.toml").write_bytes(STUDIO.encode())
    with Store(address) as store:
        kept(store, taught())
        keep(store, folder, who="a")
        (one,) = reminders(store, ef.load(folder))
        (offer,) = one.offers
        # NKBA guideline 6 asks 42 in for one cook; where the lesson was learnt the aisle was 40 in.
        assert (offer.row, offer.published, offer.measured, offer.unit) == (ROW, "at least 42 in", "40 in", "in")
        rules = make_rule(store, folder, one.id, offer.row, 45, "Ada Rill")
        assert rules.row("K6", "one cook").printed == "45 in"
        assert rules.row("K6", "two cooks").printed == "50 in"
        data = (folder / "studio.toml").read_bytes()
        assert data.replace(b'"K6/one cook" = 45\r\n', b"") == STUDIO.encode()
        (again,) = reminders(store, ef.load(folder))
        assert not again.open
        assert again.answered is not None
        assert (again.answered.kind, again.answered.reason, again.answered.who) == (
            "house rule", "K6/one cook = 45", "Ada Rill",
        )  # fmt: skip
        assert again.offers == ()
        # It is a rule from now on: 40 in is 5 in short of 45.
        short = next(one for one in ef.check(ef.load(folder)) if one.rule == "K6")
        assert short.margin == pytest.approx(-5)


@pytest.mark.parametrize(
    ("row", "value"),
    [(ROW, 42), (ROW, 30), (ROW, "900 mm"), (ROW, float("nan")), (ROW, "wide"), ("K99", 1), (ROW, (1, 2)), (ROW, True)],
)
def test_what_is_laxer_or_no_rule_is_refused_and_nothing_written(
    address: str, folder: Path, row: str, value: Any
) -> None:
    (folder / "studio.toml").write_bytes(STUDIO.encode())
    with Store(address) as store:
        kept(store, taught())
        keep(store, folder, who="a")
        (one,) = reminders(store, "new-house")
        with pytest.raises(Refused):
            make_rule(store, folder, one.id, row, value)
        assert (folder / "studio.toml").read_bytes() == STUDIO.encode()
        assert reminders(store, "new-house")[0].answered is None


def test_without_a_lesson_or_a_file(address: str, folder: Path) -> None:
    with Store(address) as store:
        kept(store, taught())
        with pytest.raises(NotFound, match="keep it, then answer"):
            make_rule(store, folder, "old-house/top/things/island", ROW, 45)
        keep(store, folder, who="a")
        with pytest.raises(NotFound, match="no lesson"):
            make_rule(store, folder, "old-house/none/things/island", ROW, 45)
        assert not (folder / "studio.toml").exists()
        make_rule(store, folder, "old-house/top/things/island", ROW, "1200 mm")
        assert (folder / "studio.toml").read_text() == '[rules]\n"K6/one cook" = "1200 mm"\n'
        (folder / "studio.toml").write_bytes(b"[rules\n")
        with pytest.raises(BadRecord, match="TOML"):
            make_rule(store, folder, "old-house/top/things/island", ROW, 46)
        (folder / "studio.toml").write_bytes(b"\xff")
        with pytest.raises(Refused, match="UTF-8"):
            make_rule(store, folder, "old-house/top/things/island", ROW, 46)


def test_another_value_takes_the_place_of_the_old_one() -> None:
    text = '[rules]\n  "K6/one cook"   =  44   # since the mill\nK11 = 26\n'
    assert with_rule(text, ROW, 46) == '[rules]\n  "K6/one cook" = 46   # since the mill\nK11 = 26\n'
    assert with_rule("[rules]\nK11 = 26", "K11", 27.5) == "[rules]\nK11 = 27.5".replace("K11", '"K11"')


@pytest.mark.parametrize(
    "text",
    [
        "", "\n", "\ufeff[look]\ncolour = 1\n", "[rules]", "[rules]\n", "[ rules ]  # ours\n[look]\na = 1", "a = 1",
        '["rules"]\nK11 = 26\n', 'note = """\n[rules]\n"""\n[rules]\nK11 = 26\n', 'note = """\n[rules]\n"""\n',
        "[rules]\r\nK11 = 26\r\n[look]\r\n", "[look]\n[options]\n",
        '[look]\nnote = "a\u2028[rules]"\n', "# [rules]\n[look]\n",
    ],
)  # fmt: skip
def test_one_rule_more_and_nothing_else(text: str) -> None:
    changed = with_rule(text, ROW, 45)
    before, after = (tomllib.loads(one.removeprefix("\ufeff")) for one in (text, changed))
    assert after == {**before, "rules": {**before.get("rules", {}), ROW: 45}}
    # The old file stands in the new one, before and after what was put in.
    put = next(n for n in range(len(changed)) if changed[:n] == text[:n] and changed[n:][:1] != text[n:][:1]) \
        if not changed.startswith(text) else len(text)  # fmt: skip
    assert changed[:put] == text[:put]
    assert changed.endswith(text[put:])


@pytest.mark.parametrize("text", ["rules = {}\n", "rules.K11 = 26\n", '[rules]\n"K6/one cook" = [\n  44,\n]\n'])
def test_what_cannot_be_added_to_is_said(text: str) -> None:
    with pytest.raises(Refused, match='write "K6/one cook" = 45 by hand'):
        with_rule(text, ROW, 45)


@given(st.text(max_size=60), st.text(max_size=20))
@settings(max_examples=300, deadline=None)
def test_any_text_is_quoted_as_toml_reads_it(value: str, row: str) -> None:
    # TOML holds no halves of characters: https://toml.io/en/v1.0.0#string
    changed = with_rule("[look]\na = 1\n", row, value)
    assert tomllib.loads(changed) == {"look": {"a": 1}, "rules": {row: value}}


def test_values_as_they_are_written() -> None:
    assert (written(45), written(45.5), written((15, "20 in"))) == ("45", "45.5", '[15, "20 in"]')
    for odd in (True, float("inf"), None, (1, 2, 3)):
        with pytest.raises(Refused):
            written(odd)  # type: ignore[arg-type] # as a form might hand it over


def test_a_number_that_was_typed_is_in_the_printed_unit(address: str, folder: Path) -> None:
    with Store(address) as store:
        kept(store, taught())
        keep(store, folder, who="a")
        rules = make_rule(store, folder, "old-house/top/things/island", ROW, " 44.5")
        assert rules.row("K6", "one cook").printed == "44.5 in"
        assert (folder / "studio.toml").read_text() == '[rules]\n"K6/one cook" = 44.5\n'
