"""A project's yardstick, its house rules, and what the checks remember by them."""

from __future__ import annotations

from pathlib import Path

import pytest

from building import free, house, room, thing
from enfilade.checks import run
from enfilade.checks.run import all_checks, check, project_yardstick
from enfilade.errors import BadRecord, NotFound
from enfilade.project.store import load
from project_folders import good_plain, put


@pytest.fixture
def home(tmp_path: Path) -> Path:
    put(tmp_path, good_plain())
    return tmp_path


def test_an_unknown_yardstick_is_told_with_the_field_that_names_it(home: Path) -> None:
    put(home, good_plain() | {"yardstick": "cubits"})
    with pytest.raises(NotFound, match=r"project\.json: yardstick: 'cubits' is unknown; expected us"):
        check(load(home))
    with pytest.raises(NotFound, match=r"^yardstick 'ells' is unknown"):
        check(load(home), yardstick="ells")  # asked for by name, so the field is not at fault
    with pytest.raises(NotFound, match=r"^project: yardstick: 'cubits'"):
        check(house().model_copy(update={"yardstick": "cubits"}))


def test_the_same_house_rules_are_the_same_yardstick(home: Path) -> None:
    rules = home / "studio.toml"
    rules.write_text('[rules]\n"K6/one cook" = 45\n')
    first = project_yardstick(load(home))
    assert first.row("K6", "one cook").printed == "45 in"
    assert project_yardstick(load(home)) is first
    rules.write_text('[rules]\n"K6/one cook" = 46\n')
    second = project_yardstick(load(home))
    assert second.row("K6", "one cook").printed == "46 in"
    assert project_yardstick(load(home), "us-access").name == "us-access"
    rules.write_text('[rules]\n"K6/one cook" = 45\n')
    assert project_yardstick(load(home)) is first
    rules.write_text('[rules]\n"K6/one cook" = 30\n')
    with pytest.raises(BadRecord, match=rf"{rules.name}: rules/K6/one cook.*not stricter"):
        project_yardstick(load(home))


def test_findings_under_house_rules_are_remembered(home: Path) -> None:
    (home / "studio.toml").write_text('[rules]\n"K6/one cook" = 45\n')
    project = load(home)
    before = check(project)
    again = check(project)
    assert len(before) > 10
    assert all(a is b for a, b in zip(before, again, strict=True))


def test_a_house_with_more_views_than_the_memory_holds_is_remembered_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(run, "_CACHED", 3)
    rooms = [room(144, 144, id=f"room-{i}", use="kitchen", at=(i * 200, 0)) for i in range(4)]
    things = [thing("table", f"table-{i}", 40, 40, free(i * 200 + 72, 72), space=f"room-{i}") for i in range(4)]
    project = house(things, spaces=rooms)
    before = check(project)
    assert all(a is b for a, b in zip(before, check(project), strict=True))
    check(project, "room-1")  # a look at one room pushes out none of the others
    assert all(a is b for a, b in zip(before, check(project), strict=True))
    assert len(run._CACHE) > 3
    check(house())
    assert len(run._CACHE) <= 3 + len(all_checks())
