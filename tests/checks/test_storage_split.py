"""The usual split of the frontage (Kitchen guideline 27): guidance, not asked as long as the total holds."""

from __future__ import annotations

import pytest

from building import findings, house, on_wall, room, thing

# Floors of 144, 196 and 360 sq ft: small, medium and large (guideline 27), with the split that its table prints.
SIZES = {"small": (144, 144), "medium": (168, 168), "large": (240, 216)}
SPLIT = {
    "small": {"wall": 300, "base": 520, "drawer": 360, "pantry": 180},
    "medium": {"wall": 360, "base": 615, "drawer": 400, "pantry": 230},
    "large": {"wall": 360, "base": 660, "drawer": 525, "pantry": 310},
}


def _unit(group, inches_of_frontage):
    """One unit 12 in wide that holds the given frontage in one group, rounded down to whole shelves."""
    wall = on_wall("kitchen-north", {"wall": 0, "base": 14, "drawer": 28, "pantry": 42}[group])
    if group == "wall":  # 12 wide, 12 deep: 12 in a shelf
        return thing("wall cabinet", group, 12, 12, wall, shelves=inches_of_frontage // 12, drawers=0, corner="none")
    kind = "tall cabinet" if group == "pantry" else "base cabinet"  # 12 wide, 24 deep: 24 in a shelf or drawer
    count = inches_of_frontage // 24
    counts = {"shelves": 0, "drawers": count} if group == "drawer" else {"shelves": count, "drawers": 0}
    return thing(kind, group, 12, 24, wall, corner="none", **counts)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("group", ["wall", "base", "drawer", "pantry"])
def test_a_group_is_judged_where_the_total_falls_short(size, group):
    kitchen = room(*SIZES[size])
    enough = house([_unit(group, SPLIT[size][group] + 24)], spaces=[kitchen])  # no other storage: the total lacks most
    scant = house([_unit(group, SPLIT[size][group] - 24)], spaces=[kitchen])
    for project, expected in ((enough, "met"), (scant, "falls short")):
        (finding,) = findings(project, "K27b", containing=f"{size}-{group}:")
        assert finding.verdict == expected
        assert finding.required.value == SPLIT[size][group]


def test_it_is_not_asked_when_the_total_holds():
    # 1,416 in of wall storage alone: the total of a small kitchen (1,400 in) holds, its base group is empty.
    project = house([_unit("wall", 1416)], spaces=[room(144, 144)])
    (base,) = findings(project, "K27b", containing="small-base")
    assert (base.verdict, base.because) == ("not assessed", "does not apply")
