"""The walkthrough as one HTML file, without a browser."""

from __future__ import annotations

import base64
import hashlib
import html
import re
import subprocess
import sys
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest

import enfilade as ef
from building import house, on_wall, room, set_in, thing
from enfilade.checks.run import check
from enfilade.checks.sentences import cautions_of
from enfilade.export.document import Document
from enfilade.export.html import walkthrough_html
from enfilade.export.look import Look
from enfilade.export.tell import told
from enfilade.project.fields import Audience
from enfilade.project.project import Project
from enfilade.walkthrough.findings_part import grouped
from enfilade.walkthrough.pages import Changes, RoomPage, Walkthrough

_STUDIO = {"R1", "R2", "R3", "T1", "T2", "T3", "T4", "T5", "T6", "T7"}


@cache
def demo(audience: Audience = "client") -> Document:
    """Return the demo house as it is told; it is composed once an audience."""
    return told(ef.demo(), audience)


def composed(project: Project, audience: Audience = "client") -> Walkthrough:
    return told(project, audience).pages


def page(project: Project, audience: Audience = "client") -> str:
    return walkthrough_html(told(project, audience))


def changed(document: Document, **fields: Any) -> Document:
    return replace(document, pages=replace(document.pages, **fields))


@pytest.fixture(scope="module")
def demo_page() -> str:
    """The demo house for its client."""
    return page(ef.demo())


def text_of(markup: str) -> str:
    return html.unescape(re.sub(r"<[^>]+>", " ", re.sub(r"<(style|script)\b.*?</\1>", "", markup, flags=re.DOTALL)))


def rooms_of(markup: str) -> dict[str, str]:
    """Return the markup of each room, by its id."""
    starts = [(m.group(1), m.start()) for m in re.finditer(r'<section class="room" id="room-([a-z0-9-]+)">', markup)]
    ends = [start for _, start in starts[1:]] + [markup.find('<section class="room annex', starts[-1][1])]
    return {id: markup[start:end] for (id, start), end in zip(starts, ends, strict=True)}


def test_it_loads_nothing_from_anywhere(demo_page: str) -> None:
    addresses = re.findall(r"""(?:\ssrc=|href=|url\()\s*["']?([^"'\s)>]+)""", demo_page)
    assert addresses
    assert [address for address in addresses if not address.startswith(("data:", "#"))] == []
    assert "@import" not in demo_page


def test_its_policy_allows_its_own_script_and_nothing_else(demo_page: str) -> None:
    # Content Security Policy Level 3 (W3C): a hash allows the one script whose bytes it is taken of.
    (policy,) = re.findall(r'<meta http-equiv="Content-Security-Policy" content="([^"]+)">', demo_page)
    (script,) = re.findall(r"<script>(.*?)</script>", demo_page, flags=re.DOTALL)
    digest = base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii")
    rules = dict(rule.strip().split(" ", 1) for rule in html.unescape(policy).split(";"))
    assert rules["default-src"] == "'none'"
    assert rules["script-src"] == f"'sha256-{digest}'"
    assert rules["img-src"] == rules["font-src"] == "data:"


def test_it_stays_far_under_eight_megabytes(demo_page: str) -> None:
    assert len(demo_page.encode("utf-8")) < 8_000_000


def test_every_room_has_its_page_in_walking_order(demo_page: str) -> None:
    walkthrough = demo().pages
    ids = list(rooms_of(demo_page))
    assert ids == [room.id for room in walkthrough.rooms]
    assert len(ids) == 9


def test_every_finding_stands_on_the_page_once(demo_page: str) -> None:
    project = ef.demo()
    walkthrough = composed(project)
    parts = [
        part
        for room in walkthrough.rooms
        for group in (room.short, room.held, room.open, room.beside)
        for part in group
    ]
    # What says how well decisions are recorded is the studio's own business.
    own = {"R1", "R2", "R3", *(f"T{number}" for number in range(1, 8))}
    findings = [f for f in check(project) if f.space is not None and f.rule not in own]
    assert sorted(part.id for part in parts) == sorted(f.id for f in findings)
    assert len(findings) > 200
    anchors = [part.anchor for part in parts]
    assert len(set(anchors)) == len(anchors)
    assert all(demo_page.count(f'id="{anchor}"') == 1 for anchor in anchors)


def test_what_falls_short_is_told_with_working_and_source(demo_page: str) -> None:
    text = text_of(demo_page)
    rooms = demo().pages.rooms
    assert sum(len(room_page.short) for room_page in rooms) > 10
    for room_page in rooms:
        for part in room_page.short:
            assert part.sentence in text
            assert part.source in text
            assert all(line in text for line in part.working)


def test_answers_are_told_as_answers_and_cautions_always(demo_page: str) -> None:
    text = text_of(demo_page)
    project = ef.demo()
    answered = {answer.finding for answer in project.answers}
    assert answered
    assert all(answer.reason in text for answer in project.answers)
    cautions = cautions_of(finding for finding in check(project) if finding.verdict != "not assessed")
    assert cautions
    assert all(caution in text for caution in cautions)


def test_how_well_decisions_are_recorded_is_told_to_the_studio_alone() -> None:
    def rules(audience: Audience) -> set[str]:
        walkthrough = demo(audience).pages
        rooms = [part for room in walkthrough.rooms for part in (*room.short, *room.held, *room.open)]
        return {part.id.partition(":")[0] for part in (*rooms, *walkthrough.house)}

    assert {"R1", "R2"} <= rules("studio")
    assert not {"R1", "R2", "R3"} & rules("client")


def test_the_public_hears_what_was_decided_and_not_whose_house_it_is() -> None:
    walkthrough = demo("public").pages
    assert walkthrough.title == "A house"
    undecided = [one for one in ef.demo().decisions if one.status == "undecided"]
    assert len(walkthrough.undecided) == len(undecided) < len(ef.demo().decisions)
    assert any(part.reason for room in walkthrough.rooms for part in room.decisions)


def test_what_is_accepted_does_not_open_a_room() -> None:
    answered = {a.finding for a in ef.demo().answers if a.kind != "to mend"}
    assert answered
    assert not answered & {part.id for room in demo().pages.rooms for part in room.worth_mending}


def test_at_most_five_findings_open_a_room(demo_page: str) -> None:
    kitchen = next(room for room in demo().pages.rooms if room.id == "kitchen")
    assert len(kitchen.worth_mending) == 5
    assert len(kitchen.short) > 5


def test_the_same_record_gives_the_same_bytes(demo_page: str) -> None:
    assert page(ef.demo()) == demo_page


def test_changing_one_size_changes_the_page() -> None:
    def with_counter(width: float) -> str:
        things = [
            thing("counter", "run", width, 25, on_wall("kitchen-north", 0)),
            thing("sink", "s", 30, 20, set_in("run", 30)),
        ]
        return text_of(page(house(things)))

    # Landing right of the sink: 120 - 60 = 60 in, then 110 - 60 = 50 in (guideline 11).
    assert '60" (1524 mm)' in with_counter(120)
    assert '60" (1524 mm)' not in with_counter(110)
    assert '50" (1270 mm)' in with_counter(110)


SECRETS = {
    "client note": ({"client": {"notes": "qqnote"}}, {"studio"}),
    "client name": ({"client": {"names": ["Qqname Invented"]}}, {"client", "studio"}),
    "need": ({"brief": {"needs": [{"id": "n", "number": 1, "text": "qqneed"}]}}, {"client", "student", "studio"}),
    "price": (
        {"products": [{"id": "p", "name": "Lamp", "purchase": {"quote": "987654.32"}}]},
        {"client", "studio"},
    ),
    "maker": ({"products": [{"id": "p", "name": "Lamp", "maker": "qqmaker"}]}, {"client", "studio"}),
    "hindsight": (
        {"decisions": [{"id": "d", "number": 1, "title": "T", "spaces": ["kitchen"], "hindsight": "qqhindsight"}]},
        {"student", "studio"},
    ),
    "studio's ears only": (
        {"decisions": [{"id": "d", "number": 1, "title": "qqtitle", "spaces": ["kitchen"], "hear": ["studio"]}]},
        {"studio"},
    ),
    "name in free text": (
        {"client": {"names": ["Qqname Invented"]}, "brief": {"text": "The house of Qqname Invented."}},
        {"client", "studio"},
    ),
}  # fmt: skip
NEEDLES = re.compile(r"qq\w+|987,654\.32", re.IGNORECASE)


@pytest.mark.parametrize("audience", ["client", "public", "student", "studio"])
@pytest.mark.parametrize("secret", SECRETS)
def test_each_audience_is_told_what_is_meant_for_it_and_no_more(secret: str, audience: Audience) -> None:
    plain, told_to = SECRETS[secret]
    markup = page(house([], **plain), audience)
    # The fonts are left out: any letters may stand in their bytes.
    found = NEEDLES.search(re.sub(r"<style.*?</style>", "", markup, flags=re.DOTALL))
    if audience not in told_to:
        assert found is None, found
    elif secret not in ("client note", "client name") or audience == "client":
        # The studio's own notes are kept in the record; the page does not set them.
        assert found is not None


def test_a_house_without_rooms_still_makes_a_page(tmp_path: Path) -> None:
    path = ef.tell(house(spaces=[]), out=tmp_path)[0]
    assert "No room is recorded yet." in path.read_text("utf-8")


def test_photographs_are_carried_inside_and_lose_what_the_camera_wrote(tmp_path: Path) -> None:
    import io

    from PIL import Image

    from enfilade.project.photos import keep_photograph

    exif = Image.Exif()
    exif[0x010F] = "qqcamera"
    buffer = io.BytesIO()
    Image.new("RGB", (40, 30), "red").save(buffer, "JPEG", exif=exif)
    file = keep_photograph(tmp_path / "p", buffer.getvalue())
    project = house(
        spaces=[room(100, 100)], photographs=[{"id": "a", "file": file, "space": "kitchen", "caption": "Red"}]
    )
    ef.save(project, tmp_path / "p")
    markup = page(ef.load(tmp_path / "p"))
    pictures = [base64.b64decode(data) for data in re.findall(r"data:image/jpeg;base64,([A-Za-z0-9+/=]+)", markup)]
    assert len(pictures) == 1
    assert b"qqcamera" not in pictures[0]
    assert b"qqcamera" in buffer.getvalue()


def test_a_room_reads_from_what_one_sees_to_what_one_looks_up(demo_page: str) -> None:
    kitchen = rooms_of(demo_page)["kitchen"]
    room = next(one for one in demo().pages.rooms if one.id == "kitchen")
    order = [
        "Kitchen</h2>",
        html.escape(room.story, quote=False)[:40],
        "What is said here",
        'class="drawing plan"',
        "What was decided",
        "Still undecided here",
        "Most worth mending",
        "Pictures",
        "Elevations",
        "In figures",
        "Cautions",
        "What falls short, with working and source",
        "What could not be assessed yet",
        "What holds",
        "What does not apply here",
        "Schedules, counts and remarks",
    ]
    places = [kitchen.index(words) for words in order]
    assert places == sorted(places)
    folded = kitchen.index("<details")
    assert kitchen.index("Cautions") < folded < kitchen.index("What falls short, with working and source")
    assert '<details class="folded" open' not in kitchen


def test_students_get_reasons_and_working_first_and_unfolded() -> None:
    markup = rooms_of(walkthrough_html(demo("student")))["kitchen"]
    assert markup.index("What falls short, with working") < markup.index("Elevations")
    unfolded = re.findall(r'<details class="folded" open>\s*<summary><h3>([^<]+)', markup)
    assert unfolded == ["What falls short, with working and source", "What could not be assessed yet", "What holds"]
    decision = markup[markup.index("An L against the river") :]
    assert decision.index('class="reason"') < decision.index("Chosen:")


def test_the_document_opens_with_what_changed_and_what_is_undecided() -> None:
    document = demo()
    changes = Changes("issue 3 of 2026-02-02", ("The island became longer.", "A <b>lamp</b> was taken out."))
    markup = walkthrough_html(changed(document, changes=changes))
    before = markup[: markup.index('<section class="room"')]
    assert "Since issue 3 of 2026-02-02" in before
    assert "A &lt;b&gt;lamp&lt;/b&gt; was taken out." in before
    text = text_of(before)
    for one in document.pages.undecided:
        assert one.title in text
        assert one.by in text
        assert one.due in text
    assert "Not issued before." in text_of(walkthrough_html(changed(document, changes=Changes("", ()))))


def test_what_is_said_of_several_things_is_said_once(demo_page: str) -> None:
    # Two panes beside the doors of the river room, of which nobody recorded whether they are safety glass.
    room = next(one for one in composed_rooms() if one.id == "dining")
    assert [group.title for group in grouped(room.open) if len(group.parts) > 1] == ["Safety glazing beside a door"]
    markup = rooms_of(demo_page)["dining"]
    for group in grouped(room.open):
        assert text_of(markup).count(f"{group.title}: not assessed") == 1
    assert sum(len(group.parts) for group in grouped(room.open)) == len(room.open)
    assert all(markup.count(f'id="{part.anchor}"') == 1 for part in room.open)


def test_a_caution_stands_once_in_a_room_and_findings_refer_to_it(demo_page: str) -> None:
    for id, markup in rooms_of(demo_page).items():
        room = next(one for one in composed_rooms() if one.id == id)
        for number, caution in enumerate(room.cautions, 1):
            assert text_of(markup).count(caution) == 1
            assert markup.count(f'id="room-{id}-caution-{number}"') == 1
        for part in room.short:
            if part.caution:
                item = markup[markup.index(f'<li id="{part.anchor}"') :]
                assert (
                    f'href="#room-{id}-caution-' in item[: item.index("</li>\n<li") if "</li>\n<li" in item else None]
                )


def composed_rooms() -> tuple[RoomPage, ...]:
    return demo().pages.rooms


@pytest.mark.parametrize("units", ["us", "metric"])
def test_volumes_and_areas_stand_in_the_projects_own_system(units: str) -> None:
    project = ef.demo()
    project = project.model_copy(update={"show": project.show.model_copy(update={"units": units})})
    tables = [
        table for room in composed(project).rooms for table in room.counts if table.title.startswith("Storage by")
    ]
    assert tables
    unit = "cu ft" if units == "us" else " l"
    for table in tables:
        assert table.head[1] == "Volume"
        assert all(row[1].endswith(unit) for row in table.rows)


def test_over_allowance_is_an_amount_of_its_own() -> None:
    purchase = {"allowance": "100", "quote": "90", "ordered_price": "130"}
    products = [{"id": "p", "name": "Lamp", "purchase": purchase}]
    markup = page(house([], products=products, show={"currency": "USD"}))
    assert "(over allowance)" not in markup
    # 130 ordered, 100 allowed: 30 over.
    assert re.search(r'data-label="Over by"[^>]*>USD\s30<', markup)


def test_drawings_say_recorded_finishes_only_where_some_are() -> None:
    cabinet = thing("base cabinet", "c", 24, 24, on_wall("kitchen-north", 0))
    bare = composed(house([cabinet])).rooms[0].elevations
    assert bare
    assert not any("recorded finishes" in drawing.title for drawing in bare)
    green = {"finishes": [{"id": "g", "name": "Green", "colour": "#335544"}]}
    finished = composed(house([{**cabinet, "finish": "g"}], **green)).rooms[0].elevations
    assert any("recorded finishes" in drawing.title for drawing in finished)


def test_the_look_of_a_studio_is_applied() -> None:
    logo = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 4"><path d="M0 0h4v4z"/></svg>'
    look = Look(studio="Invented Studio", designer="A. Nobody", letterhead=("12 Nowhere",), logo=logo, logo_kind="svg",
                ink="#221100", accent="#7a1f3d")  # fmt: skip
    markup = walkthrough_html(replace(demo(), look=look))
    head = markup[markup.index("<body") : markup.index("<h1")]
    assert all(words in head for words in ("Invented Studio", "A. Nobody", "12 Nowhere"))
    assert base64.b64encode(logo).decode() in head
    assert "--ink:#221100" in markup
    assert "--accent:#7a1f3d" in markup


def test_a_colour_that_is_none_never_reaches_the_styles() -> None:
    markup = walkthrough_html(replace(told(house([])), look=Look(ink="red;}</style><script>1</script>")))
    assert "<script>1" not in markup


def test_the_exporter_makes_the_same_page_of_the_notebook() -> None:
    from enfilade.export.exporter import WalkthroughExporter
    from enfilade.export.notebook import walkthrough_notebook

    document = demo()
    notebook = walkthrough_notebook(document)
    parts = [cell.metadata.enfilade.part for cell in notebook.cells]
    assert parts == ["cover", "first", "order", *["room"] * 9, "annexes"]
    markup, _ = WalkthroughExporter().from_notebook_node(notebook)
    assert markup == walkthrough_html(document)


def test_making_the_page_does_not_load_what_takes_long() -> None:
    code = (
        "import sys, enfilade as ef\n"
        "from enfilade.export.tell import told\n"
        "from enfilade.export import html, prompt, slides, speaker\n"
        "document = told(ef.demo())\n"
        "files = [html.write(document), slides.write(document), speaker.write(document), prompt.write(document)]\n"
        "print(sorted({'nbconvert', 'nbformat', 'pandas', 'plotly'} & set(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_a_house_wide_decision_is_told() -> None:
    plain = {"decisions": [{"id": "d", "number": 7, "title": "Lime in every room", "reason": "It breathes."}]}
    text = text_of(page(house([], **plain)))
    assert "Decided for the whole house" in text
    assert "It breathes." in text
