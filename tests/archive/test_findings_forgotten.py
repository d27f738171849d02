"""Findings as an archive keeps them: read again they say the same, also when a client of a rule's name is forgotten."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache

import pytest

import enfilade as ef
from enfilade.archive.forgetting.beside import findings_without
from enfilade.archive.gathering import findings_bytes
from enfilade.archive.stated import findings_from
from enfilade.checks.run import check
from enfilade.findings import Finding
from enfilade.project.names import Names
from enfilade.project.people import Client
from enfilade.standards.house_rules import with_house_rules
from enfilade.standards.yardsticks import yardstick

RULES = with_house_rules(yardstick("us"), '[rules]\n"K6/two cooks" = { value = 50, why = "as Ms Landing asked" }')


@cache
def found() -> tuple[Finding, ...]:
    return tuple(check(ef.demo(), yardstick=RULES))


def test_findings_read_again_say_the_same() -> None:
    again = findings_from(findings_bytes(found()))
    assert len(again) == len(found())
    for kept, made in zip(again, found(), strict=True):
        assert kept.verdict == made.verdict
        assert kept.margin == pytest.approx(made.margin, abs=1e-5) if made.margin is not None else kept.margin is None
        if made.measured is not None and kept.measured is not None:
            assert kept.measured.value == pytest.approx(made.measured.value, abs=1e-6)  # without the noise of reckoning
        assert replace(kept, measured=None, because="missing fact", required=None) == replace(
            made, measured=None, because="missing fact", required=None, marks=()
        )
        assert (kept.because, kept.required) == (made.because, made.required)


@pytest.mark.parametrize(
    "name",
    [
        "Landing",
        "Island",
        "Corner",
        "Derived",
        "Common",
        "Planning",
        "Code",
        "Access",
        "Air",
        "Safety",
        "Seats",
        "Standing",
    ],
)
def test_a_client_who_is_called_like_a_rule_does_not_take_it_along(name: str) -> None:
    names = Names.to_forget([ef.demo().model_copy(update={"client": Client(names=(f"Zorvka {name}",))})])
    without = findings_without(findings_bytes(found()), names)
    assert without is not None
    for kept, made in zip(findings_from(without), findings_from(findings_bytes(found())), strict=True):
        for field in ("rule", "title", "level", "source", "measured", "required", "because", "caution", "house_rules"):
            assert getattr(kept, field) == getattr(made, field)
        assert [need.rpartition(".")[2] for need in kept.needs if " " not in need] == [
            need.rpartition(".")[2] for need in made.needs if " " not in need
        ]


def test_a_name_in_words_of_the_studio_goes() -> None:
    names = Names.to_forget([ef.demo().model_copy(update={"client": Client(names=("Zorvka Landing",))})])
    plain = json.loads(findings_bytes(found()))
    plain[0]["title"] = "Landing of Ms Zorvka Landing"
    plain[0]["source"]["label"] = "As Zorvka asked"
    plain[0]["caution"] = "Zorvka will see to it."
    without = findings_without(json.dumps(plain).encode(), names)
    assert without is not None
    assert b"Zorvka" not in without
    assert b"Ms Landing" not in without
    assert any("Ms Landing asked" in words for one in found() for words in one.also)
