"""Reads the published values: one data file a source, read once into validated rows."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Iterable, Mapping
from functools import lru_cache
from importlib import resources
from typing import Any, Final, get_args

from enfilade.errors import BadRecord, Fault
from enfilade.findings import How, Level
from enfilade.quantities import UNITS
from enfilade.sources import Known, Source
from enfilade.standards.cautions import cautions
from enfilade.standards.row import Row

__all__ = ["Row", "cautions", "read_rows", "rows"]

_SOURCE_KEYS: Final = {"title", "body", "edition"}
_ROW_REQUIRED: Final = {"rule", "title", "level", "section", "label", "how", "value", "unit", "known", "words"}
_ROW_OPTIONAL: Final = {
    "part", "caution", "also", "definition", "key", "key_unit", "document", "body", "edition",
}  # fmt: skip
_NOT_ROWS: Final = {"cautions.toml", "yardsticks.toml"}


@lru_cache(maxsize=1)
def rows() -> tuple[Row, ...]:
    """Return every published row, in the order of the files and within them.

    Raises:
        BadRecord: A data file holds an unknown key, an unknown word, or a row twice.
    """
    folder = resources.files(__package__) / "data"
    files = sorted((f for f in folder.iterdir() if f.name.endswith(".toml")), key=lambda f: f.name)
    texts = {f.name: f.read_text("utf-8") for f in files if f.name not in _NOT_ROWS}
    return read_rows(texts, cautions())


def read_rows(texts: Mapping[str, str], caution_texts: Mapping[str, str]) -> tuple[Row, ...]:
    """Read rows from the text of data files.

    Args:
        texts: File name to TOML text.
        caution_texts: Caution key to its text.
    Raises:
        BadRecord: With every fault of the first faulty file.
    """
    found: dict[tuple[str, str], Row] = {}
    for file, text in texts.items():
        faults: list[Fault] = []
        try:
            data = tomllib.loads(text)
        except tomllib.TOMLDecodeError as error:
            raise BadRecord(file, [Fault("text", str(error), "TOML")]) from error
        source = data.get("source", {})
        if extra := set(data) - {"source", "row"} or set(source) ^ _SOURCE_KEYS:
            raise BadRecord(file, [Fault("source", f"has or lacks {_list(extra)}", _list(_SOURCE_KEYS))])
        for number, table in enumerate(data.get("row", []), 1):
            place = f"row {number} ({table.get('rule', '?')}/{table.get('part', '')})"
            wrong = [Fault(place, what, expected) for what, expected in _faults(table, caution_texts)]
            if not wrong:
                row = _row(table, source, file.removesuffix(".toml"), caution_texts)
                if (row.rule, row.part) in found:
                    wrong = [Fault(place, "is there already", "each rule and part once")]
                found[row.rule, row.part] = row
            faults += wrong
        if faults:
            raise BadRecord(file, faults)
    return tuple(found.values())


def _row(table: dict[str, Any], source: dict[str, str], origin: str, caution_texts: Mapping[str, str]) -> Row:
    value = table["value"]
    cited = Source(
        document=table.get("document", source["title"]),
        body=table.get("body", source["body"]),
        edition=table.get("edition", source["edition"]),
        section=table["section"],
        known=table["known"],
        label=table["label"],
    )
    return Row(
        rule=table["rule"],
        part=table.get("part", ""),
        title=table["title"],
        level=table["level"],
        how=table["how"],
        value=(float(value[0]), float(value[1])) if isinstance(value, list) else float(value),
        unit=table["unit"],
        words=table["words"],
        source=cited,
        key=table.get("key"),
        key_unit=table.get("key_unit", "in"),
        definition=table.get("definition", False),
        caution=caution_texts[table["caution"]] if table.get("caution") else "",
        also=tuple(table.get("also", ())),
        origin=origin,
    )


def _faults(table: dict[str, Any], caution_texts: Mapping[str, str]) -> Iterable[tuple[str, str]]:
    """Yield (what, expected) for each thing wrong with one row."""
    if missing := _ROW_REQUIRED - set(table):
        yield f"lacks {_list(missing)}", _list(_ROW_REQUIRED)
        return
    if extra := set(table) - _ROW_REQUIRED - _ROW_OPTIONAL:
        yield f"has the unknown key {_list(extra)}", _list(_ROW_REQUIRED | _ROW_OPTIONAL)
    words = {
        "level": get_args(Level), "how": get_args(How), "unit": UNITS, "known": get_args(Known),
        "caution": ("", *caution_texts), "key_unit": UNITS,
    }  # fmt: skip
    for key, allowed in words.items():
        if key in table and table[key] not in allowed:
            yield f"{key} is {table[key]!r}", ", ".join(allowed)
    for key in ("rule", "title", "section", "label", "words"):
        if not isinstance(table[key], str) or (not table[key] and key != "section"):
            yield f"{key} is {table[key]!r}", "a text"
    value = table["value"]
    pair = isinstance(value, list)
    if pair != (table["how"] == "between"):
        yield f"value {value!r} does not fit {table['how']!r}", "two numbers with between, else one"
    numbers = value if pair else [value]
    if (pair and len(value) != 2) or not all(_is_number(v) for v in numbers) or sorted(numbers) != numbers:
        yield f"value is {value!r}", "a finite number, or a low and a high one"
    if "key" in table and not _is_number(table["key"]):
        yield f"key is {table['key']!r}", "a number"


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _list(names: Iterable[str]) -> str:
    return ", ".join(sorted(names))
