"""How a studio's documents look: its name, letterhead, colours and fonts."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from enfilade.errors import BadRecord, EnfiladeError, Fault, NotFound, Refused
from enfilade.export.font_files import font_facts
from enfilade.export.logo import logo_of
from enfilade.files import read_bytes
from enfilade.project.issues import home_of
from enfilade.project.project import Project
from enfilade.project.studio_file import LARGEST_BYTES, STUDIO_FILE, inside
from enfilade.trade.contrast import TEXT_LEAST, contrast

__all__ = ["Look", "look_of"]

_STUDIO: Final = ("name", "designer", "letterhead", "logo")
_LOOK: Final = ("ink", "accent", "family", "fonts")
_LONGEST: Final = 200
_MOST_LINES: Final = 8
_MOST_FONTS: Final = 16
_LARGEST_LOGO: Final = 2_000_000
_LARGEST_FONT: Final = 20_000_000


@dataclass(frozen=True)
class Look:
    """A studio's own look; what it does not say is the shipped one.

    Attributes:
        studio: Its name; empty takes the project's.
        designer: Who signs; empty takes the project's.
        letterhead: Lines under the name: what to write to, a telephone number.
        logo: A picture (SVG or PNG) for the cover and the title block. An SVG holds drawn shapes alone: no scripts, no
            style sheets, no pictures, nothing from elsewhere, and has a view box; a PNG holds no text about itself.
        logo_kind: `svg` or `png`.
        ink: Colour of text, `#rrggbb`; on white it has a contrast of at least 4.5 to 1.
        accent: Colour of the little that stands out, `#rrggbb`, likewise.
        family: Name of the type family, as its files give it; empty takes the shipped face.
        font_files: Its files (TTF or OTF), which may be embedded; empty takes the shipped face.
    """

    studio: str = ""
    designer: str = ""
    letterhead: tuple[str, ...] = ()
    logo: bytes | None = None
    logo_kind: str = ""
    ink: str = "#111111"
    accent: str = "#0b5563"
    family: str = ""
    font_files: tuple[Path, ...] = ()


def look_of(project: Project) -> Look:
    """Return the look that the studio's file (`studio.toml`) beside a project asks for.

    `[studio]` holds `name`, `designer`, `letterhead` (a list of lines) and `logo`; `[look]` holds `ink`, `accent`,
    `family` and `fonts` (a list of files). Files are named as seen from the project's folder and lie in it.

    Args:
        project: The house, or its copy for one audience; the public's is told no designer, and no letterhead line
            that names one.
    Raises:
        BadRecord: Every fault of the file, each with its place: an unknown key, a colour that is hard to read on
            white, a logo that is no picture or holds more than drawn shapes, a font that cannot be read or
            must not be embedded, a file that lies elsewhere.
        Refused: The file cannot be read.
    """
    home = home_of(project)
    if home is None:
        return Look()
    path = home / STUDIO_FILE
    try:
        data = tomllib.loads(read_bytes(path, largest=LARGEST_BYTES).decode("utf-8-sig"))
    except NotFound:
        return Look()
    except UnicodeDecodeError as error:
        raise BadRecord(str(path), [Fault(f"byte {error.start}", "is not UTF-8", "a file saved as UTF-8")]) from error
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise BadRecord(str(path), [Fault("text", str(error), "TOML")]) from error
    reader = _Reader(home, data)
    look = reader.look()
    if reader.faults:
        raise BadRecord(str(path), reader.faults)
    return _for_public(look) if project._told_to == "public" else look


def _for_public(look: Look) -> Look:
    names = [word for word in re.findall(r"\w+", look.designer.casefold()) if len(word) > 2]
    lines = tuple(line for line in look.letterhead if not set(names) & set(re.findall(r"\w+", line.casefold())))
    return Look(**{**look.__dict__, "designer": "", "letterhead": lines})


class _Reader:
    """Reads the two tables; what is wrong is gathered, so that all of it is told at once."""

    def __init__(self, home: Path, data: Mapping[str, Any]) -> None:
        self.faults: list[Fault] = []
        self._home = home
        self._studio = self._table(data, "studio", _STUDIO)
        self._look = self._table(data, "look", _LOOK)

    def look(self) -> Look:
        usual = Look()
        logo, kind = self._logo()
        family, fonts = self._fonts()
        return Look(
            studio=self._text(self._studio, "studio", "name"),
            designer=self._text(self._studio, "studio", "designer"),
            letterhead=self._lines(),
            logo=logo,
            logo_kind=kind,
            ink=self._colour("ink", usual.ink),
            accent=self._colour("accent", usual.accent),
            family=family,
            font_files=fonts,
        )

    def _wrong(self, place: str, what: str, expected: str) -> None:
        self.faults.append(Fault(place, what, expected))

    def _table(self, data: Mapping[str, Any], name: str, known: tuple[str, ...]) -> Mapping[str, Any]:
        table = data.get(name, {})
        if not isinstance(table, dict):
            self._wrong(name, "is no table", f"[{name}]")
            return {}
        for key in table:
            if key not in known:
                self._wrong(f"{name}/{key[:_LONGEST]}", "is unknown", ", ".join(known))
        return table

    def _text(self, table: Mapping[str, Any], name: str, key: str) -> str:
        return self._plain(table.get(key, ""), f"{name}/{key}")

    def _plain(self, value: Any, place: str) -> str:
        if not isinstance(value, str):
            self._wrong(place, f"is a {type(value).__name__}", "text in quotes")
        elif len(value) > _LONGEST or not all(sign.isprintable() for sign in value):
            self._wrong(
                place, "is too long, or holds signs that cannot be printed", f"{_LONGEST} signs at most, one line"
            )
        else:
            return value.strip()
        return ""

    def _lines(self) -> tuple[str, ...]:
        lines = self._studio.get("letterhead", [])
        if not isinstance(lines, list) or len(lines) > _MOST_LINES:
            self._wrong("studio/letterhead", "is no short list of lines", f"a list of at most {_MOST_LINES} texts")
            return ()
        return tuple(self._plain(line, f"studio/letterhead/{place}") for place, line in enumerate(lines, 1))

    def _colour(self, key: str, usual: str) -> str:
        place, colour = f"look/{key}", self._look.get(key, usual)
        try:
            stands_out = contrast(colour)
        except EnfiladeError as error:
            self._wrong(place, error.what, error.expected)
            return usual
        if stands_out < TEXT_LEAST:
            # Cut, not rounded: 4.496 must not be told as the 4.5 that it is not.
            what = f"{colour} has a contrast of {int(stands_out * 100) / 100:.2f} to 1 on white"
            self._wrong(place, what, f"at least {TEXT_LEAST} to 1 (WCAG 2.2, 1.4.3), a darker colour")
            return usual
        return str(colour).lower()

    def _logo(self) -> tuple[bytes | None, str]:
        name = self._studio.get("logo")
        if name is None:
            return None, ""
        return self._file(name, "studio/logo", _LARGEST_LOGO, lambda path, data: logo_of(data)) or (None, "")

    def _fonts(self) -> tuple[str, tuple[Path, ...]]:
        names = self._look.get("fonts", [])
        family = self._text(self._look, "look", "family")
        if not isinstance(names, list) or len(names) > _MOST_FONTS:
            self._wrong("look/fonts", "is no short list of files", f"a list of at most {_MOST_FONTS} names")
            return "", ()
        if family and not names and "family" in self._look:
            self._wrong("look/family", f"{family!r} has no files", "its files in fonts, TTF or OTF")
        paths = []
        for place, name in enumerate(names, 1):
            where = f"look/fonts/{place}"
            found = self._file(name, where, _LARGEST_FONT, lambda path, data: (path, font_facts(data)))
            if found is None:
                continue
            path, facts = found
            family = family or facts.families[0]
            if family.casefold() not in {one.casefold() for one in facts.families}:
                self._wrong(where, f"{name!r} is of the family {facts.families[0]!r}", f"a file of {family!r}")
                continue
            paths.append(path)
        return family if names else "", tuple(paths)

    def _file(self, name: Any, place: str, largest: int, read: Callable[[Path, bytes], Any]) -> Any:
        """Return what `read` makes of a named file; None, and a fault, when it cannot be taken."""
        try:
            if not isinstance(name, str) or (named := inside(name)) is None:
                raise Refused(
                    f"{str(name)[:_LONGEST]!r} is no file in the project's folder", expected="a name such as logo.svg"
                )
            path = self._home / named
            if not path.parent.resolve().is_relative_to(self._home.resolve()):
                raise Refused(f"{name!r} leads out of the project's folder", expected="a file that lies in it")
            return read(path, read_bytes(path, largest=largest))
        except EnfiladeError as error:
            self._wrong(place, error.what.replace(f"{self._home}/", ""), error.expected or "a file that can be read")
        except (OSError, RuntimeError) as error:
            self._wrong(place, f"{str(name)[:_LONGEST]!r} cannot be read ({error})", "a file that can be read")
        return None
