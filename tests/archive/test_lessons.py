"""Hindsight comes back where the same is recorded again, from a file and from PostgreSQL."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from sqlalchemy import select

import enfilade as ef
from building import free, house, room, thing
from changed_houses import FINDING, LESSON, NEED, decision, kept, kitchen, taught
from enfilade.archive import tables as t
from enfilade.archive.changing import stated
from enfilade.archive.comparing.on_a_terminal import cells_wide, plain
from enfilade.archive.forgetting import forget
from enfilade.archive.lessons import Reminder, answer, lessons_of, reminders
from enfilade.archive.lessons.learning import learn
from enfilade.archive.lessons.lesson import facets_of, lesson_from, words_of
from enfilade.archive.lessons.told import as_text
from enfilade.archive.store import Store
from enfilade.errors import NotFound, Refused
from enfilade.project.project import Project
from hostile import EVERYTHING


def bath(**more: Any) -> Project:
    """Return a house that has nothing of the kind."""
    return house([], spaces=[room(120, 120, id="b", use="bath")], id="new-house", name="New house", **more)


def sorts(reminder: Reminder) -> list[str]:
    return [reason.about.partition("/")[0] for reason in reminder.reasons]


def test_a_lesson_knows_where_it_was_learnt() -> None:
    house = taught()
    (lesson,) = lessons_of(house, ef.check(house))
    assert (lesson.record, lesson.number, lesson.text, lesson.choice) == ("top", 14, LESSON, "A top of soapstone.")
    assert lesson.needs == (NEED["text"],)
    assert (lesson.uses, lesson.things, lesson.rules) == (("kitchen",), ("island@kitchen",), {"K6"})
    # The aisle was drawn 40 in wide; NKBA guideline 6 asks 42 in for one cook.
    (figure,) = lesson.figures
    assert (figure.measured, figure.asked, figure.unit, figure.short) == (40.0, 42.0, "in", True)
    assert lesson_from(lesson.as_text()) == lesson
    assert {"thing island@kitchen", "rule K6", "word soapstone", "word oven"} - set(facets_of(lesson)) == {
        "word soapstone"  # the words of the choice are no subject
    }


def test_what_taught_nothing_is_no_lesson() -> None:
    assert lessons_of(taught(hindsight=" \n")) == []
    assert lessons_of(kitchen()) == []


def test_the_same_kind_of_thing_in_a_room_of_the_same_use(address: str) -> None:
    with Store(address) as store:
        kept(store, taught())
        (one,) = reminders(store, kitchen(48, id="new-house"))
        assert one.id == "old-house/top/things/island"
        assert (one.lesson.text, one.project, one.name, one.version) == (LESSON, "old-house", "Old house", 1)
        assert one.why == "There is an island in a kitchen here too."
        assert one.open
        assert one.answered is None
        # Not in a room of another use, nor when it is to go.
        other = house([thing("island", "island", 72, 36, free(60, 60))], spaces=[room(120, 120, use="hall")], id="n")
        assert reminders(store, other) == ()
        gone = kitchen(48, id="new-house")
        gone = gone.with_records(
            things=[one.model_copy(update={"state": "removed"}) if one.id == "island" else one for one in gone.things]
        )
        assert reminders(store, gone) == ()


def test_a_similar_need_a_subject_and_a_finding(address: str) -> None:
    with Store(address) as store:
        kept(store, taught())
        need = {"id": "pans", "number": 1, "text": "A top that takes a hot pan, straight out of the oven"}
        (by_need,) = reminders(store, bath(brief={"needs": [need]}))
        assert by_need.id == "old-house/top/needs/pans"
        assert by_need.why.startswith("A need here asks much the same: “A top that takes a hot pan, straight out of")
        subject = decision(id="x", number=2, title="What the long island is topped with", spaces=[], things=[])
        (by_subject,) = reminders(store, bath(decisions=[subject]))
        assert by_subject.id == "old-house/top/decisions/x"
        (by_finding,) = reminders(store, kitchen(39, id="new-house"))
        assert by_finding.id == f"old-house/top/findings/{FINDING}"
        # 42 - 39 = 3 in.
        assert by_finding.why == (
            'Work aisle, one cook (island, counter) falls short here (39", 3" short), as it did there.'
        )
        assert sorts(by_finding) == ["findings", "things"]
        assert by_finding.strength > by_need.strength > 0.5
        assert reminders(store, bath(brief={"needs": [{**need, "text": "Water for the dog."}]})) == ()


def test_one_lesson_reminds_once_with_its_best_reason_first(address: str) -> None:
    with Store(address) as store:
        kept(store, taught())
        (one,) = reminders(store, taught("new-house"))
        assert sorts(one) == ["findings", "needs", "decisions", "things"]
        assert one.strength == 1.0
        assert reminders(store, stated(taught("new-house"))) == (one,)
        kept(store, taught("new-house"))
        # Kept, it is reminded by what was kept; both now teach each other.
        assert [again.id for again in reminders(store, "new-house")] == [one.id]
        assert [again.project for again in reminders(store, "old-house")] == ["new-house"]


def test_its_own_lesson_comes_back_only_when_its_decision_is_gone(address: str) -> None:
    with Store(address) as store:
        kept(store, taught())
        assert reminders(store, taught()) == ()
        again = taught(hindsight="Draw the aisle first, and the plank.")
        kept(store, again, 1)
        assert reminders(store, again) == ()
        without = kitchen(40, id="old-house")
        (one,) = reminders(store, without)
        assert (one.lesson.text, one.version) == ("Draw the aisle first, and the plank.", 2)
        kept(store, without, 2)
        assert [one.lesson.text for one in reminders(store, "old-house")] == ["Draw the aisle first, and the plank."]
        # To others it is not told any more: it stands in no newest version.
        assert reminders(store, kitchen(40, id="new-house")) == ()


def test_answers_come_up_next_time_and_may_change(address: str) -> None:
    with Store(address) as store:
        kept(store, taught())
        kept(store, kitchen(48, id="new-house"))
        (one,) = reminders(store, "new-house")
        with pytest.raises(Refused, match="not dismissed without a reason"):
            answer(store, "new-house", one.id, "dismissed", "  ")
        with pytest.raises(Refused, match="no answer to a lesson"):
            answer(store, "new-house", one.id, "maybe")
        answer(store, "new-house", one.id, "dismissed", "The bench comes with the house.", "Ada Rill")
        (again,) = reminders(store, "new-house")
        assert again.id == one.id
        assert not again.open
        assert again.answered is not None
        assert (again.answered.kind, again.answered.reason, again.answered.who) == (
            "dismissed", "The bench comes with the house.", "Ada Rill",
        )  # fmt: skip
        answer(store, "new-house", one.id, "accepted", "", "Ada Rill")
        (again,) = reminders(store, "new-house")
        assert again.answered is not None
        assert (again.answered.kind, again.answered.reason) == ("accepted", "")
        # Something weightier brings it back: now the aisle falls short.
        (anew,) = reminders(store, kitchen(40, id="new-house"))
        assert anew.open
        assert anew.id == f"old-house/top/findings/{FINDING}"
        assert anew.answered is not None
        assert anew.answered.kind == "accepted"
        answer(store, "new-house", anew.id, "dismissed", "A bench top.")
        (settled,) = reminders(store, kitchen(40, id="new-house"))
        assert not settled.open
        assert settled.id == anew.id
        # Another project is asked for itself.
        assert reminders(store, kitchen(40, id="third-house"))[0].answered is None


def test_what_cannot_be_answered_is_said(address: str) -> None:
    with Store(address) as store:
        kept(store, taught())
        kept(store, kitchen(48, id="new-house"))
        good = "old-house/top/things/island"
        for id in (
            "",
            "x",
            "old-house/top",
            "old-house/top/rooms/x",
            "///",
            "a/b/things/",
            EVERYTHING,
            "\x00/a/things/b",
        ):
            with pytest.raises(NotFound):
                answer(store, "new-house", id, "accepted")
        with pytest.raises(NotFound, match="no lesson"):
            answer(store, "new-house", "old-house/other/things/island", "accepted")
        with pytest.raises(NotFound, match="keep it, then answer"):
            answer(store, "elsewhere", good, "accepted")
        with pytest.raises(Refused, match="too long"):
            answer(store, "new-house", good, "accepted", "x" * 100_000)
        said = answer(store, "new-house", good, "accepted", EVERYTHING + "\x00\ud800")
        assert "\x00" not in said.reason
        (one,) = reminders(store, "new-house")
        assert one.answered is not None
        assert one.answered.reason == said.reason


def test_a_copy_for_students_teaches_students_alone(address: str) -> None:
    with Store(address) as store:
        kept(store, taught("private-house", hindsight="Private words."))
        kept(store, taught("class-house", hindsight="Words for students."), released=True)
        assert [one.lesson.text for one in reminders(store, kitchen(id="n"))] == ["Private words."]
        store.released = True  # as for a student who may read no more
        assert [one.lesson.text for one in reminders(store, kitchen(id="n"))] == ["Words for students."]
        with pytest.raises(NotFound):
            answer(store, "class-house", "private-house/top/things/island", "accepted")


def test_odd_texts_teach_too(address: str) -> None:
    odd = taught(hindsight=EVERYTHING + "\u202e" + "x" * 100_000, title="\u6f22\u5b57 \U0001f600" * 20)
    with Store(address) as store:
        kept(store, odd)
        (one,) = reminders(store, kitchen(48, id="new-house"))
        assert one.lesson.text == odd.decisions[0].hindsight
        assert one.as_json()["text"] == one.lesson.text
        empty = house([], spaces=[], id="empty")
        assert reminders(store, empty) == ()
        assert (
            reminders(store, house([], spaces=[], id="e2", brief={"needs": [{"id": "n", "number": 1, "text": ""}]}))
            == ()
        )


def test_words_of_long_and_empty_texts() -> None:
    assert words_of([]) == []
    assert words_of(["\u202e", "", "and of the"]) == []
    assert len(words_of([" ".join(f"{a}{b}word" for a in "abcdefghij" for b in "abcdefghij")])) <= 60


def test_a_client_who_is_forgotten_is_forgotten_in_lessons_too(address: str) -> None:
    name = "Zorbina Quillfeather"
    client = {"names": [name]}
    told = taught(hindsight=f"{name} should have seen the plank.", title=f"The top that Zorbina chose for {name}")
    told = told.model_copy(update={"client": type(told.client)(**client)})
    with Store(address) as store:
        kept(store, told)
        (before,) = reminders(store, kitchen(40, id="new-house"))
        assert name in before.lesson.text
        forget(store, "old-house", erase=True)
        (after,) = reminders(store, kitchen(40, id="new-house"))
        assert after.lesson.text.endswith("should have seen the plank.")
        with store.reading() as connection:
            kept_words = [*connection.execute(select(t.lessons.c.content)).scalars(),
                          *connection.execute(select(t.lesson_facets.c.facet)).scalars()]  # fmt: skip
        assert not [words for words in kept_words if "quillfeather" in words.lower()]
        assert after.lesson.figures == before.lesson.figures


def test_reminders_in_a_terminal(address: str) -> None:
    with Store(address) as store:
        assert as_text(reminders(store, kitchen(40, id="new-house"))).startswith("Nothing that was learnt")
        kept(store, taught(hindsight=LESSON + EVERYTHING * 20))
        kept(store, kitchen(40, id="new-house"))
        (one,) = reminders(store, "new-house")
        answer(store, "new-house", one.id, "dismissed", "A bench top.", "Ada Rill")
        for width in (0, 40, 120):
            text = as_text(reminders(store, "new-house"), width)
            assert all(cells_wide(line) <= max(width, 20) and plain(line) == line for line in text.split("\n"))
        assert "Could be a house rule: K6/one cook, Work aisle, one cook, published at least 42 in; 40 in" in text
        assert one.id in text.replace("\n  ", "")
        assert "Dismissed by Ada Rill on " in text


def test_few_lessons_are_looked_at_however_many_there_are(address: str) -> None:
    lesson = lessons_of(taught())[0]
    many = [replace(lesson, record=f"top-{n}", number=n) for n in range(700)]
    with Store(address) as store:
        kept(store, kitchen(id="old-house"))
        store.writing(lambda connection: learn(connection, 1, 1, many, False))
        found = reminders(store, kitchen(40, id="new-house"))
        # The newest 300 of each facet are looked at, and the strongest 100 are told.
        assert len(found) == 100
        assert {one.lesson.number for one in found} <= set(range(400, 700))
