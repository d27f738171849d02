"""The walkthrough as one HTML file, without a browser."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest

import enfilade as ef
from building import house, on_wall, room, set_in, thing
from enfilade.checks.run import check, project_yardstick
from enfilade.checks.sentences import cautions_of
from enfilade.export.html import walkthrough_html
from enfilade.project.fields import Audience
from enfilade.project.project import Project
from enfilade.walkthrough.compose import compose, telling_of
from enfilade.walkthrough.pages import Walkthrough


def composed(project: Project, audience: Audience = "client") -> Walkthrough:
    rules = project_yardstick(project)
    return compose(telling_of(project, check(project, yardstick=rules), rules, audience=audience))


def page(project: Project, audience: Audience = "client") -> str:
    return walkthrough_html(composed(project, audience))


@pytest.fixture(scope="module")
def demo_page() -> str:
    """The demo house for its client."""
    return page(ef.demo())


def text_of(markup: str) -> str:
    return html.unescape(re.sub(r"<[^>]+>", " ", re.sub(r"<style.*?</style>", "", markup, flags=re.DOTALL)))


def test_it_loads_nothing_from_anywhere(demo_page: str) -> None:
    addresses = re.findall(r"""(?:\ssrc=|href=|url\()\s*["']?([^"'\s)>]+)""", demo_page)
    assert addresses
    assert [address for address in addresses if not address.startswith(("data:", "#"))] == []
    assert "<script" not in demo_page
    assert "@import" not in demo_page


def test_it_stays_far_under_eight_megabytes(demo_page: str) -> None:
    assert len(demo_page.encode("utf-8")) < 8_000_000


def test_every_room_has_its_page_in_walking_order(demo_page: str) -> None:
    walkthrough = composed(ef.demo())
    ids = re.findall(r'<section class="room" id="room-([a-z0-9-]+)">', demo_page)
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
    findings = [f for f in check(project) if f.space is not None and f.rule not in ("R1", "R2", "R3")]
    assert sorted(part.id for part in parts) == sorted(f.id for f in findings)
    assert len(findings) > 200
    anchors = [part.anchor for part in parts]
    assert len(set(anchors)) == len(anchors)
    assert all(demo_page.count(f'id="{anchor}"') == 1 for anchor in anchors)


def test_what_falls_short_is_told_with_working_and_source(demo_page: str) -> None:
    text = text_of(demo_page)
    rooms = composed(ef.demo()).rooms
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
        walkthrough = composed(ef.demo(), audience)
        rooms = [part for room in walkthrough.rooms for part in (*room.short, *room.held, *room.open)]
        return {part.id.partition(":")[0] for part in (*rooms, *walkthrough.house)}

    assert {"R1", "R2"} <= rules("studio")
    assert not {"R1", "R2", "R3"} & rules("client")


def test_the_public_hears_what_was_decided_and_not_whose_house_it_is() -> None:
    walkthrough = composed(ef.demo(), "public")
    assert walkthrough.title == "A house"
    undecided = [one for one in ef.demo().decisions if one.status == "undecided"]
    assert len(walkthrough.undecided) == len(undecided) < len(ef.demo().decisions)
    assert any(part.reason for room in walkthrough.rooms for part in room.decisions)


def test_what_is_accepted_does_not_open_a_room() -> None:
    answered = {a.finding for a in ef.demo().answers if a.kind != "to mend"}
    assert answered
    assert not answered & {part.id for room in composed(ef.demo()).rooms for part in room.worth_mending}


def test_at_most_five_findings_open_a_room(demo_page: str) -> None:
    kitchen = next(room for room in composed(ef.demo()).rooms if room.id == "kitchen")
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
    import base64

    pictures = [base64.b64decode(data) for data in re.findall(r"data:image/jpeg;base64,([A-Za-z0-9+/=]+)", markup)]
    assert len(pictures) == 1
    assert b"qqcamera" not in pictures[0]
    assert b"qqcamera" in buffer.getvalue()
