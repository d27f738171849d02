"""The draft of the script: what it says, to whom, and that it never takes anything from a person."""

from __future__ import annotations

import random
import re
from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import enfilade as ef
from building import free as place
from building import house, room, thing
from enfilade.checks.run import check
from enfilade.editing.forms.script_lines import with_line_added, with_line_moved, with_line_out
from enfilade.editing.forms.typed import with_row_removed, with_typed
from enfilade.findings import Finding
from enfilade.project.audience import for_audience
from enfilade.project.project import Project
from enfilade.project.speaking import ShotSize, SpokenLine
from enfilade.script.figures import Figures
from enfilade.script.resolve import resolved, said
from enfilade.standards.yardsticks import yardstick
from enfilade.walkthrough.compose import telling_of
from enfilade.walkthrough.drafting import drafted
from enfilade.walkthrough.drafting.items import about as about_words
from enfilade.walkthrough.drafting.voice import Voice, patterns
from enfilade.walkthrough.drafting.wording import Wording, sentences, tidy
from enfilade.walkthrough.spoken import spoken
from hostile import MARKER, with_hostile_text


@cache
def findings() -> tuple[Finding, ...]:
    return tuple(check(ef.demo()))


@cache
def silent() -> Project:
    """The demo house before anything was said in it, to be told in two parts."""
    demo = ef.demo()
    parts = ({"id": "first", "title": "Up to the table"}, {"id": "second", "title": "From the kitchen on"})
    speaking = demo.show.speaking.model_dump() | {"parts": parts}
    plain = demo.model_dump() | {"script": (), "show": demo.show.model_dump() | {"speaking": speaking}}
    return Project.model_validate(plain)


@cache
def first_draft() -> Project:
    return drafted(silent(), findings())


def all_lines(project: Project) -> list[SpokenLine]:
    found = [line for stop in project.script for line in stop.lines]
    return found + [line for part in project.show.speaking.parts for line in (*part.recap, *part.lead_in)]


def by_about(project: Project) -> dict[str, SpokenLine]:
    return {line.drafted.about: line for line in all_lines(project) if line.drafted is not None}


# --- what it says


def test_every_room_every_decision_and_every_accepted_shortfall_is_told() -> None:
    project = first_draft()
    assert {stop.space for stop in project.script} == {space.id for space in project.spaces}
    told = {id for line in all_lines(project) for id in line.decisions}
    assert told == {decision.id for decision in project.decisions}
    answered = {answer.finding for answer in project.answers if answer.kind == "accepted"}
    assert answered <= {id for line in all_lines(project) for id in line.findings}


def test_what_the_record_says_is_quoted_as_sentences() -> None:
    lines = by_about(first_draft())
    for decision in first_draft().decisions:
        if decision.status == "undecided":
            assert decision.options[-1].text.rstrip(".").split(",")[0][1:] in lines[f"decision:{decision.id}:open"].text
        else:
            assert decision.reason in lines[f"decision:{decision.id}:chosen"].text
        if decision.changed:
            assert decision.changed in lines[f"decision:{decision.id}:changed"].text


def test_texts_read_as_speech() -> None:
    for line in all_lines(first_draft()):
        for word in ("record", "decision ", "finding", "  ", "..", " ,", " .", "?.", ":.", "{", "}"):
            text = re.sub(r"\{[^{}]*\}", "figure", line.text)
            assert word not in text.casefold(), line.text
        assert re.match(r"[A-Z]", line.text)
        assert line.text[-1] in ".?!"
        assert len(line.text.split()) < 90  # what a mouth says before it rests


def test_no_two_lines_running_begin_alike_and_no_pattern_comes_twice_running() -> None:
    for stop in first_draft().script:
        begun = [" ".join(line.text.split()[:4]) for line in stop.lines]
        assert all(a != b for a, b in pairwise(begun)), begun
    voice = Voice()
    for topic, kinds in patterns().items():
        for kind, texts in kinds.items():
            if topic != "words" and len(set(texts)) > 1:
                parts = dict.fromkeys(
                    ("x", "X", "a", "b", "side", "where", "room", "story", "rooms", "figure", "area", "ceiling", "due",
                     "what", "What", "measured", "asked"), "x"
                )  # fmt: skip
                spoken_now = [voice.say(topic, kind, f"id-{n}", **parts) for n in range(60)]
                assert all(a != b for a, b in pairwise(spoken_now)), (topic, kind)
                assert len(set(spoken_now)) == len(set(texts)), (topic, kind)  # spread over all of them


def test_it_is_as_long_as_people_listen() -> None:
    # 9 rooms and 25 decisions: between eight minutes and a quarter of an hour and a bit, for the client.
    whole = spoken(telling_of(first_draft(), findings(), yardstick("us"), audience="client"))
    assert 8 * 60 < whole.seconds < 17 * 60


def test_numbers_are_bound_and_every_field_stands_for_something() -> None:
    figures = Figures(first_draft(), findings())
    bound = []
    for line in all_lines(first_draft()):
        found = resolved(line.text, figures)
        assert found.faults == ()
        bound += found.fields
        # Digits come from the record's own words or from a bound field, never from the draft.
        own = re.sub(r"\{[^{}]*\}", "", line.text)
        assert not re.search(r"\d", own), line.text
        assert not re.search(r"\d", said(line.text, figures))
    assert {field.text.split(" of ")[0] for field in bound} >= {"area", "length", "due day", "measured", "asked"}


def test_each_line_shows_what_it_tells_and_has_a_shot() -> None:
    lines = by_about(first_draft())
    for line in all_lines(first_draft()):
        assert line.shot is not None
        assert line.shot.size in get_args(ShotSize)
        assert line.drafted is not None
        assert line.drafted.text == line.text
        assert not line.edited
    assert lines["room:kitchen"].shot.size == "wide"  # type: ignore[union-attr]
    assert "island" in lines["decision:island-size:chosen"].things
    assert "sketch-island" in lines["decision:island-size:chosen"].photographs
    assert lines["decision:study-colour:chosen"].shot.size == "close-up"  # type: ignore[union-attr]


def test_the_same_record_gives_the_same_draft() -> None:
    assert drafted(silent(), findings()) == first_draft()
    assert drafted(silent(), reversed(findings())).script[0] == first_draft().script[0]


# --- who hears it


def test_hindsight_is_for_who_learns_and_waiting_for_someone_for_the_client() -> None:
    for about, line in by_about(first_draft()).items():
        if about.endswith(":hindsight"):
            assert line.hear == ("student", "studio")
        elif about.endswith(":who"):
            assert line.hear == ("client", "studio")
        elif about.startswith("finding:"):
            assert line.hear == ("client", "student", "studio")


def test_nobody_hears_what_the_fields_behind_it_do_not_tell_them() -> None:
    hindsight = [decision.hindsight for decision in silent().decisions if decision.hindsight]
    names = {name for full in silent().client.names for name in full.split()}
    for audience in ("public", "client"):
        text = " ".join(line.text for line in all_lines(for_audience(first_draft(), audience)))
        assert not any(lesson[:30] in text for lesson in hindsight)
        if audience == "public":
            assert not any(name in text for name in names)
            assert not any(answer.reason[:30] in text for answer in silent().answers)


def test_a_decision_that_only_some_may_hear_of_is_told_to_them_alone() -> None:
    project = silent()
    kept = [d.model_copy(update={"hear": ("studio",)}) if d.id == "island-size" else d for d in project.decisions]
    project = drafted(project.with_records(decisions=kept), findings())
    told = [line for line in all_lines(project) if "island-size" in line.decisions]
    assert told
    assert all(line.hear == ("studio",) for line in told)


# --- parts


def test_each_part_is_joined_to_its_neighbours() -> None:
    project = first_draft()
    first, last = project.show.speaking.parts[0], project.show.speaking.parts[-1]
    assert not first.recap
    assert first.lead_in
    assert last.recap
    assert not last.lead_in
    assert "the entry" in last.recap[0].text
    assert last.recap[1].decisions


def test_a_house_told_in_one_go_is_joined_to_nothing() -> None:
    show = silent().show
    speaking = show.speaking.model_copy(update={"parts": show.speaking.parts[:1]})
    project = silent().model_copy(update={"show": show.model_copy(update={"speaking": speaking})})
    (part,) = drafted(project, findings()).show.speaking.parts
    assert (part.recap, part.lead_in) == ((), ())


# --- drafting again


def test_drafting_again_changes_nothing() -> None:
    assert drafted(first_draft(), findings()) is first_draft()
    demo = ef.demo()
    once = drafted(demo, findings())
    assert drafted(once, findings()) is once


def test_what_a_person_wrote_stays_word_for_word_and_place_for_place() -> None:
    demo = ef.demo()
    once = drafted(demo, findings())
    for before, after in zip(demo.script, once.script, strict=True):
        written = [line for line in after.lines if line.drafted is None]
        assert tuple(written) == before.lines


def edited(project: Project, seed: int) -> tuple[Project, dict[str, SpokenLine], set[str], dict[str, str]]:
    """A project after a person worked on its draft: what they wrote or changed, took out, and moved to another room."""
    chance = random.Random(seed)
    kept: dict[str, SpokenLine] = {}
    out: set[str] = set()
    moved: dict[str, str] = {}
    for number in range(chance.randrange(1, 9)):
        stop = chance.choice([one for one in project.script if one.lines])
        line = chance.choice(stop.lines)
        what = chance.choice(("change", "out", "add", "move"))
        if what == "change" and line.drafted is not None:
            project = with_typed(project, ("script", stop.id, "lines", line.id, "text"), f"Own words {number}.")
            kept[f"Own words {number}."] = line
        elif what == "out" and line.drafted is not None and not line.edited:
            project = with_line_out(project, stop.id, line.id)
            out.add(line.drafted.about)
            moved.pop(line.drafted.about, None)
        elif what == "add":
            text = f"Written {number}."
            project, _, _ = with_line_added(project, stop.space, text, chance.randrange(len(stop.lines) + 1))
            kept[text] = line
        elif what == "move" and line.drafted is not None and not line.edited:
            to = chance.choice(project.script)
            project = with_line_moved(project, stop.id, line.id, 0, to_stop=to.id)
            moved[line.drafted.about] = to.id
    return project, kept, out, moved


def changed(project: Project, seed: int) -> tuple[Project, str, str]:
    """A project in which one decision is gone, one is new and one has another reason; which went, which changed."""
    chance = random.Random(seed)
    gone, other = chance.sample([one.id for one in project.decisions if one.status != "undecided"], 2)
    new = project.decisions[0].model_copy(
        update={"id": "brand-new", "number": 99, "title": "A new one", "spaces": ("kitchen",), "things": ()}
    )
    decisions = [
        one.model_copy(update={"reason": "Quite another reason."}) if one.id == other else one
        for one in project.decisions
        if one.id != gone
    ]
    lines = {
        "script": tuple(
            stop.model_copy(update={"lines": tuple(
                line.model_copy(update={"decisions": tuple(id for id in line.decisions if id != gone)})
                for line in stop.lines
            )})
            for stop in project.script
        )
    }  # fmt: skip
    parts = tuple(
        part.model_copy(update={name: tuple(
            line.model_copy(update={"decisions": tuple(id for id in line.decisions if id != gone)})
            for line in getattr(part, name)) for name in ("recap", "lead_in")})
        for part in project.show.speaking.parts
    )  # fmt: skip
    speaking = project.show.speaking.model_copy(update={"parts": parts})
    photographs = tuple(
        one.model_copy(update={"decisions": tuple(id for id in one.decisions if id != gone)})
        for one in project.photographs
    )
    project = project.model_copy(update={"show": project.show.model_copy(update={"speaking": speaking})})
    return project.with_records(decisions=[*decisions, new], photographs=photographs, **lines), gone, other


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**6))
def test_a_redraft_keeps_what_a_person_did_and_follows_the_record(seed: int) -> None:
    by_hand, kept, out, moved = edited(first_draft(), seed)
    project, gone, other = changed(by_hand, seed)
    again = drafted(project, findings())
    before = {(stop.id, line.id): line for stop in project.script for line in stop.lines}
    after = {(stop.id, line.id): line for stop in again.script for line in stop.lines}
    # Every line that a person wrote or changed is the same record in the same stop, and in the same order.
    own = [key for key, line in before.items() if line.edited]
    assert [key for key, line in after.items() if line.edited] == own
    assert all(after[key] == before[key] for key in own)
    assert {before[key].text for key in own} <= set(kept)
    # Nothing that was taken out came back.
    told = by_about(again)
    assert not out & set(told)
    # What was moved to another room and still tells something stayed there.
    where = {line.drafted.about: stop.id for stop in again.script for line in stop.lines if line.drafted is not None}
    for about, stop in moved.items():
        if about in where and not by_about(by_hand)[about].edited:
            assert where[about] == stop
    # What it told is gone: its untouched lines are. What is new is told, and what changed is told anew.
    assert not any(f"decision:{gone}:" in about for about, line in told.items() if not line.edited)
    assert any("decision:brand-new:" in about for about in told)
    line = told.get(f"decision:{other}:chosen")
    assert line is None or line.edited or "Quite another reason." in line.text
    assert line is not None or f"decision:{other}:chosen" in out
    # Each thing is told once, and drafting again changes nothing.
    abouts = [line.drafted.about for line in all_lines(again) if line.drafted is not None]
    assert len(abouts) == len(set(abouts))
    assert drafted(again, findings()) is again


def test_what_is_new_stands_where_it_fits() -> None:
    draft = first_draft()
    kitchen = next(stop for stop in draft.script if stop.space == "kitchen")
    line = next(one for one in kitchen.lines if one.drafted and one.drafted.about == "decision:island-size:changed")
    thinned = kitchen.model_copy(update={"lines": tuple(one for one in kitchen.lines if one is not line)})
    project = draft.with_records(script=[thinned if one is kitchen else one for one in draft.script])
    assert drafted(project, findings()) == draft


COMING_IN = ("room:", "sight:")


def test_where_a_person_opens_a_room_nobody_comes_in_a_second_time() -> None:
    demo = ef.demo()
    opened = {stop.id for stop in demo.script if stop.lines}
    assert opened  # every room of the demo opens with a person's line
    for stop in drafted(demo, findings()).script:
        coming = [one for one in stop.lines if one.drafted and one.drafted.about.startswith(COMING_IN)]
        assert not (stop.id in opened and coming), stop.id
    bare = demo.with_records(script=[stop.model_copy(update={"lines": ()}) for stop in demo.script])
    for stop in drafted(bare, findings()).script:
        assert stop.lines[0].drafted is not None
        assert stop.lines[0].drafted.about == f"room:{stop.space}"


def test_what_one_sees_first_is_told_first_whatever_stands_there() -> None:
    # The lines that come first were taken off the record of the stop, and what stays is of another room.
    draft = first_draft()
    kitchen = next(stop for stop in draft.script if stop.space == "kitchen")
    study = next(stop for stop in draft.script if stop.space == "study")
    sight = next(one for one in kitchen.lines if one.drafted and one.drafted.about == "sight:kitchen")
    strange = study.lines[-1]
    stops = {
        kitchen.id: kitchen.model_copy(update={"lines": (strange.model_copy(update={"id": "strange"}),)}),
        study.id: study.model_copy(update={"lines": study.lines[:-1]}),
    }
    project = draft.with_records(script=[stops.get(one.id, one) for one in draft.script])
    lines = next(stop for stop in drafted(project, findings()).script if stop.space == "kitchen").lines
    places = {one.drafted.about: at for at, one in enumerate(lines) if one.drafted}
    assert places["room:kitchen"] == 0
    assert places[sight.drafted.about if sight.drafted else ""] == 1


def test_the_size_of_a_room_is_told_in_whole_units() -> None:
    sizes = [one.text for stop in first_draft().script for one in stop.lines
             if one.drafted and one.drafted.about.startswith("size:")]  # fmt: skip
    assert sizes
    assert not any("rounded" in one for one in sizes)


def test_a_persons_shot_pause_and_listeners_stay_when_the_text_follows_the_record() -> None:
    draft = first_draft()
    path = ("script", "stop-kitchen", "lines", "decision-island-size-chosen")
    project = with_typed(draft, (*path, "pause_s"), "2.5")
    project = with_typed(project, (*path, "shot", "size"), "extreme close-up")
    project = with_typed(project, (*path, "hear"), ["client", "studio"])
    decisions = [
        one.model_copy(update={"reason": "Other words."}) if one.id == "island-size" else one
        for one in project.decisions
    ]
    line = by_about(drafted(project.with_records(decisions=decisions), findings()))["decision:island-size:chosen"]
    assert "Other words." in line.text
    assert (line.pause_s, line.shot.size, line.hear) == (2.5, "extreme close-up", ("client", "studio"))  # type: ignore[union-attr]


def test_a_redraft_never_tells_more_people() -> None:
    draft = first_draft()
    kept = [d.model_copy(update={"hear": ("studio",)}) if d.id == "island-size" else d for d in draft.decisions]
    again = drafted(draft.with_records(decisions=kept), findings())
    assert all(line.hear == ("studio",) for line in all_lines(again) if "island-size" in line.decisions)


def test_what_a_persons_own_line_tells_is_not_told_twice() -> None:
    stop = {"id": "s", "space": "kitchen", "lines": [{"id": "l", "text": "Mine.", "decisions": ["island-size"]}]}
    project = Project.model_validate(silent().model_dump() | {"script": [stop]})
    told = by_about(drafted(project, findings()))
    assert not any("island-size" in about for about in told if about.startswith("decision:"))
    assert "room:kitchen" not in told  # a person has opened the room
    assert "decision:cooking-fuel:chosen" in told


def test_a_stop_that_was_taken_out_as_a_whole_stays_out() -> None:
    project = first_draft()
    for stop in project.script[2:4]:
        project = with_row_removed(project, ("script", stop.id))
    again = drafted(project, findings())
    assert drafted(again, findings()) == again
    assert {stop.space for stop in again.script}.isdisjoint({stop.space for stop in first_draft().script[2:4]})


def test_a_script_that_was_emptied_stop_by_stop_stays_empty() -> None:
    project = first_draft()
    for stop in first_draft().script:
        project = with_row_removed(project, ("script", stop.id))
    assert [stop.lines for stop in project.script] == [()]  # the last stop keeps what was taken out
    assert [stop for stop in drafted(project, findings()).script if stop.lines] == []


def test_a_stop_of_a_persons_own_lines_leaves_nothing_behind() -> None:
    plain = silent().model_dump() | {
        "script": ({"id": "own", "space": "kitchen", "lines": ({"id": "a", "text": "Own."},)},)
    }
    assert with_row_removed(Project.model_validate(plain), ("script", "own")).script == ()


@pytest.mark.parametrize(
    ("name", "text", "expected"),
    [
        ("Small kitchen", "Kitchen", "the kitchen"), ("Small Kitchen", "Small table", "the small table"),
        ("Kitchen", "Kitchen", "the kitchen"), ("Kitchen", "Kitchen island", "the kitchen island"),
        ("Slip House", "Slip House bench", "the Slip House bench"), ("Slip House", "House rules", "the house rules"),
        ("Slip House", "Slip of paper", "the slip of paper"), ("Own house", "Ann's chair", "Ann's chair"),
        ("Own house", "Tile shelf", "the tile shelf"), ("Own house", "Hollin's shelf", "Hollin's shelf"),
    ],
)  # fmt: skip
def test_only_names_keep_their_capital(name: str, text: str, expected: str) -> None:
    """`Tile setter` is what somebody does, and the house is called a small kitchen for want of a name."""
    plain = house(spaces=[room(144, 144)]).model_dump() | {"name": name}
    plain["household"]["people"] = ({"id": "ann", "name": "Ann Merrowby"},)
    plain["show"]["trades"] = ({"id": "t", "name": "Tile setter"}, {"id": "j", "name": "Hollin Byre"})
    assert Wording(Project.model_validate(plain)).the(text) == expected


def test_a_recap_keeps_nothing_in_mind_that_is_still_open() -> None:
    plain = silent().model_dump()
    plain["decisions"] = tuple({**one, "status": "undecided", "choice": None} for one in plain["decisions"])
    told = drafted(Project.model_validate(plain), ())
    assert not any(line.decisions for part in told.show.speaking.parts for line in part.recap)


def test_a_recap_that_was_taken_out_stays_out() -> None:
    part = first_draft().show.speaking.parts[-1]
    without = with_line_out(first_draft(), part.id, part.recap[0].id)
    again = drafted(without, findings()).show.speaking.parts[-1]
    assert [line.id for line in again.recap] == [part.recap[1].id]


# --- odd records


@pytest.mark.parametrize(
    "text",
    ["", " ", ".", "?!", "x", "WORD", "a {brace} b", "line\nline", "very long. " * 18_000, "x" * 100_000, "$x $X ${y}",
     "厨房。", "🙂", "\u202eturned\u202c", "<b>bold</b>", "I think. It is.", "Keep", "Open", "In",
     "W. Overmantle says."],
)  # fmt: skip
def test_any_text_can_stand_in_a_draft(text: str) -> None:
    decision = {
        "id": "d", "number": 1, "title": text[:400], "spaces": ["kitchen"], "status": "built", "choice": "a",
        "reason": text, "changed": text, "hindsight": text, "by": text[:400],
        "options": [{"id": "a", "text": text}, {"id": "b", "text": text, "why_not": text}],
    }  # fmt: skip
    undecided = decision | {"id": "u", "number": 2, "status": "undecided", "choice": None}
    space = room(144, 144) | {"story": text, "name": text[:400]}
    one = thing("table", "t", 40, 60, place(72, 72), name=text[:400])
    project = house([one], spaces=[space], decisions=[decision, undecided])
    once = drafted(project, check(project))
    assert all(len(line.text) < 6000 for line in all_lines(once))
    assert drafted(once, check(project)) is once
    figures = Figures(once, check(project))
    assert all(resolved(line.text, figures).faults == () for line in all_lines(once))
    assert (
        text.strip(" .?!")[:5].strip() in " ".join(line.text for line in all_lines(once)) or "{" in text or "\n" in text
    )


def test_markup_is_carried_as_it_stands() -> None:
    project, _ = with_hostile_text(silent())
    assert MARKER in " ".join(line.text for line in all_lines(drafted(project, ())))


@pytest.mark.parametrize("rooms", [0, 1, 100])
def test_no_rooms_or_a_hundred_can_be_drafted(rooms: int) -> None:
    spaces = [room(100, 100, id=f"r{n}", at=(n % 10 * 110, n // 10 * 110)) for n in range(rooms)]
    project = drafted(house(spaces=spaces), ())
    assert len(project.script) == rooms


def test_findings_with_very_long_ids_can_be_told() -> None:
    demo = ef.demo()
    long = "K6:" + "x" * 1900
    answers = [one.model_copy(update={"finding": long}) if one.id == "answer-aisle" else one for one in demo.answers]
    found = [replace(one, id=long) for one in findings() if one.id.startswith("K6:two-cooks")]
    project = drafted(silent().with_records(answers=answers), found)
    line = next(one for one in all_lines(project) if long in one.findings)
    assert line.drafted is not None
    assert drafted(project, found) == project
    # Two that differ at their end alone are told apart.
    short = {about_words("finding", f"{long}{end}") for end in "ab"}
    assert len(short) == 2
    assert max(map(len, short)) <= 200


# --- words


@pytest.mark.parametrize(
    ("text", "form", "clause"),
    [
        ("Four lockers with vents.", "thing", "four lockers with vents"),
        ("Larch boards, soaped, laid lengthwise.", "thing", "larch boards, soaped, laid lengthwise"),
        ("Keep the length as drawn.", "act", "keep the length as drawn"),
        ("Open shelves.", "thing", "open shelves"),
        ("Open the wall.", "act", "open the wall"),
        ("Between the sink and the corner.", "place", "between the sink and the corner"),
        ("Inside shutters.", "thing", "inside shutters"),
        ("Sink under the window, range on the wall, island between them.", "list",
         "sink under the window, range on the wall, island between them"),
        ("It stays.", "other", "it stays"),
        ("A U that closes the side.", "thing", "a U that closes the side"),
        ("Odalys chooses.", "thing", "Odalys chooses"),
        ("", "other", ""),
    ],
)  # fmt: skip
def test_texts_are_told_apart(text: str, form: str, clause: str) -> None:
    assert Wording(silent()).option(text)[:2] == (form, clause)


def test_sentences_begin_with_a_capital_and_end_with_a_mark() -> None:
    assert sentences("it stays") == "It stays."
    assert sentences("It stays.") == "It stays."
    assert sentences("Does it?") == "Does it?"
    assert sentences('They said "no."') == 'They said "no."'
    assert sentences("one;") == "One."
    assert sentences("  ") == ""
    assert tidy("a {b}\n c") == "a (b) c"
    assert sentences("One. " * 500).endswith("One.")
