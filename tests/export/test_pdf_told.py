"""The script, the cards and the storyboard, on scripts and films made by hand."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from building import house
from enfilade.export import cards, prompt, script, speaker, storyboard
from enfilade.export.clock import clock, length_words
from enfilade.export.document import Document
from printed import (
    SIX_SHOTS,
    bookmarks,
    document,
    filmed,
    picture,
    read,
    shot,
    spoken_lines,
    squeezed,
    tags,
    talk,
    text_of,
)


@cache
def empty() -> Document:
    return document(house([], show={"version": "7", "date": "2026-02-01"}, name="Invented house"))


COOKS = ("Cooks work on the river side.", 'The aisle is 41" wide, and 1 1/2 in more there.', "Air.")
BAY = ("We added the bay.", "The river is on three sides.", "It seats three.")
TALK = talk(
    ("Kitchen", spoken_lines("s1", *COOKS, pause_s=2)),
    ("Bay", spoken_lines("s2", *BAY, shows=("bench",))),
    walk_s=6,
    title="From door to table",
)


@cache
def film() -> Document:
    return filmed(empty(), TALK, SIX_SHOTS, [picture("Where the camera stands", 600, 400)])


@cache
def pdf(form: str) -> bytes:
    return {"script": script, "storyboard": storyboard}[form].write(film())[f"{form}.pdf"]


# Clocks.


@pytest.mark.parametrize(
    ("seconds", "shown"), [(0, "0:00"), (59.6, "1:00"), (125, "2:05"), (3725, "1:02:05"), (0.4, "0:00")]
)
def test_moments_are_told_as_clocks_tell_them(seconds: float, shown: str) -> None:
    assert clock(seconds) == shown


@given(st.floats(min_value=0, max_value=100_000))
def test_a_length_in_words_is_the_same_time(seconds: float) -> None:
    words = length_words(seconds).replace(" s", "").split(" min ")
    whole = int(words[0]) * 60 + int(words[1]) if len(words) == 2 else int(words[0])
    assert abs(whole - seconds) <= 0.5


# The script: SCP-01..03 and 07 of teaching handouts on the two-column script.


def test_every_spoken_word_is_written() -> None:
    text = squeezed(text_of(pdf("script")))
    for part in TALK.parts:
        for stop in part.stops:
            assert all(squeezed(line.said) in text for line in stop.lines)


def test_picture_instructions_are_in_capitals_and_sound_instructions_in_brackets() -> None:
    text = text_of(pdf("script"))
    assert "WIDE SHOT, 24 MM: ISLAND, WITH HOOD AND RANGE." in text
    assert "CLOSE-UP, 85 MM, PAN: SINK." in text
    assert "HOOD: CANNOT BE FRAMED." in text
    assert "[silence, 2 s]" in text
    assert "[walk, 6 s: From Kitchen]" in text
    assert "FOLLOW TO BAY." in text


def test_running_time_counts_lines_silences_and_walks() -> None:
    # Three lines of 4 s with 2 s of silence: 0:00, 0:06, 0:12; a walk of 6 s at 0:18; lines of 4 s from 0:24.
    words = text_of(pdf("script")).split()
    assert [word for word in words if word in {"0:00", "0:06", "0:12", "0:18", "0:24", "0:28", "0:32"}] == [
        "0:00", "0:06", "0:12", "0:18", "0:24", "0:28", "0:32",
    ]  # fmt: skip


def test_one_shot_is_one_row() -> None:
    # Two heads, six shots, one walk; the undecided block has no table in this house.
    assert tags(read(pdf("script")))["/TR"] == 2 + 6 + 1


def test_a_line_with_two_shots_has_two_rows_and_is_written_once() -> None:
    two = filmed(empty(), TALK, [shot(1, "s1/1"), shot(2, "s1/1", size="close-up")])
    data = script.write(two)["script.pdf"]
    assert tags(read(data))["/TR"] == 2 + 7 + 1
    assert text_of(data).count("Cooks work on the river side.") == 1
    assert "[goes on]" in text_of(data)


def test_a_line_without_a_shot_says_what_it_shows() -> None:
    text = text_of(script.write(filmed(empty(), TALK, []))["script.pdf"])
    assert "KITCHEN." in text
    assert "AS BEFORE." in text
    assert "SHOW BENCH." in text


def test_the_page_number_stands_at_the_top_right_and_margins_are_an_inch() -> None:
    long = talk(("Kitchen", spoken_lines("s1", *(["All that is said in this room, and more of it."] * 60))))
    reader = read(script.write(filmed(empty(), long, []))["script.pdf"])
    assert len(reader.pages) > 2
    for number, page in enumerate(reader.pages, 1):
        places: list[tuple[str, float, float]] = []
        page.extract_text(visitor_text=lambda text, cm, tm, font, size, into=places: into.append(
            (text.strip(), cm[0] * tm[4] + cm[4], cm[3] * tm[5] + cm[5])))  # fmt: skip
        written = [(text, x, y) for text, x, y in places if text]
        assert any(text == str(number) and x > 500 and y > 720 for text, x, y in written)
        # Letter is 612 x 792 points, an inch 72.
        assert all(71 <= x <= 541 for _, x, _ in written)
        assert all(y >= 71 for _, _, y in written)


def test_what_could_be_left_out_is_told_at_the_end() -> None:
    from enfilade.walkthrough.pages import Cut

    spoken = replace(TALK, target_s=20.0, cuts=(Cut("s2/3", "It seats three.", 4.0, "nothing else says it"),))
    text = text_of(script.write(filmed(empty(), spoken, []))["script.pdf"])
    assert "the target is 20 s" in text
    assert "What could be left out" in text
    assert "nothing else says it" in text


# Cards.


def test_four_cards_stand_on_a_sheet_and_one_on_a_page_of_its_own() -> None:
    many = talk(*((f"Room {n}", spoken_lines(f"s{n}", "One line.")) for n in range(1, 10)))
    files = cards.write(filmed(empty(), many, []))
    assert len(read(files["cards.pdf"]).pages) == 3
    single = read(files["cards-single.pdf"])
    assert len(single.pages) == 1 + 9
    # A quarter of a letter sheet lying: 5 1/2 x 4 1/4 in.
    assert (float(single.pages[0].mediabox.width), float(single.pages[0].mediabox.height)) == pytest.approx(
        (396, 306), abs=0.2
    )


def test_a_metric_studios_card_is_a6() -> None:
    base = document(house([], show={"units": "metric"}))
    page = read(cards.write(filmed(base, TALK, []))["cards-single.pdf"]).pages[0]
    # ISO 216: 148 x 105 mm; half of A4's 297 mm is 148.5.
    assert float(page.mediabox.width) == pytest.approx(148.5 / 25.4 * 72, abs=0.1)
    assert float(page.mediabox.height) == pytest.approx(105 / 25.4 * 72, abs=0.1)


def test_a_dropped_pile_can_be_sorted() -> None:
    reader = read(cards.write(film())["cards-single.pdf"])
    count = len(reader.pages)
    for number, page in enumerate(reader.pages, 1):
        text = page.extract_text()
        assert f"{number} of {count}" in text
        assert "version 7 · 2026-02-01" in text


def test_a_stop_with_more_than_a_card_holds_takes_several_and_its_clock_runs_on() -> None:
    # Each line takes 4 s.
    long = talk(
        ("Kitchen", spoken_lines("s1", *(f"Sentence {n} of many, which is not short at all here." for n in range(30))))
    )
    pages = [page.extract_text() for page in read(cards.write(filmed(empty(), long, []))["cards-single.pdf"]).pages]
    assert len(pages) > 3
    assert all(f"Sentence {n}" in " ".join(pages) for n in range(30))
    starts = [next(word for word in page.split() if ":" in word) for page in pages[1:]]
    assert starts == sorted(starts, key=lambda one: int(one.split(":")[0]) * 60 + int(one.split(":")[1]))
    assert starts[0] == "0:00"


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ('The aisle is 41" wide.', ('41"',)),
        ("It is 12' 3 1/2\" long, 168 square metres and 1 1/2 in thick.", ("12' 3 1/2\"", "168", "1 1/2 in")),
        ("That cost USD 6,400, or 90% of it.", ("USD 6,400", "90%")),
        ("No figure here.", ()),
    ],
)
def test_figures_are_found_as_they_are_written(text: str, found: tuple[str, ...]) -> None:
    assert cards.figures(text) == found


@given(st.text(max_size=500))
def test_a_cue_is_the_beginning_of_its_line(text: str) -> None:
    words = cards.cue(text).removesuffix("\N{NO-BREAK SPACE}…")
    assert " ".join(text.split()).startswith(words)


# The storyboard.


def test_plans_come_first_then_six_shots_to_a_page() -> None:
    many = [shot(n, "s1/1") for n in range(1, 15)]
    reader = read(storyboard.write(filmed(empty(), TALK, many, [picture("Plan of positions")]))["storyboard.pdf"])
    marks = bookmarks(reader)
    assert marks[-4:] == ["Where the camera stands", "Shots 1 to 6", "Shots 7 to 12", "Shots 13 to 14"]


def test_a_shot_is_told_with_lens_move_line_and_seconds() -> None:
    text = text_of(pdf("storyboard"))
    for words in (
        "close-up · 85 mm · pan · Kitchen",
        'The aisle is 41" wide',
        "6 s",
        "4 s",
        "In the way: pendant",
        "Wait for high water.",
    ):
        assert words in text


def test_a_shot_that_cannot_be_framed_says_why() -> None:
    assert "Cannot be framed. The wall stands too near; step back" in text_of(pdf("storyboard"))


def test_every_picture_is_told_in_words() -> None:
    # Five pictures and one plan.
    assert tags(read(pdf("storyboard")))["/Figure"] >= 6


def test_each_shot_names_the_position_that_the_plans_number() -> None:
    far = filmed(empty(), TALK, [shot(1, "s1/1", position=7), shot(2, "s1/2", position=7)])
    text = text_of(storyboard.write(far)["storyboard.pdf"])
    assert text.count("Position 7: 6' 0\" from the south wall") == 2


def test_the_length_of_the_script_is_told_alike_everywhere() -> None:
    # Six lines of 4 s, three silences of 2 s and a walk of 6 s: 36 s, 24 of them spoken.
    words = "36 s with walks and silences, 24 s of it spoken at 150 words a minute"
    told = [text_of(pdf("script")), text_of(pdf("storyboard")), text_of(cards.write(film())["cards.pdf"])]
    told += [speaker.write(film())["speaker.html"].decode(), prompt.write(film())["prompt.html"].decode()]
    for text in told:
        assert words in text


# All three.


@pytest.mark.parametrize("form", [script, cards, storyboard])
def test_without_a_script_each_is_a_document_that_says_so(form: object) -> None:
    none = filmed(empty(), replace(TALK, parts=(), seconds=0.0), [])
    for data in form.write(none).values():
        text = text_of(data)
        assert "No script is recorded yet." in text or "No shot is planned yet." in text
        assert "version 7" in text


@pytest.mark.parametrize("form", [script, cards, storyboard])
def test_odd_text_is_set(form: object) -> None:
    odd = "<script>#eval(1)</script> \u202e \U0001f600 \x01 " + "w" * 5000
    spoken = talk((odd, spoken_lines("s1", odd, odd, shows=(odd,))), title=odd)
    shots = [shot(1, "s1/1", subject=odd, room=odd, where=odd, trouble=odd, note=odd, also=(odd,), picture=None)]
    for name, data in form.write(filmed(empty(), spoken, shots)).items():
        assert data.startswith(b"%PDF"), name
        assert "#eval(1)" in squeezed(text_of(data)).casefold()
