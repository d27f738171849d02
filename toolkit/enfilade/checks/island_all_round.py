"""The floor round an island, as popular guides have it: weaker than what the guidelines ask of aisles."""

from __future__ import annotations

from collections.abc import Iterator

from enfilade.checks.floor import FLOOR_KINDS
from enfilade.checks.island_counts import SIDES, side_clear
from enfilade.checks.registry import check
from enfilade.checks.shown import both, names
from enfilade.checks.view import View
from enfilade.findings import Finding, Mark
from enfilade.quantities import Quantity
from enfilade.standards.yardsticks import Yardstick

__all__ = ["clear_all_round"]


@check(reads={*FLOOR_KINDS, "household"}, uses={"kitchen"})
def clear_all_round(view: View, rules: Yardstick) -> Iterator[Finding]:
    """Take the least clear floor before the four sides of each island, straight ahead, up to 10 ft."""
    if not rules.has("N6"):
        return
    row, islands = rules.row("N6"), view.things("island")
    if not islands:
        here, words = (view.space.id,), "no island is recorded here"
        yield row.not_assessed(space=view.space.id, subjects=here, because="does not apply", working=(words,))
    for stand in islands:
        sides = [side_clear(view, rules, stand, side) for side in SIDES]
        measured = [(side.clear_mm, side) for side in sides if side.clear_mm is not None]
        if not measured:
            words = "nothing stands within 10 ft of any side"
            subjects = (stand.id,)
            yield row.not_assessed(space=view.space.id, subjects=subjects, because="does not apply", working=(words,))
            continue
        least_mm, least = min(measured, key=lambda one: one[0])
        to = names(view)
        yield row.finding(
            space=view.space.id,
            subjects=(stand.id,),
            measured=Quantity(least_mm, "mm"),
            working=tuple(f"{side.side}: {both(clear)} to {to.one(side.to or '')}" for clear, side in measured),
            marks=(Mark("measure", least.line, both(least_mm)),),
            assumed=stand.thing.assumed("width_mm", "depth_mm", "place"),
            also=("The guidelines for aisles, walkways and seats ask more; each side is held against them too.",),
        )
