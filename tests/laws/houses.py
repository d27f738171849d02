"""Houses for property tests. All are invented; their figures are drawn by chance and published nowhere."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hypothesis import reject
from hypothesis import strategies as st

from enfilade.errors import BadRecord
from enfilade.project.project import Project
from enfilade.project.things import KINDS

__all__ = ["houses", "kitchen_plain", "kitchens", "written_text"]

INCH = 25.4
Draw = Callable[[st.SearchStrategy[Any]], Any]

written_text = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cs"], exclude_characters="\ufffe\uffff", min_codepoint=32),
    max_size=40,
)
"""What people may type in any script; control signs and half characters are refused when a project is read."""

prices = st.decimals(0, 10**6, places=2).map(str)

# Fields that a kind cannot be without, beside those of every thing.
_ALSO: dict[str, dict[str, Any]] = {
    "peninsula": {"joined": "left"},
    "fixture": {"what": "basin"},
    "window treatment": {"opening": "window"},
}
_SEATED = ("counter", "island", "peninsula", "table", "desk")


def lengths(low: float, high: float) -> st.SearchStrategy[float]:
    """Return lengths [mm] to a hundredth of a millimetre."""
    return st.integers(round(low * 100), round(high * 100)).map(lambda hundredths: hundredths / 100)


@st.composite
def houses(draw: Draw) -> Project:
    """Return a house of one to three rooms, straight or L-shaped, with things of any kind anywhere in them."""
    spaces, left = [], 0.0
    for number in range(draw(st.integers(1, 3))):
        width, depth = draw(lengths(2500, 6000)), draw(lengths(2500, 5000))
        spaces.append(_room(draw, f"room-{number}", left, width, depth))
        left += width + draw(st.sampled_from([0.0, 114.3]))
    window = {
        "id": "window", "kind": "window", "wall": "room-0-south", "offset_mm": draw(lengths(0, 500)),
        "width_mm": 900, "height_mm": 1200, "sill_mm": draw(lengths(0, 1000)),
        "beyond": draw(st.sampled_from([None, "none"])), "name": draw(written_text),
    }  # fmt: skip
    things = [
        _thing(draw, f"t{i}", kind, spaces)
        for i, kind in enumerate(draw(st.lists(st.sampled_from(sorted(KINDS)), max_size=12)))
    ]
    hosts = [thing for thing in things if thing["kind"] in ("counter", "island")]
    if hosts and draw(st.booleans()):
        host = draw(st.sampled_from(hosts))
        sink = _thing(draw, "set-in", "sink", spaces) | {"space": host["space"]}
        sink["place"] = {"how": "set in", "host": host["id"], "offset_mm": draw(lengths(0, 50)), "setback_mm": 50}
        things.append(sink)
    plain = {
        "format": 1, "id": "drawn", "name": draw(written_text),
        "spaces": spaces, "openings": [window], "things": things,
        "client": {"names": draw(st.lists(written_text, max_size=2)), "notes": draw(written_text)},
        "household": {"size": draw(st.integers(1, 9)), "cooks_together": draw(st.sampled_from([None, 1, 2]))},
        "show": {"units": draw(st.sampled_from(["us", "metric"])), "date": draw(st.dates()).isoformat()},
        "brief": {"needs": [{"id": "n", "number": 1, "text": draw(written_text)}]},
        "products": [{"id": "p", "name": draw(written_text), "purchase": {"quote": draw(prices)}}],
        "decisions": [{"id": "d", "number": 7, "title": draw(written_text), "on": draw(st.dates()).isoformat(),
                       "options": [{"id": "o", "text": draw(written_text)}],
                       "choice": draw(st.sampled_from([None, "o"]))}],
    }  # fmt: skip
    try:
        return Project.model_validate(plain).verified()
    except BadRecord:  # what was set in a host near the edge of its room may hang out of it
        reject()


def _room(draw: Draw, id: str, left: float, width: float, depth: float) -> dict[str, Any]:
    corners = [[left, 0.0], [left + width, 0.0], [left + width, depth], [left, depth]]
    names = ["south", "east", "north", "west"]
    if draw(st.booleans()):  # an L: the north-east corner is cut out
        x, y = left + width - draw(lengths(500, 1200)), depth - draw(lengths(500, 1200))
        corners[2:3] = [[left + width, y], [x, y], [x, depth]]
        names = ["south", "east", "nook", "side", "north", "west"]
    return {
        "id": id, "name": draw(written_text), "use": draw(st.sampled_from(["kitchen", "dining", "study", "bath"])),
        "outline": [[round(x, 6), round(y, 6)] for x, y in corners],
        "walls": [{"id": f"{id}-{name}", "name": draw(written_text)} for name in names],
        "ceiling_mm": draw(st.none() | lengths(2100, 3500)),
        "dropped": draw(st.sampled_from([[], [{"id": "beam", "outline": [[left, 0], [left + 900, 0], [left + 900, 200],
                                                                        [left, 200]], "height_mm": 2050}]])),
    }  # fmt: skip


def _thing(draw: Draw, id: str, kind: str, spaces: list[dict[str, Any]]) -> dict[str, Any]:
    space = draw(st.sampled_from(spaces))
    xs, ys = [p[0] for p in space["outline"]], [p[1] for p in space["outline"]]
    bottom = draw(lengths(0, 900))
    seats = {
        "seating": [{"id": "row", "count": draw(st.integers(1, 4)), "side": draw(st.sampled_from(["front", "back"]))}]
    }
    free = {
        "how": "free",
        "x_mm": draw(lengths(min(xs) + 400, min(xs) + 1300)), "y_mm": draw(lengths(min(ys) + 400, min(ys) + 1300)),
        "turn_deg": draw(st.sampled_from([0.0, 90.0, 180.0, 270.0]) | st.integers(0, 359_999).map(lambda t: t / 1000)),
    }  # fmt: skip
    wall = {"how": "wall", "wall": f"{space['id']}-west", "from_end": draw(st.sampled_from(["left", "right"])),
            "offset_mm": draw(lengths(0, 600)), "gap_mm": draw(lengths(0, 30))}  # fmt: skip
    return {
        "id": id, "kind": kind, "space": space["id"], "place": draw(st.sampled_from([free, wall])),
        "width_mm": draw(lengths(50, 1100)), "depth_mm": draw(lengths(20, 900)),
        "bottom_mm": bottom, "top_mm": round(bottom + draw(lengths(1, 1300)), 2),
        "name": draw(written_text), "remark": draw(written_text), "note": draw(written_text),
        "state": draw(st.sampled_from(["kept", "new", "removed"])),
        "basis": draw(st.sampled_from(["measured", "data sheet", "assumed"])),
        "opens": draw(st.sampled_from([None, "none", [], [{"kind": "hinged", "hinge": "left"}, {"kind": "drawer"}]])),
        **_ALSO.get(kind, {}),
        **(draw(st.sampled_from([{}, seats])) if kind in _SEATED else {}),
    }  # fmt: skip


def kitchen_plain(
    aisle: float,
    *,
    width: float = 180,
    behind: float = 60,
    seats: int = 3,
    cooks: int | None = 1,
    passing: str | None = None,
) -> dict[str, Any]:
    """Return a kitchen as plain data: a run along the north wall and an island with seats before it.

    Args:
        aisle: Between the fronts of the run and the island [in].
        width: Of the room [in].
        behind: From the island's seat side to the south wall [in].
        seats: Along the island's back.
        cooks: Who cook together.
        passing: Who passes behind the seats.
    """
    depth = 25 + aisle + 36 + behind
    w, d = width * INCH, depth * INCH

    def on_run(
        kind: str, id: str, at: float, wide: float, deep: float, low: float, top: float, **more: Any
    ) -> dict[str, Any]:
        place = {"how": "wall", "wall": "k-north", "offset_mm": at * INCH}
        return {"id": id, "kind": kind, "space": "k", "place": place, "width_mm": wide * INCH, "depth_mm": deep * INCH,
                "bottom_mm": low * INCH, "top_mm": top * INCH, **more}  # fmt: skip

    def in_top(kind: str, id: str, host: str, at: float, wide: float) -> dict[str, Any]:
        place = {"how": "set in", "host": host, "offset_mm": at * INCH, "setback_mm": 2 * INCH}
        return {"id": id, "kind": kind, "space": "k", "place": place, "width_mm": wide * INCH, "depth_mm": 20 * INCH,
                "bottom_mm": 28 * INCH, "top_mm": 36 * INCH}  # fmt: skip

    island = {
        "id": "island", "kind": "island", "space": "k",
        "width_mm": 84 * INCH, "depth_mm": 36 * INCH, "top_mm": 36 * INCH,
        # At turn 180 the front faces north, to the run; the seats are at the back.
        "place": {"how": "free", "x_mm": w / 2, "y_mm": (behind + 18) * INCH, "turn_deg": 180.0},
        "seating": [{"id": "stools", "count": seats, "side": "back", **({"passing": passing} if passing else {})}],
        "overhang": {"back_mm": 15 * INCH},
    }  # fmt: skip
    return {
        "format": 1, "id": "drawn-kitchen", "name": "Drawn kitchen",
        "household": {"cooks_together": cooks} if cooks else {},
        "spaces": [{"id": "k", "name": "Kitchen", "use": "kitchen", "outline": [[0, 0], [w, 0], [w, d], [0, d]],
                    "walls": [{"id": f"k-{side}"} for side in ("south", "east", "north", "west")],
                    "ceiling_mm": 96 * INCH}],
        "openings": [
            {"id": "way-in", "kind": "cased opening", "wall": "k-west", "beyond": "none", "from_end": "left",
             "offset_mm": 6 * INCH, "width_mm": 36 * INCH, "height_mm": 80 * INCH},
            {"id": "way-out", "kind": "door", "wall": "k-east", "beyond": "none", "from_end": "right",
             "offset_mm": 6 * INCH, "width_mm": 34 * INCH, "height_mm": 80 * INCH, "swing": "none"},
        ],
        "things": [
            on_run("base cabinet", "base", 0, 120, 24, 0, 34.5, opens=[{"kind": "drawer"}]),
            on_run("counter", "top", 0, 120, 25, 34.5, 36),
            on_run("refrigerator", "cold", 120, 36, 25, 0, 70, opens=[{"kind": "hinged", "hinge": "right"}]),
            in_top("sink", "bowl", "top", 60, 30), in_top("cooktop", "hob", "top", 18, 30),
            island,
        ],
    }  # fmt: skip


@st.composite
def kitchens(draw: Draw) -> Project:
    """Return a kitchen that most checks have something to say about."""
    plain = kitchen_plain(
        draw(st.integers(28, 72)),
        width=draw(st.integers(162, 220)),
        behind=draw(st.integers(24, 80)),
        seats=draw(st.integers(1, 5)),
        cooks=draw(st.sampled_from([None, 1, 2])),
        passing=draw(st.sampled_from([None, "none", "edge past", "walk past", "wheelchair"])),
    )
    extra = draw(
        st.lists(st.sampled_from(["light", "rug", "furniture", "waste", "extinguisher", "table"]), unique=True)
    )
    for i, kind in enumerate(extra):
        plain["things"].append({
            "id": f"extra-{kind.replace(' ', '-')}", "kind": kind, "space": "k", "width_mm": draw(lengths(100, 700)),
            "depth_mm": draw(lengths(100, 500)), "top_mm": draw(lengths(10, 900)),
            "place": {"how": "free", "x_mm": draw(lengths(400, 1500)), "y_mm": draw(lengths(400, 900)) + i,
                      "turn_deg": draw(st.sampled_from([0.0, 30.0, 90.0]))},
        })  # fmt: skip
    return Project.model_validate(plain).verified()
