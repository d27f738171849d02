"""The JSON Schema of a project file, made from the records' own descriptions."""

from __future__ import annotations

from typing import Any

from enfilade.project.project import FORMAT, Project

__all__ = ["project_schema"]


def project_schema() -> dict[str, Any]:
    """Return the schema (draft 2020-12). Lengths are numbers of millimetres or typed forms."""
    schema = Project.model_json_schema(mode="validation")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"enfilade project, format {FORMAT}",
        **{key: value for key, value in schema.items() if key != "title"},
    }
