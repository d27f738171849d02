"""The nbconvert exporter: a walkthrough's notebook through our own template into one HTML file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import jinja2
from nbconvert.exporters.templateexporter import TemplateExporter
from traitlets import default

from enfilade.export.setting import FOLDERS, environment, plain
from enfilade.resources import shipped

__all__ = ["WalkthroughExporter"]


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
        # Only our own folders: the stock templates load scripts and styles from elsewhere.
        return [str(Path(base) / folder) for base in self.extra_template_basedirs for folder in FOLDERS]

    def _create_environment(self) -> jinja2.Environment:
        return environment(*self.template_paths)

    def from_notebook_node(self, nb: Any, resources: Any = None, **kwargs: Any) -> Any:
        """Return the page and its resources."""
        html, ready = super().from_notebook_node(nb, resources, **kwargs)
        return plain(str(html)), ready

    def _init_resources(self, resources: dict[str, Any] | None) -> Any:
        ready = super()._init_resources(resources)
        ready["metadata"].setdefault("name", "walkthrough")
        return ready
