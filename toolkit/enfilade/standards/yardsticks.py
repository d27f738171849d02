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
        raise NotFound(f"yardstick {self.name} has no option {name!r}", expected=", ".join(o.name for o in self.options))

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
    tables = tomllib.loads(text)
    faults: list[Fault] = []
    found: dict[str, Yardstick] = {}
    chosen_by: dict[str, tuple[set[str], set[str], set[str], dict[str, float]]] = {}
    names, origins = {row.name for row in published}, {row.origin for row in published}
    rules = {row.rule for row in published}
    for name, table in tables.items():
        base = table.get("extends", "")
        wrong = [Fault(f"{name}/{key}", "is unknown", ", ".join(sorted(_KEYS))) for key in set(table) - _KEYS]
        wrong += [Fault(f"{name}/sets", f"{s} is unknown", ", ".join(origins)) for s in table.get("sets", []) if s not in origins]
        wrong += [Fault(f"{name}/off", f"{r} is unknown", "a rule") for r in table.get("off", []) if r not in rules]
        wrong += [Fault(f"{name}/values", f"{r} is unknown", "a row") for r in table.get("values", {}) if r not in names]
        if base and base not in found:
            wrong.append(Fault(f"{name}/extends", f"{base} is unknown", ", ".join(found)))
        options, option_faults = _options(name, table.get("options", {}))
        faults += wrong + option_faults
        if wrong or option_faults:
            continue
        sets, levels, off, values = chosen_by.get(base, (set(), set(), set(), {}))
        sets, levels, off = sets | set(table.get("sets", [])), levels | set(table.get("levels", [])), off | set(table.get("off", []))
        values = {**values, **table.get("values", {})}
        chosen_by[name] = (sets, levels, off, values)
        inherited = {o.name: o for o in (found[base].options if base else ())}
        found[name] = Yardstick(
            name=name,
            title=table["title"],
            chosen=tuple(
                replace(row, value=values[row.name]) if row.name in values else row
                for row in published
                if row.origin in sets and row.level in levels and row.rule not in off
            ),
            options=tuple({**inherited, **options}.values()),
        )
    if faults:
        raise BadRecord("yardsticks.toml", faults)
    return found


def _options(name: str, tables: Mapping[str, Mapping[str, Any]]) -> tuple[dict[str, Option], list[Fault]]:
    options, faults = {}, []
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
