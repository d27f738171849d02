"""Project files changed at random are taken, or refused with a place: 1,000 here, `ENFILADE_FUZZ=10000` on demand."""

from __future__ import annotations

import json
import random
from collections import Counter
from pathlib import Path

from enfilade.errors import BadRecord
from enfilade.project.last_good import last_good
from enfilade.project.store import load
from fuzzing import MANY, bounded, bytes_changed, is_clear, record_changed, refusal
from project_folders import folder_state, good_plain, put

SEED = 20260324


def _is_no_damage(error: BadRecord) -> bool:
    """Tell whether the file is only newer than this version reads, or whole but for its photographs."""
    places = [fault.place for fault in error.faults]
    return places == ["format"] or all(place.startswith("photographs/") for place in places)


def test_every_project_file_is_taken_or_refused_with_a_place(tmp_path: Path) -> None:
    home, outside = tmp_path / "inner" / "house", tmp_path / "outside.txt"
    outside.write_text("untouched")
    put(home, good_plain())
    (home / "history").mkdir()
    good = json.dumps(good_plain()).encode()
    pretty = json.dumps(good_plain(), indent=2).encode()
    (home / "history" / "20260324T104200.000000Z-0123456789ab.json").write_bytes(good)
    before = folder_state(tmp_path)
    said: Counter[str] = Counter()
    with bounded() as next_case:
        for case in range(MANY):
            chance = random.Random(SEED + case)
            next_case()
            change = chance.choice((bytes_changed, record_changed))
            data = change(chance.choice((good, pretty)), chance)
            (home / "project.json").write_bytes(data)
            error = refusal(lambda: load(home))
            said["taken" if error is None else "refused"] += 1
            if isinstance(error, BadRecord):
                assert is_clear(error), (case, str(error))
                assert "enfilade bring-back" in str(error) or _is_no_damage(error), (case, str(error))
            elif error is not None:
                assert str(home) in str(error), (case, str(error))
            (home / "project.json").write_bytes(good)
            if case % 50 == 0:
                changed = {name for name, what in folder_state(tmp_path).items() if before.get(name) != what}
                assert changed <= {"inner/house/project.json"}, case
    print(f"project files: {dict(said)}")
    assert said["taken"] > MANY // 50  # a fuzzer that never gets through tests the first line of the reader alone
    assert said["refused"] > MANY // 4
    assert last_good(home) is not None
    after = folder_state(tmp_path)
    assert {name: what for name, what in after.items() if not name.endswith("project.json")} == {
        name: what for name, what in before.items() if not name.endswith("project.json")
    }
