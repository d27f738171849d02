"""Make `assets/fonts/enfilade-text-*.ttf` out of the WOFF2 files beside them: `python tests/fonts/make_text_face.py`.

Typesetting and the turning of drawings into pictures take TrueType, not WOFF2, and one file a style. The two subsets of
each style (basic and extended Latin) are merged, their glyphs and metrics as they are. The licence (OFL.txt) reserves
the name of the face: a modified file may not carry it, so the family is named `Enfilade Text` inside, as pages call
it; copyright and licence stay where they are. Needs fonttools and brotli.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from fontTools.merge import Merger
from fontTools.ttLib import TTFont

FONTS = Path(__file__).parents[2] / "assets" / "fonts"
FAMILY = "Enfilade Text"
STYLES = (("regular", 400, "normal"), ("italic", 400, "italic"), ("semibold", 600, "normal"))
COPYRIGHT, FAMILY_ID, STYLE_ID, UNIQUE_ID, FULL_ID, VERSION_ID, POSTSCRIPT_ID, LICENCE_ID, LICENCE_URL_ID = (
    0, 1, 2, 3, 4, 5, 6, 13, 14,
)  # fmt: skip
TYPOGRAPHIC_FAMILY_ID, TYPOGRAPHIC_STYLE_ID = 16, 17
LICENCE = "This Font Software is licensed under the SIL Open Font License, Version 1.1."


def made(style: str, weight: int, slope: str) -> TTFont:
    """Return the merged face of one style, named anew."""
    with tempfile.TemporaryDirectory() as folder:
        parts = []
        for part in ("latin", "latin-ext"):
            font = TTFont(FONTS / f"source-sans-3-{part}-{weight}-{slope}.woff2")
            created, modified = font["head"].created, font["head"].modified
            font.flavor = None
            for table in ("STAT", "BASE"):  # Axes of the design space and baselines: of no use in one static file.
                if table in font:
                    del font[table]
            path = Path(folder) / f"{part}.ttf"
            font.save(path)
            parts.append(str(path))
        copyright_, url = (font["name"].getDebugName(name) for name in (COPYRIGHT, LICENCE_URL_ID))
        face = Merger().merge(parts)
    _named(face, style, weight, slope, copyright_, url)
    # The files say when their outlines were drawn, so that they come out the same each time.
    face["head"].created, face["head"].modified, face.recalcTimestamp = created, modified, False
    return face


def _named(face: TTFont, style: str, weight: int, slope: str, copyright_: str, url: str) -> None:
    title = style.capitalize()
    basic = {"regular": "Regular", "italic": "Italic", "semibold": "Regular"}[style]
    names = {
        COPYRIGHT: copyright_,
        FAMILY_ID: FAMILY if style != "semibold" else f"{FAMILY} {title}",
        STYLE_ID: basic,
        UNIQUE_ID: f"3.052;{FAMILY.replace(' ', '')}-{title}",
        FULL_ID: f"{FAMILY} {title}",
        VERSION_ID: "Version 3.052, merged from its Latin subsets and renamed",
        POSTSCRIPT_ID: f"{FAMILY.replace(' ', '')}-{title}",
        LICENCE_ID: LICENCE,
        LICENCE_URL_ID: url,
        TYPOGRAPHIC_FAMILY_ID: FAMILY,
        TYPOGRAPHIC_STYLE_ID: title,
    }
    table = face["name"]
    table.names = []
    for key, value in names.items():
        table.setName(value, key, 3, 1, 0x409)
    face["OS/2"].usWeightClass = weight
    italic = slope == "italic"
    face["OS/2"].fsSelection = (face["OS/2"].fsSelection & ~0x61) | (0x01 if italic else 0x40 if weight == 400 else 0)
    face["head"].macStyle = 0x02 if italic else 0
    face["OS/2"].achVendID = "NONE"


def main() -> None:
    """Write all styles."""
    for style, weight, slope in STYLES:
        path = FONTS / f"enfilade-text-{style}.ttf"
        made(style, weight, slope).save(path)
        print(path.name, path.stat().st_size)


if __name__ == "__main__":
    main()
