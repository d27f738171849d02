"""A page for a browser, set from our own templates: fonts, styles and script inside it, nothing loaded."""

from __future__ import annotations

import base64
import hashlib
import re
import struct
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from enfilade.drawings.fonts import font_faces
from enfilade.export.clock import clock
from enfilade.export.issue import NOTHING_UNDECIDED, UNDECIDED, unchanged
from enfilade.export.look import Look
from enfilade.resources import shipped

if TYPE_CHECKING:
    import jinja2

__all__ = ["FOLDERS", "environment", "look_data", "page", "plain"]

FOLDERS: Final = ("walkthrough", "told")
"""Folders of templates, those of the walkthrough first."""

# Control characters that no HTML or XML document may hold, halves of characters that no file can, and the marks that
# would turn the direction of what follows; a record's text shows a mark in their place, as on drawings.
_FORBIDDEN: Final = dict.fromkeys(
    (
        *range(9), 11, 12, *range(14, 32), *range(127, 160), *range(0xD800, 0xE000), *range(0x202A, 0x202F),
        *range(0x2066, 0x206A), 65534, 65535,
    ),
    "\ufffd",
)  # fmt: skip
_COLOUR: Final = re.compile(r"#[0-9a-fA-F]{6}")
_PICTURES: Final = {"svg": "image/svg+xml", "png": "image/png"}
_FACES: Final = {".ttf": "truetype", ".otf": "opentype", ".woff2": "woff2"}
_ITALIC: Final = 1
"""Bit 0 of `fsSelection` (OpenType 1.9, table OS/2)."""


@cache
def environment(*paths: str) -> jinja2.Environment:
    """Return the environment of all pages: everything is escaped, and a misspelt name fails.

    Args:
        paths: Folders of templates; none takes the shipped ones.
    """
    import jinja2
    from markupsafe import Markup

    made = jinja2.Environment(
        loader=jinja2.FileSystemLoader(paths or [str(shipped("templates") / folder) for folder in FOLDERS]),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["drawing"] = Markup
    made.filters["clock"] = clock
    made.globals["fonts"] = Markup(font_faces())
    made.globals["script"] = lambda name: Markup(_script(name))
    made.globals["policy"] = _policy
    made.globals |= {"unchanged": unchanged, "still": UNDECIDED, "settled": NOTHING_UNDECIDED}
    return made


def page(template: str, look: Look, **values: Any) -> str:
    """Return a page.

    Args:
        template: File name of its template.
        look: The studio's own look.
        values: What the template sets; text in it is raw.
    """
    return plain(environment().get_template(template).render(look=look_data(look), **values))


def plain(markup: str) -> str:
    """Return markup without the characters that no HTML document may hold."""
    return markup.translate(_FORBIDDEN)


def look_data(look: Look) -> dict[str, Any]:
    """Return a look as plain data: the head of a document, and its colours and faces as styles."""
    logo = ""
    if look.logo and look.logo_kind in _PICTURES:
        logo = f"data:{_PICTURES[look.logo_kind]};base64,{base64.b64encode(look.logo).decode('ascii')}"
    faces = [_face(file) for file in look.font_files]
    own = "'Studio Text'," if faces else ""
    colours = {"ink": look.ink, "accent": look.accent}
    styles = "".join(f"--{name}:{value};" for name, value in colours.items() if _COLOUR.fullmatch(value))
    return {
        "studio": look.studio,
        "designer": look.designer,
        "letterhead": list(look.letterhead),
        "logo": logo,
        "styles": "".join(faces) + f":root{{{styles}--own:{own or ' '}}}",
        "family": own,
    }


def _face(file: Path) -> str:
    data = file.read_bytes()
    weight, italic = _weight(data)
    return (
        f"@font-face{{font-family:'Studio Text';font-weight:{weight};font-style:{'italic' if italic else 'normal'};"
        f"src:url(data:font/{file.suffix.lower().lstrip('.')};base64,{base64.b64encode(data).decode('ascii')}) "
        f"format('{_FACES.get(file.suffix.lower(), 'truetype')}')}}"
    )


def _weight(data: bytes) -> tuple[int, bool]:
    """Return how bold a font is, and whether it slants, out of its table OS/2; a regular one when it has none."""
    try:
        (count,) = struct.unpack_from(">H", data, 4)
        for at in range(12, 12 + 16 * count, 16):
            tag, _, offset, _ = struct.unpack_from(">4sIII", data, at)
            if tag == b"OS/2":
                (weight,) = struct.unpack_from(">H", data, offset + 4)
                (selection,) = struct.unpack_from(">H", data, offset + 62)
                return min(max(weight, 1), 1000), bool(selection & _ITALIC)
    except struct.error:
        pass
    return 400, False


@cache
def _script(name: str) -> str:
    return (shipped("templates") / "told" / name).read_text("utf-8")


@cache
def _policy(script: str) -> str:
    """Return the content security policy of a page: its own styles, its own script by its hash, and nothing else."""
    digest = base64.b64encode(hashlib.sha256(_script(script).encode("utf-8")).digest()).decode("ascii")
    return (
        f"default-src 'none'; script-src 'sha256-{digest}'; style-src 'unsafe-inline'; font-src data:; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )
