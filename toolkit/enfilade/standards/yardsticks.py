"""Yardsticks: which published rows a house is held against, by name."""

from __future__ import annotations

import difflib
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from importlib import resources
from typing import Any, Final

from enfilade.errors import BadRecord, Fault, NotFound
from enfilade.standards.row import Row
from enfilade.standards.rows import rows

__all__ = ["Option", "Yardstick", "read_yardsticks", "yardstick", "yardstick_names"]

_KEYS: Final = {"title", "extends", "sets", "levels", "off", "values", "options"}
_OPTION_KEYS: Final = {"choices", "default", "words"}


@dataclass(frozen=True, slots=True)
class Option:
    """A reading that a check leaves open: its choices, what is chosen, and what it means."""

    name: str
    choices: tuple[str | bool, ...]
    chosen: str | bool
    words: str


@dataclass(frozen=True)
class Yardstick:
    """The rows that a house is held against.

    Attributes:
        name: Name by which it is asked for, such as `us`.
        title: What it is called when read.
        chosen: Its rows, each rule and part once.
        options: Named readings.
        house_rules: Short hash of the studio's house rules; empty without.
    """

    name: str
    title: str
    chosen: tuple[Row, ...]
    options: tuple[Option, ...] = ()
    house_rules: str = ""
    _index: dict[tuple[str, str], Row] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_index", {(row.rule, row.part): row for row in self.chosen})

    @cached_property
    def names(self) -> tuple[str, ...]:
        """Return `RULE/part` for each row."""
        return tuple(row.name for row in self.chosen)

    def row(self, rule: str, part: str = "") -> Row:
        """Return one row.

        Raises:
            NotFound: The yardstick has no such rule and part; close names are given.
        """
        if found := self._index.get((rule, part)):
            return found
        raise NotFound(
            f"yardstick {self.name} has no row {rule}/{part}" if part else f"yardstick {self.name} has no row {rule}",
            expected=" or ".join(_close(f"{rule}/{part}", rule, self.names)),
        )

    def has(self, rule: str, part: str | None = "") -> bool:
        """Tell whether a row is there; with `part=None`, whether any row of the rule is."""
        return any(row.rule == rule for row in self.chosen) if part is None else (rule, part) in self._index

    def rows(self, rule: str | None = None) -> tuple[Row, ...]:
        """Return the rows of one rule in printed order, or all rows."""
        return tuple(row for row in self.chosen if rule is None or row.rule == rule)

    def option(self, name: str) -> str | bool:
        """Return what is chosen for a named option.

        Raises:
            NotFound: No option of that name.
        """
        for option in self.options:
            if option.name == name:
                return option.chosen
        names = ", ".join(option.name for option in self.options)
        raise NotFound(f"yardstick {self.name} has no option {name!r}", expected=names)

    def with_options(self, chosen: Mapping[str, str | bool]) -> Yardstick:
        """Return a copy with other choices.

        Raises:
            NotFound: No such option, or it has no such choice.
        """
        for name, value in chosen.items():
            self.option(name)
            choices = next(o.choices for o in self.options if o.name == name)
            if not any(value is c or (isinstance(value, str) and value == c) for c in choices):
                raise NotFound(f"option {name} has no choice {value!r}", expected=" or ".join(map(repr, choices)))
        options = tuple(replace(o, chosen=chosen.get(o.name, o.chosen)) for o in self.options)
        return replace(self, options=options)


def yardstick(name: str = "us") -> Yardstick:
    """Return a yardstick by name.

    Raises:
        NotFound: No yardstick of that name.

    >>> yardstick("us").row("K6", "two cooks").printed
    '48 in'
    """
    known = _shipped()
    if name not in known:
        raise NotFound(f"yardstick {name!r} is unknown", expected=", ".join(known))
    return known[name]


def yardstick_names() -> tuple[str, ...]:
    """Return the names of all yardsticks."""
    return tuple(_shipped())


@lru_cache(maxsize=1)
def _shipped() -> dict[str, Yardstick]:
    text = (resources.files(__package__) / "data" / "yardsticks.toml").read_text("utf-8")
    return read_yardsticks(text, rows())


def read_yardsticks(text: str, published: tuple[Row, ...]) -> dict[str, Yardstick]:
    """Read yardsticks from TOML; one that extends another stands after it.

    Raises:
        BadRecord: An unknown key, set, rule, base or choice.
    """
    found: dict[str, Yardstick] = {}
    choices: dict[str, _Choice] = {"": _Choice()}
    for name, table in tomllib.loads(text).items():
        base = table.get("extends", "")
        options, faults = _options(name, table.get("options", {}))
        faults += _faults(name, table, published, choices)
        if faults:
            raise BadRecord("yardsticks.toml", faults)
        choices[name] = choice = choices[base].extended(table)
        inherited = {option.name: option for option in found[base].options} if base else {}
        found[name] = Yardstick(
            name=name,
            title=table["title"],
            chosen=tuple(choice.read(row) for row in published if choice.takes(row)),
            options=tuple({**inherited, **options}.values()),
        )
    return found


@dataclass(frozen=True, slots=True)
class _Choice:
    """Which rows a yardstick takes, gathered over what it extends."""

    sets: frozenset[str] = frozenset()
    levels: frozenset[str] = frozenset()
    off: frozenset[str] = frozenset()
    values: Mapping[str, float] = field(default_factory=dict)

    def extended(self, table: Mapping[str, Any]) -> _Choice:
        return _Choice(
            sets=self.sets | set(table.get("sets", ())),
            levels=self.levels | set(table.get("levels", ())),
            off=self.off | set(table.get("off", ())),
            values={**self.values, **table.get("values", {})},
        )

    def takes(self, row: Row) -> bool:
        return row.origin in self.sets and row.level in self.levels and row.rule not in self.off

    def read(self, row: Row) -> Row:
        return replace(row, value=float(self.values[row.name])) if row.name in self.values else row


def _faults(
    name: str, table: Mapping[str, Any], published: tuple[Row, ...], choices: Mapping[str, _Choice]
) -> list[Fault]:
    known: dict[str, set[str]] = {
        "sets": {row.origin for row in published},
        "levels": {row.level for row in published},
        "off": {row.rule for row in published},
        "values": {row.name for row in published},
    }
    faults = [Fault(f"{name}/{key}", "is unknown", ", ".join(sorted(_KEYS))) for key in set(table) - _KEYS]
    if "title" not in table:
        faults.append(Fault(name, "has no title", "title"))
    if table.get("extends", "") not in choices:
        faults.append(Fault(f"{name}/extends", f"{table['extends']!r} is unknown", ", ".join(filter(None, choices))))
    for key, names in known.items():
        expected = ", ".join(sorted(names)[:12])
        faults += [Fault(f"{name}/{key}", f"{n!r} is unknown", expected) for n in table.get(key, ()) if n not in names]
    return faults


def _options(name: str, tables: Mapping[str, Mapping[str, Any]]) -> tuple[dict[str, Option], list[Fault]]:
    options: dict[str, Option] = {}
    faults: list[Fault] = []
    for key, table in tables.items():
        place = f"{name}/options/{key}"
        if set(table) != _OPTION_KEYS:
            faults.append(Fault(place, f"has {', '.join(sorted(table))}", ", ".join(sorted(_OPTION_KEYS))))
        elif table["default"] not in table["choices"]:
            faults.append(Fault(place, f"default {table['default']!r} is no choice", f"{table['choices']}"))
        else:
            options[key] = Option(key, tuple(table["choices"]), table["default"], table["words"])
    return options, faults


def _close(name: str, rule: str, names: tuple[str, ...]) -> list[str]:
    same = [n for n in names if n.split("/")[0] == rule]
    return (same or difflib.get_close_matches(name, names, n=4, cutoff=0.4) or list(names[:4]))[:8]
