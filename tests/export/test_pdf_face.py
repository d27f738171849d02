"""The shipped face as TrueType: whole, under its own name, as wide as drawings take it; held against fontTools."""

from __future__ import annotations

import pytest

from enfilade.drawings.style import FONT
from enfilade.drawings.writing import text_width
from enfilade.export.signs import _PLAIN
from enfilade.export.typesetting import FAMILY, font_files
from enfilade.resources import shipped

fonttools = pytest.importorskip("fontTools.ttLib", reason="fonttools reads font files")
WEB = {"regular": "400-normal", "italic": "400-italic", "semibold": "600-normal"}


@pytest.mark.parametrize("path", font_files(), ids=lambda path: path.stem)
def test_it_has_every_letter_of_the_files_that_pages_carry(path) -> None:
    pytest.importorskip("brotli", reason="brotli opens the web fonts")
    pages: set[int] = set()
    style = path.stem.removeprefix("enfilade-text-")
    for part in ("latin", "latin-ext"):
        pages |= set(
            fonttools.TTFont(shipped("assets", "fonts", f"source-sans-3-{part}-{WEB[style]}.woff2")).getBestCmap()
        )
    assert set(fonttools.TTFont(path).getBestCmap()) == pages


@pytest.mark.parametrize("path", font_files(), ids=lambda path: path.stem)
def test_it_does_not_bear_the_reserved_name_and_keeps_its_licence(path) -> None:
    # SIL Open Font License 1.1, conditions 2 and 3: the notice stays, the reserved name goes.
    names = {name.nameID: str(name) for name in fonttools.TTFont(path)["name"].names}
    for key in (1, 3, 4, 6, 16):
        assert "source" not in names[key].casefold(), names[key]
    assert names[16] == FAMILY
    assert "Reserved Font Name" in names[0]
    assert "SIL Open Font License" in names[13]
    assert "Reserved Font Name 'Source'" in shipped("assets", "fonts", "OFL.txt").read_text("utf-8")


@pytest.mark.parametrize("path", font_files(), ids=lambda path: path.stem)
def test_plain_text_needs_no_other_face(path) -> None:
    has = fonttools.TTFont(path).getBestCmap()
    assert [sign for sign in _PLAIN - {"\n"} if ord(sign) not in has] == []


def test_drawings_ask_for_the_face_by_the_name_that_its_files_bear() -> None:
    assert FONT.startswith(f"'{FAMILY}'")


@pytest.mark.parametrize(("style", "bold"), [("regular", False), ("semibold", True)])
@pytest.mark.parametrize(
    "text", ["12' 11 1/4\"", "dining room to landing stage", "WALL CABINET", "Receptacles 1234567890 mm"]
)
def test_words_are_no_wider_than_drawings_take_them_to_be(style: str, bold: bool, text: str) -> None:
    font = fonttools.TTFont(shipped("assets", "fonts", f"enfilade-text-{style}.ttf"))
    letters, advances = font.getBestCmap(), font["hmtx"]
    wide = sum(advances[letters[ord(sign)]][0] for sign in text) / font["head"].unitsPerEm * 10
    assert wide <= text_width(text, 10.0, bold)
