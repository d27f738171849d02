"""A folder and a newer version brought together: what does not clash is both, what does is asked, nothing is lost."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from enfilade.archive.adding import add_version
from enfilade.archive.keeping import REMEMBERED, keep
from enfilade.archive.merging import keep_merged, take_of
from enfilade.archive.store import FILE, Store
from enfilade.errors import Conflict, Refused
from enfilade.files import fingerprint
from enfilade.project.project import Project
from enfilade.project.store import kept_states, load, project_bytes, save
from kept_whole import assert_whole
from project_folders import folder_state, good_project, picture, put

BLUE = picture(colour="navy")


def put_two(store: Store, tmp_path: Path) -> tuple[Path, Path]:
    """Return two copies of a folder that was kept."""
    mine, theirs = tmp_path / "mine", tmp_path / "theirs"
    put(mine, project_bytes(good_project()))
    keep(store, mine)
    shutil.copytree(mine, theirs)
    return mine, theirs


def change(folder: Path, **fields: object) -> None:
    project = load(folder)
    new = project.model_copy(update=fields)
    new._loaded = project._loaded
    save(new, folder)


def set_width(folder: Path, id: str, width_mm: float) -> None:
    things = load(folder).things
    change(
        folder, things=tuple(one.model_copy(update={"width_mm": width_mm}) if one.id == id else one for one in things)
    )


def width(project: Project, id: str) -> float:
    return next(one.width_mm for one in project.things if one.id == id)


def add_photograph(folder: Path) -> str:
    name = f"{fingerprint(BLUE)}.png"
    (folder / "photos" / name).write_bytes(BLUE)
    one = load(folder).photographs[0].model_copy(update={"id": "after", "file": name, "caption": "After"})
    change(folder, photographs=(*load(folder).photographs, one))
    return name


def test_both_are_kept_where_nothing_clashes(address: str, tmp_path: Path) -> None:
    with Store(address) as store:
        mine, theirs = put_two(store, tmp_path)
        set_width(theirs, "table", 1200.0)
        name = add_photograph(theirs)
        (theirs / "studio.toml").write_text('[studio]\nname = "Overmantle"\n')
        keep(store, theirs, who="Ann")
        change(mine, name="Mine")
        before = (mine / FILE).read_bytes()
        with pytest.raises(Conflict, match=r"version 2 was kept on .* by Ann.*`enfilade keep --merge`"):
            keep(store, mine)
        met = keep_merged(store, mine, why="both of us")
        assert met.kept.version.number == 3
        assert met.kept.version.why == "both of us"
        assert 'Table: width 47 1/4", was 40".' in met.told
        assert "The file studio.toml is theirs." in met.told
        both = load(mine)
        assert (both.name, width(both, "table")) == ("Mine", 1200.0)
        assert (mine / "photos" / name).read_bytes() == BLUE
        assert (mine / "studio.toml").read_bytes() == (theirs / "studio.toml").read_bytes()
        assert store.file(both.id) == (mine / FILE).read_bytes()
        assert kept_states(mine)[0].read_bytes() == before
        assert_whole(store, both.id)
        # From now on it is made from what it was brought together with.
        change(mine, name="Mine, later")
        assert keep(store, mine).version.number == 4
        assert keep_merged(store, theirs).kept.version.number == 4
        assert load(theirs) == load(mine)


def test_a_clash_is_told_and_nothing_is_written(address: str, tmp_path: Path) -> None:
    with Store(address) as store:
        mine, theirs = put_two(store, tmp_path)
        set_width(theirs, "table", 1200.0)
        change(theirs, name="Theirs")
        keep(store, theirs, who="Ann")
        set_width(mine, "table", 1100.0)
        change(mine, name="Mine")
        before = folder_state(mine)
        for take in (None, {"name": "mine"}, {"elsewhere": "mine"}):
            with pytest.raises(Conflict) as told:
                keep_merged(store, mine, take=take)  # type: ignore[arg-type]
            words = str(told.value)
            assert 'Table: width: here 43 5/16"; there 47 1/4" [things/table/width_mm]' in words
            assert "version 2, kept on" in words
            assert "by Ann" in words
            assert "--take things/table/width_mm=theirs" in words or "--take name=theirs" in words
            assert ("here “Mine”; there “Theirs” [name]" in words) == (take != {"name": "mine"})
        assert folder_state(mine) == before
        assert store.version(load(mine).id).number == 2
        with pytest.raises(Refused, match="'ours' is no side"):
            keep_merged(store, mine, take="ours")  # type: ignore[arg-type]
        met = keep_merged(store, mine, take={"name": "mine", "things/table/width_mm": "theirs"})
        both = store.project(load(mine).id)
        assert (both.name, width(both, "table")) == ("Mine", 1200.0)
        assert met.kept.version.number == 3
        # Whoever lost is still there: one in the folder, one in the archive.
        assert width(Project.model_validate_json(kept_states(mine)[0].read_bytes()), "table") == 1100.0
        assert store.project(both.id, 2).name == "Theirs"


@pytest.mark.parametrize("side", ["mine", "theirs"])
def test_one_side_may_win_everywhere(address: str, tmp_path: Path, side: str) -> None:
    with Store(address) as store:
        mine, theirs = put_two(store, tmp_path)
        for folder, width_mm, name in ((theirs, 1200.0, "theirs"), (mine, 1100.0, "mine")):
            set_width(folder, "table", width_mm)
            (folder / "studio.toml").write_text(f'[studio]\nname = "{name}"\n')
        keep(store, theirs)
        with pytest.raises(Conflict, match=r"The file studio.toml: here changed; there changed \[studio.toml\]"):
            keep_merged(store, mine, take={"things/table/width_mm": "mine"})
        keep_merged(store, mine, take=side)  # type: ignore[arg-type]
        assert width(load(mine), "table") == {"mine": 1100.0, "theirs": 1200.0}[side]
        assert f'"{side}"' in (mine / "studio.toml").read_text()
        if side == "theirs":  # What was in no version is put aside before another takes its place.
            aside = [path.read_text() for path in (mine / "history").glob("*-studio.toml")]
            assert aside == ['[studio]\nname = "mine"\n']


def test_a_record_that_one_takes_away_and_the_other_changes_is_asked(address: str, tmp_path: Path) -> None:
    with Store(address) as store:
        mine, theirs = put_two(store, tmp_path)
        change(theirs, things=tuple(one for one in load(theirs).things if one.id != "table"))
        keep(store, theirs)
        set_width(mine, "table", 1100.0)
        with pytest.raises(Conflict, match=r"Table: here kept, with another .*width.*; there taken away"):
            keep_merged(store, mine)
        keep_merged(store, mine, take="theirs")
        assert "table" not in {one.id for one in load(mine).things}


def test_what_nobody_knows_the_beginning_of_is_not_merged(address: str, tmp_path: Path) -> None:
    with Store(address) as store:
        mine, theirs = put_two(store, tmp_path)
        change(theirs, name="Theirs")
        keep(store, theirs)
        (mine / REMEMBERED).unlink()
        shutil.rmtree(mine / "history", ignore_errors=True)
        change(mine, name="Mine")
        shutil.rmtree(mine / "history")
        with pytest.raises(Conflict, match=r"nothing says which version .*`--onto NUMBER`"):
            keep_merged(store, mine)
        change(mine, name="Theirs", household=load(mine).household.model_copy(update={"cooks_together": 2}))
        assert keep_merged(store, mine, onto=1).kept.version.number == 3


def test_who_was_stopped_before_hearing_of_it_is_no_stranger(
    address: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Store(address) as store:
        mine, _ = put_two(store, tmp_path)
        change(mine, name="Second")
        with monkeypatch.context() as patch:
            patch.setattr("enfilade.archive.keeping.remember", lambda *_: None)
            assert keep(store, mine).version.number == 2
        change(mine, name="Third")
        assert keep(store, mine).version.number == 3


def test_what_is_saved_and_kept_while_it_is_read_is_not_written_over(
    address: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another window saves and keeps between the reading of the folder and the keeping of what was read."""
    import enfilade.archive.keeping as keeping

    with Store(address) as store:
        mine, _ = put_two(store, tmp_path)
        change(mine, name="Second")
        slow = keeping.gathered

        def meanwhile(folder: Path) -> object:
            found = slow(folder)
            monkeypatch.setattr(keeping, "gathered", slow)
            change(mine, name="Third")
            keep(store, mine, who="the other window")
            return found

        monkeypatch.setattr(keeping, "gathered", meanwhile)
        with pytest.raises(Conflict, match="the other window"):
            keep(store, mine)
        assert store.project(load(mine).id).name == "Third"


def test_a_link_or_an_odd_path_is_never_written_through(address: str, tmp_path: Path) -> None:
    with Store(address) as store:
        mine, theirs = put_two(store, tmp_path)
        (theirs / "light").mkdir()
        (theirs / "light" / "lamp.csv").write_text("1,2\n")
        keep(store, theirs)
        elsewhere = tmp_path / "elsewhere"
        elsewhere.mkdir()
        (mine / "light").symlink_to(elsewhere)
        with pytest.raises(Refused, match="is a link"):
            keep_merged(store, mine)
        assert list(elsewhere.iterdir()) == []
        assert store.version(load(mine).id).number == 2
        (mine / "light").unlink()
        assert "The file light/lamp.csv is theirs." in keep_merged(store, mine).told
        # An archive from elsewhere may hold any path.
        project = load(theirs)
        files = {path: store.file(project.id, path) for path in store.paths(project.id)}
        for odd in ("history/x.json", "photos2/../a", ".kept.json"):
            try:
                add_version(
                    store, project, {**files, odd: b"odd"}, who="x", why="", base=store.version(project.id).number
                )
            except Refused:
                continue
            with pytest.raises(Refused, match="has no place beside a project"):
                keep_merged(store, mine)
            assert not (mine / odd).exists() or (mine / odd).read_bytes() != b"odd"
            add_version(store, project, files, who="x", why="", base=store.version(project.id).number)


def test_sides_as_they_are_typed() -> None:
    assert take_of([]) is None
    assert take_of(["mine"]) == "mine"
    assert take_of(["name=theirs", "things/table/width_mm=mine"]) == {"name": "theirs", "things/table/width_mm": "mine"}
    for odd in (["ours"], ["name="], ["=mine"], ["name=ours"], ["mine", "theirs"], ["mine", "name=theirs"], [""]):
        with pytest.raises(Refused, match="does not say which side to take"):
            take_of(odd)
