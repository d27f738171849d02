"""Archives for tests and benchmarks: seeded, invented, as large as asked for.

Words are drawn by Zipf's law, so that a few stand nearly everywhere and most hardly anywhere, as in what people write.
Half of the vocabulary are words of the trade, the rest is made of syllables. There are no real names.
"""

from __future__ import annotations

import bisect
import itertools
import random
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from enfilade.archive.adding import add_version
from enfilade.archive.contents import FINDINGS
from enfilade.archive.figures import figures_of
from enfilade.archive.gathering import findings_bytes
from enfilade.archive.notes import notes_of
from enfilade.archive.store import FILE, Store
from enfilade.findings import Finding, Requirement
from enfilade.lengths import inches
from enfilade.project.choices import Decision, Option
from enfilade.project.people import Brief, Need
from enfilade.project.project import Project
from enfilade.project.writing import project_text
from enfilade.quantities import Quantity
from enfilade.sources import Source

__all__ = ["Made", "filled", "keep_made", "made", "vocabulary"]


def _words(text: str) -> list[str]:
    return text.split()


_TRADE = _words("""island counter sink aisle stone oak larch drawer hinge pantry window bench tile plaster lamp shelf
cabinet soapstone marble walnut brass linen range oven hood corner seat stool table cupboard scullery threshold
skirting cornice reveal panel veneer grain knot joint dovetail mitre tap basin drain trap waste bin board edge
overhang knee landing walkway door swing latch handle pull knob rail hook peg curtain blind shutter sill lintel beam
joist slab screed grout sealant wax oil soap lime clay pigment varnish lacquer primer glaze enamel zinc copper steel
slate granite terrazzo quartzite cork rubber rattan cane wool felt leather velvet cotton jute sisal
carpet rug""")
_PLAIN = _words("""the a of to and in for with on is was it that by from as at we one not would be all were so had they
light warm low high wide narrow long short deep early late quiet dry wet plain heavy easy near far cold bright dark
client builder mason joiner plumber children guests morning evening winter summer river garden street view room wall
chose kept moved raised lowered asked wanted measured drew cut laid set hung fitted cleaned mended repaired""")
_SYLLABLES = _words("""ba be bi bo bra bre cal can cor dal del dor fen fer gal gil hal hel kar kel lam len lor mar mel
mir nor nel pal pel per quil ral ren rin sal sel sor tal tel tor val vel vin wes wil zan zel""")
_USES = ("kitchen", "scullery", "dining", "living", "bath", "study")
_STATUS = ("planned", "built", "built", "changed on site")


@cache
def vocabulary(size: int = 24_000, seed: int = 5) -> tuple[str, ...]:
    """Return words, the most frequent first; the same for the same seed."""
    drawn = random.Random(seed)
    trade = _TRADE[:]
    drawn.shuffle(trade)
    words = dict.fromkeys([*_PLAIN[:28], *itertools.chain(*zip(trade, itertools.cycle(_PLAIN[28:]), strict=False))])
    while len(words) < size:
        words["".join(drawn.choice(_SYLLABLES) for _ in range(drawn.choice((2, 3, 3, 4))))] = None
    return tuple(words)


@cache
def _weights(size: int) -> list[float]:
    return list(itertools.accumulate(1.0 / (rank + 2.7) for rank in range(size)))  # Zipf and Mandelbrot, exponent 1


class _Writer:
    """Somebody who writes sentences."""

    def __init__(self, drawn: random.Random, words: tuple[str, ...]) -> None:
        self.drawn, self.words, self.weights = drawn, words, _weights(len(words))

    def sentence(self, shortest: int, longest: int) -> str:
        count = self.drawn.randint(shortest, longest)
        top = self.weights[-1]
        words = [self.words[bisect.bisect(self.weights, self.drawn.random() * top)] for _ in range(count)]
        return " ".join(words).capitalize() + "."


@dataclass(frozen=True)
class Made:
    """A project, and the findings at hand for it."""

    project: Project
    findings: list[Finding]

    @property
    def files(self) -> dict[str, bytes]:
        return {FILE: project_text(self.project).encode(), FINDINGS: findings_bytes(self.findings)}


def made(projects: int, decisions: int, *, things: int = 60, seed: int = 1, first: int = 0) -> Iterator[Made]:
    """Yield projects, each the same for the same seed and number.

    Args:
        projects, decisions: How many, and how many decisions each.
        things: How many each, six islands, tables and the like among them.
        first: Number of the first project.
    """
    words = vocabulary()
    for number in range(first, first + projects):
        drawn = random.Random(seed * 1_000_003 + number)
        yield _made(number, decisions, things, drawn, _Writer(drawn, words))


def keep_made(store: Store, one: Made, files: dict[str, bytes] | None = None) -> None:
    """Keep what was made, as `keep` does with what it reads from a folder.

    Args:
        files: Its files, where they are at hand.
    """
    add_version(
        store,
        one.project,
        files or one.files,
        who="the designer",
        why="generated",
        base=None,
        notes=notes_of(one.project, one.findings),
        figures=figures_of(one.project, one.findings),
    )


def filled(address: str, projects: int, decisions: int, **more: Any) -> None:
    """Fill an archive with generated projects."""
    with Store(address) as store:
        for one in made(projects, decisions, **more):
            keep_made(store, one)


def _made(number: int, decisions: int, things: int, drawn: random.Random, writer: _Writer) -> Made:
    spaces = [_room(i, use, drawn) for i, use in enumerate(_USES)]
    plain = {
        "id": f"house-{number:06d}",
        "name": f"House {number:06d}",
        "spaces": spaces,
        "things": [_thing(i, drawn) for i in range(things)],
        "products": [{"id": f"p{i}", "name": writer.sentence(2, 5), "care": writer.sentence(3, 9),
                      "purchase": {"quote": f"{drawn.uniform(20, 9000):.2f}"}} for i in range(6)],
        "finishes": [{"id": f"f{i}", "name": writer.sentence(1, 3), "material": writer.sentence(1, 3)}
                     for i in range(6)],
    }  # fmt: skip
    house = Project.model_validate(plain)
    needs = tuple(
        Need(id=f"n{i}", number=i + 1, text=writer.sentence(6, 16), spaces=(drawn.choice(_USES),)) for i in range(12)
    )
    chosen = tuple(_decision(i, drawn, writer) for i in range(decisions))
    project = house.model_copy(update={"brief": Brief(needs=needs), "decisions": chosen})
    return Made(project, list(_findings(project, drawn)))


def _room(number: int, use: str, drawn: random.Random) -> dict[str, Any]:
    x, width, depth = number * 20_000.0, inches(drawn.randint(80, 260)), inches(drawn.randint(70, 240))
    return {
        "id": use, "name": use.title(), "use": use, "ceiling_mm": inches(drawn.randint(92, 120)),
        "outline": [[x, 0.0], [x + width, 0.0], [x + width, depth], [x, depth]],
        "walls": [{"id": f"{use}-{side}"} for side in ("south", "east", "north", "west")],
    }  # fmt: skip


def _thing(number: int, drawn: random.Random) -> dict[str, Any]:
    kind = ("island", "table", "counter", "counter", "base cabinet", "wall cabinet", "tall cabinet", "refrigerator",
            "furniture", "light")[number % 10]  # fmt: skip
    space = "kitchen" if number < 10 else drawn.choice(_USES)
    x = _USES.index(space) * 20_000.0 + 900.0
    wide = {"island": (60, 130), "table": (40, 96), "counter": (24, 140)}.get(kind, (12, 42))
    plain: dict[str, Any] = {
        "id": f"{kind.replace(' ', '-')}-{number}", "kind": kind, "space": space,
        "place": {"how": "free", "x_mm": x, "y_mm": 900.0},
        "width_mm": inches(drawn.randint(*wide)), "depth_mm": inches(drawn.randint(12, 42)),
        "bottom_mm": 0.0, "top_mm": inches(drawn.choice((30, 36, 36, 84))),
    }  # fmt: skip
    if kind in ("island", "table"):
        plain["seating"] = [{"id": "row", "count": drawn.randint(1, 6)}]
    if number % 7 == 0:
        plain |= {"product": f"p{drawn.randrange(6)}", "finish": f"f{drawn.randrange(6)}"}
    return plain


def _decision(number: int, drawn: random.Random, writer: _Writer) -> Decision:
    options = tuple(
        Option(id=f"o{i}", text=writer.sentence(5, 12), why_not=writer.sentence(6, 14) if i else "",
               cost=f"{drawn.uniform(50, 20_000):.2f}")  # type: ignore[arg-type]
        for i in range(3)
    )  # fmt: skip
    return Decision(
        id=f"d{number}", number=number + 1, title=writer.sentence(3, 7), spaces=(drawn.choice(_USES),),
        needs=(f"n{drawn.randrange(12)}",), options=options, choice="o0", reason=writer.sentence(10, 22),
        status=drawn.choice(_STATUS), hindsight=writer.sentence(8, 18) if drawn.random() < 0.3 else "",
        changed=writer.sentence(5, 12) if drawn.random() < 0.1 else "",
    )  # type: ignore[arg-type] # fmt: skip


_SOURCE = Source("Invented guideline", "nobody", "", "6", "own choice", "Invented guideline 6")
_RULES = (
    ("K6", "two-cooks", "Work aisle, two cooks", 48.0), ("K7", "", "Walkway, width", 36.0),
    ("K9", "seat-width", "Seat at a counter or table, width", 24.0), ("I304", "", "Habitable room, area", 70.0),
    ("K25", "", "Total counter frontage", 158.0),
)  # fmt: skip


def _findings(project: Project, drawn: random.Random) -> Iterator[Finding]:
    by_room: dict[str, list[str]] = {}
    for thing in project.things:
        by_room.setdefault(thing.space, []).append(thing.id)
    for number in range(2 * len(project.things)):
        rule, part, title, asked = _RULES[number % len(_RULES)]
        space = drawn.choice(_USES)
        subjects = tuple(drawn.sample(by_room.get(space, []), k=min(2, len(by_room.get(space, [])))))
        measured = round(asked * drawn.uniform(0.7, 1.5) * 4) / 4
        yield Finding(
            f"{rule}:{part}:{'+'.join(subjects) or space}-{number}", rule, title, "recommended", space, subjects,
            _SOURCE, Quantity(measured, "in"), Requirement("at least", asked, "in"),
            working=(f"measured {measured} in",),
        )  # fmt: skip
