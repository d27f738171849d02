"""Saves of a project's folder, killed at random instants: the last state that was acknowledged stands, or the next."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from enfilade.files import fingerprint
from enfilade.project.audience import for_audience
from enfilade.project.issues import keep_issue
from enfilade.project.project import Project
from enfilade.project.store import kept_states, load, project_bytes, save
from killing import Kills, Say, fork_only, how_many
from project_folders import good_project, picture, put

pytestmark = fork_only
KILLS = how_many("ENFILADE_KILLS", 100)
AT_ONCE = 3


def padded(project: Project, name: str) -> Project:
    """Return a project of a hundred kilobytes, so that writing takes a while; its size differs from name to name."""
    extra = tuple(
        type(project.finishes[0]).model_validate({"id": f"pad-{n}", "name": name + "x" * 300})
        for n in range(200 + 40 * (fingerprint(name.encode())[0] > "7"))
    )
    new = project.model_copy(update={"name": name, "finishes": (project.finishes[0], *extra)})
    new._loaded = project._loaded
    return new


def parts(folder: Path) -> list[str]:
    return [str(path) for path in folder.rglob("*.part")]


def test_saves_killed_at_any_instant(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    home = tmp_path / "house"
    put(home, project_bytes(good_project()))
    save(load(home), home)
    kills = Kills(5)
    for attempt in range(KILLS):
        before = load(home).name
        names = [f"{attempt}.{turn}" for turn in range(AT_ONCE)]

        def work(say: Say, names: list[str] = names) -> None:
            project = load(home)
            for name in names:
                project = padded(project, name)
                say(f"begin {name}")
                save(project, home)
                say(f"done {name}")
            say("end")

        if attempt % 20 == 0:
            kills.measured(lambda say, work=work, attempt=attempt: work(say, [f"whole {attempt}.{n}" for n in "abc"]))
            before = load(home).name
        said = kills.kill(work)
        begun, done = ([line.split()[1] for line in said if line.startswith(word)] for word in ("begin", "done"))
        # What stands is the last state that was acknowledged, or the one that was being saved: nothing else, and whole.
        now = load(home)
        acknowledged = done[-1] if done else before
        assert now.name in {acknowledged, *begun[len(done) :]}
        assert (home / "project.json").read_bytes() == project_bytes(padded(now, now.name))
        # Every state that was ever put aside is whole, and the one before the newest is among them. (Of many states
        # of one sitting some in the middle are thinned out; that is meant.)
        states = kept_states(home)
        for state in states:
            assert fingerprint(state.read_bytes())[:12] == state.stem[-12:]
        if now.name != acknowledged:
            assert load_state(states[0]) == acknowledged
        # The next writer is not held up by the lock of the dead one, and sweeps up what was left half written.
        save(padded(now, f"alive {attempt}"), home)
        assert parts(home) == []
        assert load(home).name == f"alive {attempt}"
    with capsys.disabled():
        print(f"\n{kills.told('saves')}")
    assert kills.fell["within"] >= KILLS / 5


def load_state(path: Path) -> str:
    return Project.model_validate_json(path.read_bytes()).name


def test_first_saves_into_a_folder_killed_at_any_instant(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Photographs, issues and the studio's file come along: whoever is stopped in it can do it again, and has all."""
    source = tmp_path / "source"
    put(source, project_bytes(good_project()))
    (source / "studio.toml").write_text('[studio]\nname = "Overmantle"\nlogo = "marks/logo.png"\n')
    (source / "marks").mkdir()
    (source / "marks" / "logo.png").write_bytes(picture())
    project = load(source)
    for _ in range(3):
        keep_issue(for_audience(project, "client"), "client", ["html"])
    whole = sorted(str(path.relative_to(source)) for path in source.rglob("*") if path.is_file())
    kills = Kills(6)
    for attempt in range(max(10, KILLS // 4)):
        target = tmp_path / f"copy-{attempt}"

        def work(say: Say, target: Path = target) -> None:
            project = load(source)
            say("begin copy")
            save(project, target)
            say("done copy")
            say("end")

        if attempt % 20 == 0:
            kills.measured(work)
            shutil.rmtree(target)
        said = kills.kill(work)
        if "done copy" in said:
            assert load(target) == project
        if (target / "project.json").exists():
            assert load(target) == project
        else:
            save(load(source), target)
        assert load(target) == project
        there = sorted(str(path.relative_to(target)) for path in target.rglob("*") if path.is_file())
        assert [path for path in there if path != ".begun" and not path.endswith(".part")] == whole
        save(padded(load(target), "later"), target)
        assert parts(target) == []
        assert not (target / ".begun").exists()
        shutil.rmtree(target)
    with capsys.disabled():
        print(f"\n{kills.told('first saves into a folder')}")
    assert kills.fell["within"] > 0
