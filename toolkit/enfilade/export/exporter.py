"""The nbconvert exporter: a walkthrough's notebook through our own template into one HTML file."""

from __future__ import annotations

import base64
from pathlib import Path
from typing import Any, Final

import jinja2
from markupsafe import Markup
from nbconvert.exporters.templateexporter import TemplateExporter
from traitlets import default

from enfilade.resources import shipped

__all__ = ["WalkthroughExporter"]

_FONTS: Final = (
    # file, weight, style, characters: the same ranges as the files were cut to
    ("source-sans-3-latin-400-normal.woff2", 400, "normal", False),
    ("source-sans-3-latin-600-normal.woff2", 600, "normal", False),
    ("source-sans-3-latin-400-italic.woff2", 400, "italic", False),
    ("source-sans-3-latin-ext-400-normal.woff2", 400, "normal", True),
    ("source-sans-3-latin-ext-600-normal.woff2", 600, "normal", True),
    ("source-sans-3-latin-ext-400-italic.woff2", 400, "italic", True),
)
_BASIC: Final = (
    "U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+2000-206F,U+20AC,U+2122,"
    "U+2191,U+2193,U+2212,U+2215,U+FEFF,U+FFFD"
)
_EXTENDED: Final = (
    "U+0100-02BA,U+02BD-02C5,U+02C7-02CC,U+02CE-02D7,U+02DD-02FF,U+0304,U+0308,U+0329,U+1D00-1DBF,"
    "U+1E00-1E9F,U+1EF2-1EFF,U+20A0-20AB,U+20AD-20C0,U+2113,U+2C60-2C7F,U+A720-A7FF"
)


class WalkthroughExporter(TemplateExporter):
    """Turn a notebook that `walkthrough_notebook` made into one self-contained page.

    Each cell carries one typed part of the page in its metadata; the template sets it.
    Everything is escaped unless it is a drawing that the drawings layer made.
    """

    export_from_notebook = "Walkthrough"

    @default("file_extension")
    def _file_extension_default(self) -> str:
        return ".html"

    @default("template_name")
    def _template_name_default(self) -> str:
        return "walkthrough"

    @default("template_extension")
    def _template_extension_default(self) -> str:
        return ".html.j2"

    @default("extra_template_basedirs")
    def _extra_template_basedirs_default(self) -> list[str]:
        return [str(shipped("templates"))]

    @default("template_paths")
    def _template_paths(self, prune: bool = True, root_dirs: list[str] | None = None) -> list[str]:
        # Only our own folder: the stock templates load scripts and styles from elsewhere.
        return [str(Path(base) / self.template_name) for base in self.extra_template_basedirs]

    def _create_environment(self) -> jinja2.Environment:
        environment = jinja2.Environment(
            loader=jinja2.FileSystemLoader(self.template_paths),
            autoescape=True,
            undefined=jinja2.StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
        )
        environment.filters["drawing"] = Markup
        environment.globals["fonts"] = _font_faces()
        return environment

    def _init_resources(self, resources: dict[str, Any] | None) -> Any:
        ready = super()._init_resources(resources)
        ready["metadata"].setdefault("name", "walkthrough")
        return ready


def _font_faces() -> Markup:
    faces = []
    for file, weight, style, extended in _FONTS:
        data = base64.b64encode(shipped("assets", "fonts", file).read_bytes()).decode("ascii")
        faces.append(
            f"@font-face{{font-family:'Enfilade Text';font-weight:{weight};font-style:{style};"
            f"src:url(data:font/woff2;base64,{data}) format('woff2');"
            f"unicode-range:{_EXTENDED if extended else _BASIC}}}"
        )
    return Markup("\n".join(faces))
