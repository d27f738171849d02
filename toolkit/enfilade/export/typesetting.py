"""Documents set as PDF by typst: our templates, the record's text as data, nothing kept on disk."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final

from enfilade.errors import EnfiladeError, Refused
from enfilade.export.gallery import Gallery
from enfilade.export.look import Look
from enfilade.export.signs import SHOWN_INSTEAD, Shown, named
from enfilade.files import read_bytes
from enfilade.resources import shipped

__all__ = ["FAMILY", "Setting", "font_files", "set_pdf"]

FAMILY: Final = "Enfilade Text"
"""The sheet that a studio has in its printer, by the units that it works in; typst's names."""

_FALLBACK: Final = ("DejaVu Sans Mono",)
"""Carried by typst itself: Greek, Cyrillic, arrows and signs that the shipped face does not have."""
_SIGNS_FAILED: Final = ("could not be displayed", "missing codepoints")
"""What typst says of signs that it cannot set, or that nobody could read back."""
_STYLES: Final = ("regular", "italic", "semibold")
_TEMPLATES: Final = ("common", "book", "parts", "sheets", "script", "cards", "storyboard")


@dataclass(frozen=True)
class Setting:
    """What a document is, apart from what stands in it.

    Attributes:
        file: Name of the file, for errors.
        template: Name of the template in `templates/print`, without its ending.
        title: As a reader's window shows it.
        look: The studio's look.
        language: BCP 47 primary subtag: `en`.
        authors: The studio, and who signs; empty ones are left out.
        keywords: What an archive finds it by.
        issued: `yyyy-mm-dd`; empty when the record has no date. It is the document's date, so that one record gives
            the same bytes whenever it is set.
    """

    file: str
    template: str
    title: str
    look: Look
    language: str = "en"
    authors: tuple[str, ...] = ()
    keywords: tuple[str, ...] = ()
    issued: str = ""
    gallery: Gallery = field(default_factory=Gallery)


def font_files() -> tuple[Path, ...]:
    """Return the files of the shipped face: regular, italic, semibold."""
    return tuple(shipped("assets", "fonts", f"enfilade-text-{style}.ttf") for style in _STYLES)


def set_pdf(setting: Setting, data: Mapping[str, Any]) -> bytes:
    """Return a document as PDF: tagged, its fonts inside, with bookmarks.

    Args:
        setting: What it is.
        data: What stands in it: strings, numbers, lists and dictionaries. Strings are shown as they are, never read
            as markup. Signs that no font has are shown as a mark, and a note at the end names them.
    Raises:
        Refused: A font, logo or picture cannot be used.
    """
    whole = {**data, "document": _about(setting)}
    with TemporaryDirectory(prefix="enfilade-") as folder:
        fonts = _fonts(setting.look, Path(folder))
        shown = Shown(lambda signs: _displayable(signs, fonts))
        shown.look_through(whole, setting.gallery.drawings)
        try:
            return _compiled(setting, whole, shown, fonts, Path(folder))
        except Refused as error:
            # A sign that stands alone can fail inside a cluster: then all that is unusual is shown as a mark.
            if shown.strict or not any(words in error.what for words in _SIGNS_FAILED):
                raise
            shown.be_strict()
            return _compiled(setting, whole, shown, fonts, Path(folder))


def _compiled(setting: Setting, whole: Mapping[str, Any], shown: Shown, fonts: Any, folder: Path) -> bytes:
    import typst

    missing = [named(sign) for sign in shown.missing]
    data = {**shown.of(whole), "look": _look(setting.look), "signs": missing, "instead": SHOWN_INSTEAD}
    files = {f"{name}.typ": shipped("templates", "print", f"{name}.typ").read_bytes() for name in _TEMPLATES}
    files["data.json"] = json.dumps(data, ensure_ascii=False).encode("utf-8", "replace")
    for name, content in {**files, **setting.gallery.files(shown)}.items():
        (folder / name).write_bytes(content)
    try:
        return typst.compile(
            folder / f"{setting.template}.typ",
            root=folder,
            font_paths=fonts,
            pdf_standards=["ua-1"],
            timestamp=_moment(setting.issued),
        )
    except typst.TypstError as error:
        raise Refused(
            f"{setting.file}: it could not be set: {error.message}",
            do="; ".join(error.hints) or "take out the picture, font or logo that was added last",
        ) from error


def _about(setting: Setting) -> dict[str, Any]:
    return {
        "title": setting.title or "A house",
        "authors": [name for name in setting.authors if name],
        "keywords": [word for word in setting.keywords if word],
        "language": setting.language,
    }


def _look(look: Look) -> dict[str, Any]:
    return {
        "fonts": [name for name in (look.family, FAMILY, *_FALLBACK) if name],
        "ink": look.ink,
        "accent": look.accent,
    }


def _moment(issued: str) -> datetime:
    day = date.fromisoformat(issued) if issued else date(2000, 1, 1)
    return datetime(day.year, day.month, day.day, 12, tzinfo=UTC)


def _fonts(look: Look, folder: Path) -> Any:
    """Return the fonts that a document may use; a studio's own are copied, as typst takes all that a folder holds."""
    own = folder / "fonts"
    own.mkdir()
    for number, path in enumerate(look.font_files):
        (own / f"{number}{path.suffix}").write_bytes(read_bytes(path))
    found = _fonts_in(str(own), _shipped_folder()) if look.font_files else _shipped_fonts()
    if look.family and look.family.casefold() not in {name.casefold() for name in found.families()}:
        raise Refused(
            f"type family {look.family!r} is in none of the studio's font files",
            expected=", ".join(name for name in found.families() if name != FAMILY),
            do="name the family as the file does, or take it out of the studio's look",
        )
    return found


@cache
def _shipped_fonts() -> Any:
    return _fonts_in(_shipped_folder())


def _shipped_folder() -> str:
    return str(font_files()[0].parent)


def _fonts_in(*folders: str) -> Any:
    import typst

    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=True, font_paths=list(folders))


def _displayable(signs: str, fonts: Any) -> bool:
    """Tell whether each of some signs is in some font; there is no other way to ask than to set them."""
    import typst

    source = f'#set document(title: "signs")\n#set text(font: "{FAMILY}")\n#sys.inputs.signs.clusters().join(" ")'
    try:
        typst.compile(source.encode(), font_paths=fonts, sys_inputs={"signs": signs}, pdf_standards=["ua-1"])
    except (typst.TypstError, EnfiladeError):
        return False
    return True
