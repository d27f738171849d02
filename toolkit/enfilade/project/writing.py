"""A project as text: keys in a stable order, a record a line, so that it diffs well."""

from __future__ import annotations

import json
from typing import Any

from enfilade.project.project import Project

__all__ = ["project_text"]


def project_text(project: Project) -> str:
    """Return the text of `project.json`. Fields at their defaults are left out."""
    plain = {"format": project.format, **project.model_dump(mode="json", exclude_defaults=True, warnings=False)}
    lines = [f"  {_line(key)}: {_value(value)}" for key, value in plain.items()]
    return "{\n" + ",\n".join(lines) + "\n}\n"


def _value(value: Any) -> str:
    if isinstance(value, list) and value:
        return "[\n" + ",\n".join(f"    {_line(record)}" for record in value) + "\n  ]"
    if isinstance(value, dict) and any(_records(inner) for inner in value.values()):
        return "{\n" + ",\n".join(f"    {_line(key)}: {_inner(inner)}" for key, inner in value.items()) + "\n  }"
    return _line(value)


def _records(value: Any) -> bool:
    return isinstance(value, list) and any(isinstance(item, dict) for item in value)


def _inner(value: Any) -> str:
    if _records(value):
        return "[\n" + ",\n".join(f"      {_line(record)}" for record in value) + "\n    ]"
    return _line(value)


def _line(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(", ", ": "))
