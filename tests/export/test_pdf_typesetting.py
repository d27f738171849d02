"""Text that no document expects, and what goes wrong: on small documents set by the real typesetter."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from enfilade.errors import Refused
from enfilade.export.gallery import Gallery, size_mm
from enfilade.export.look import Look
from enfilade.export.printed_tables import table_data
from enfilade.export.signs import Shown, in_short, named
from enfilade.export.typesetting import Setting, set_pdf
from enfilade.walkthrough.pages import Drawing, Picture
from printed import picture, read, squeezed, text_of

EMPTY: dict[str, Any] = {
    "paper": "metric", "single": True, "length": "", "head": "", "version": "", "date": "", "studio": "", "stage": "",
    "reader": "", "since": "", "changes": [], "undecided": [], "cards": [],
    "unchanged": "", "still": "", "settled": "",
}  # fmt: skip


def card(title: str, cue: str = "", *, look: Look | None = None, gallery: Gallery | None = None) -> bytes:
    """Set one card with a title and a line: the smallest document there is."""
    data = {
        **EMPTY, "head": "House",
        "cards": [{"number": 1, "title": title, "of": "", "part": "", "way": "", "start": "0:00", "seconds": "4 s",
                   "lines": [{"cue": cue, "figures": [], "shows": "", "pause": ""}]}],
    }  # fmt: skip
    setting = Setting("cards.pdf", "cards", title, look or Look(), gallery=gallery or Gallery())
    return set_pdf(setting, data)


MARKUP = '#eval("1+1") $x^2$ *bold* _it_ `raw` @label <label> #import "x" \\ // -- --- ~ = Heading [x] #sys.inputs'


def test_markup_of_the_typesetter_is_text() -> None:
    assert squeezed(MARKUP) in squeezed(text_of(card("House", MARKUP)))
    assert read(card(MARKUP)).metadata.title == MARKUP


@pytest.mark.parametrize(
    ("sign", "name"),
    [
        ("\u4e2d", "U+4E2D"),
        ("\U0001f600", "grinning face (U+1F600)"),
        ("\u202e", "right-to-left override (U+202E)"),
        ("\x01", "U+0001"),
        ("\ud83d", "U+D83D"),
        ("\ue123", "U+E123"),
    ],
)
def test_what_no_font_has_is_shown_as_a_mark_and_named_at_the_end(sign: str, name: str) -> None:
    text = text_of(card("House", f"before{sign}after"))
    assert "before\ufffdafter" in text
    assert squeezed(name) in squeezed(text)


@pytest.mark.parametrize("text", ["Ωμέγα", "кухня", "a → b", "½ × ¾", "Łódź, naïve café", "ẞ ȷ"])
def test_greek_cyrillic_and_signs_are_shown_as_they_are(text: str) -> None:
    told = text_of(card("House", text))
    assert squeezed(text) in squeezed(told)
    assert "\ufffd" not in told


def test_a_hundred_thousand_letters_are_set() -> None:
    assert len(read(card("House", "x" * 100_000)).pages) >= 1


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.text(st.characters(), max_size=60))
def test_any_text_is_set(text: str) -> None:
    assert card(text or "x", text).startswith(b"%PDF-1.7")


@given(st.text(max_size=400), st.integers(min_value=2, max_value=120))
def test_what_is_cut_short_fits_and_says_so(text: str, most: int) -> None:
    short = in_short(text, most)
    assert len(short) <= most
    assert short == " ".join(text.split()) or short.endswith("\u2026")


@given(st.text(max_size=300))
def test_breaking_long_words_loses_nothing(text: str) -> None:
    shown = Shown(lambda signs: True)
    shown.look_through(text, ())
    plain = shown.text(text)
    assert shown.of(text).replace("\u200b", "") == plain.replace("\u200b", "")


def test_each_missing_sign_is_found_and_no_other() -> None:
    lost = set("\u0521\u2603\u4e00\u4e8c")

    def has(signs: str) -> bool:
        return not lost & set(signs)

    shown = Shown(has)
    shown.look_through(["плюс \u0521", {"a": "\u2602\u2603", "b": "\u4e00\u4e8c\u5000"}], ["<svg>\u2602</svg>"])
    assert set(shown.missing) == lost


def test_a_control_sign_has_a_name_of_some_kind() -> None:
    assert named("\x01") == "a control sign or one without a name (U+0001)"
    assert named("\u2603") == "snowman (U+2603)"


def test_a_family_that_no_file_has_is_an_error_that_says_which() -> None:
    with pytest.raises(Refused, match="'Nowhere Sans' is in none of the studio's font files"):
        card("House", look=Look(family="Nowhere Sans"))


def test_a_studios_own_face_is_used(tmp_path: Path) -> None:
    from enfilade.export.typesetting import font_files

    italic = tmp_path / "own.ttf"
    italic.write_bytes(font_files()[1].read_bytes())
    assert card("House", "text", look=Look(family="Enfilade Text", font_files=(italic,))).startswith(b"%PDF")


def test_a_damaged_picture_is_an_error_of_ours() -> None:
    gallery = Gallery()
    gallery.file(b"no picture", "png")
    assert card("House", gallery=gallery)  # It is not shown anywhere.
    with pytest.raises(Refused, match="damaged"):
        Gallery().picture(Picture("data:image/png;base64,@@@", "Red", ""))
    with pytest.raises(Refused, match="form that cannot be set"):
        Gallery().picture(Picture("https://example.org/a.png", "Red", ""))


def test_what_cannot_be_compiled_is_an_error_of_ours_with_the_files_name(monkeypatch: pytest.MonkeyPatch) -> None:
    data = {"paper": "metric", "single": True, "cards": [{"number": 1}], "head": "", "version": "", "date": ""}
    with pytest.raises(Refused, match=r"^cards\.pdf: it could not be set: "):
        set_pdf(Setting("cards.pdf", "cards", "House", Look()), data)


def test_nothing_is_left_on_the_disk(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    card("House", "text")
    assert list(tmp_path.iterdir()) == []


def test_the_same_text_gives_the_same_bytes_and_the_day_of_issue() -> None:
    assert card("House", "text") == card("House", "text")
    dated = set_pdf(
        Setting("cards.pdf", "cards", "House", Look(), issued="2026-03-16"),
        {**EMPTY, "head": "House"},
    )
    assert read(dated).metadata.creation_date.date().isoformat() == "2026-03-16"


def test_a_drawing_is_made_smaller_to_fit_and_never_larger_than_asked() -> None:
    # CSS: 96 px are 1 in, 25.4 mm; 320 x 180 px are 84.67 x 47.63 mm.
    assert size_mm(picture().svg) == pytest.approx((84.667, 47.625), abs=0.01)
    fitted = Gallery().drawing(picture(), widest_mm=42.333, highest_mm=100)
    assert (fitted["width"], fitted["height"]) == pytest.approx((42.333, 23.81), abs=0.01)
    assert Gallery().drawing(picture(), widest_mm=500, highest_mm=500)["width"] == pytest.approx(84.667, abs=0.01)
    assert Gallery().drawing(picture(), widest_mm=500, highest_mm=500, largest=2)["width"] == pytest.approx(
        169.33, abs=0.01
    )


def test_the_same_drawing_is_carried_once() -> None:
    gallery = Gallery()
    files = {gallery.drawing(Drawing(title, picture().svg), widest_mm=9, highest_mm=9)["file"] for title in "ab"}
    assert len(files) == 1


def test_a_table_leaves_out_columns_that_are_empty_and_fills_short_rows() -> None:
    table = table_data("T", ("A", "B", "C"), [("1", "", "x" * 40), ("2", "")], (0,))
    assert table["head"] == ["A", "C"]
    assert table["rows"] == [["1", "x" * 40], ["2", ""]]
    assert table["numeric"] == [True, False]
    assert table["shares"][0] == 0
    assert table["shares"][1] > 0
