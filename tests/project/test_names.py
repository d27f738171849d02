"""How sentences read from which names and addresses were left out. People, firms and places are invented.

There is no standard for such wording: what is expected is plain English, written down by hand.
"""

from __future__ import annotations

from typing import Any

import pytest

from building import house, room
from enfilade.project.audience import for_audience
from enfilade.project.fields import Audience
from enfilade.project.names import Names
from enfilade.project.project import Project

PEOPLE: dict[str, Any] = {
    "client": {
        "names": ["Odalys Merrowby", "Bram Merrowby"],
        "address": "The Long Shed, Slackwater Lane, Nether Wharf, ME 04530",
        "contact": "odalys@shed.example, +1 207 555 0142, evenings",
    },
    "household": {
        "people": [{"id": "h", "name": "Hesper"}, {"id": "a", "name": "Al"}, {"id": "m", "name": "May Stone"}]
    },
    "products": [
        {"id": "a", "name": "x", "maker": "maker A"},
        {"id": "b", "name": "y", "maker": "Hob & Sons"},
        {"id": "c", "name": "z", "maker": "Brindle Works"},
        {"id": "d", "name": "w", "maker": "various"},
    ],
    "show": {
        "studio": {"name": "Overmantle Interiors", "designer": "W. Overmantle"},
        "trades": [
            {"id": "s", "trade": "stone layer", "name": "P. Scantling"},
            {"id": "t", "trade": "joiner", "name": "Thole and Daughter"},
            {"id": "g", "trade": "plasterer", "name": "Grommet Brothers", "may_be_credited": True},
        ],
    },
}
DOERS = (
    "Jane Orrery", "the electrician and W. Overmantle, on site", "Bram Merrowby, after the sweep's report",
    "the household", "The Plumber", "Grommet, on site", "Tilda Quist, with the ventilation engineer", "DIY", "the HVAC",
)  # fmt: skip


def named(**more: Any) -> Project:
    doers = more.pop("doers", DOERS)
    decisions = [{"id": f"d{n}", "number": n, "title": "t", "by": by} for n, by in enumerate(doers, 1)]
    return house(spaces=[room(144, 144)], decisions=decisions, **(PEOPLE | more))


def told(text: str, audience: Audience = "public", **more: Any) -> str:
    return Names(named(**more), audience).out_of_text(text)


SENTENCES = [
    # Trades, makers, and whoever decides
    ("Mr Scantling laid the slate.", "The stone layer laid the slate."),
    ("Ask Mr. P. Scantling of P Scantling\u2019s slate.", "Ask the stone layer of the stone layer\u2019s slate."),
    ("P. Scantling laid it. Then Scantling left.", "The stone layer laid it. Then the stone layer left."),
    ("Option P. The slate.", "Option P. The slate."),
    ("Jane asked for it, as Ms Orrery had.", "Someone asked for it, as someone had."),
    ("the Orrerys\u2019 dog", "some people\u2019s dog"),
    ("Thole & Daughter built it; Thole\u2019s island", "The joiner built it; the joiner\u2019s island"),
    ("The joiner Thole built it with his daughter.", "The joiner built it with his daughter."),
    ("The joiner, Thole and Daughter, built it.", "The joiner built it."),
    ("maker A and the maker, option A", "the maker and the maker, option A"),
    ("A Hob & Sons range on a hob, made by Hob and Sons.", "The maker\u2019s range on a hob, made by the maker."),
    ("Various makers, the Brindle sofa", "Various makers, the maker\u2019s sofa"),
    ("Tilda Quist said so; the ventilation engineer agreed.", "Someone said so; the ventilation engineer agreed."),
    ("The plumber, the household, the HVAC, a DIY job.", "The plumber, the household, the HVAC, a DIY job."),
    ("Grommet Brothers plastered; Grommet came back.", "Grommet Brothers plastered; Grommet came back."),
    # Clients
    ("Odalys and Bram Merrowby chose it.", "The clients chose it."),
    ("Mr and Mrs Merrowby chose it; the Merrowbys chose it.", "The clients chose it; the clients chose it."),
    ("Odalys, Bram and Hesper sit there.", "The clients sit there."),
    ("When Odalys came, Bram sat.", "When the client came, the client sat."),
    ("The Merrowbys' bench, Merrowby's pan, Odalys' tap", "The clients' bench, the client's pan, the client's tap"),
    ("She asked \u2018Odalys\u2019 twice.", "She asked \u2018the client\u2019 twice."),
    ("The Merrowby kitchen and a Merrowby bench", "The client\u2019s kitchen and the client\u2019s bench"),
    ("the Merrowby family, our Merrowby kitchen", "the client\u2019s family, our client\u2019s kitchen"),
    ("a Merrowby-style tap, Merrowby-Quill, Odalys-Bram", "a client-style tap, the client, the client"),
    ("Dear Odalys, our client Bram wants it.", "Dear client, our client wants it."),
    ("Our client, Odalys, wants it.", "Our client wants it."),
    ("Anna Merrowby came. When Merrowby came, it was late.", "The client came. When the client came, it was late."),
    ("Odalys Merrowby Jr. came.", "The client came."),
    ("\u201cHesper\u2019s shelf\u201d", "\u201cThe client\u2019s shelf\u201d"),
    ("See fig. Odalys drew it.", "See fig. the client drew it."),
    ("Ask them. Odalys knows.\nBram does not.", "Ask them. The client knows.\nThe client does not."),
    ("Mer\u00adrowby and ODALYS\u200b", "The clients"),
    ("the long Brindle sofa, the kitchen Merrowby designed", "the long maker sofa, the kitchen the client designed"),
    # Ordinary words
    ("Stone is heavy. The stone counter, a stone wall.", "Stone is heavy. The stone counter, a stone wall."),
    ("We asked Stone; Mr Stone likes stone.", "We asked the client; the client likes stone."),
    ("Stone asked for slate.", "The client asked for slate."),
    ("We meet in May, on 12 May and by May 2026.", "We meet in May, on 12 May and by May 2026."),
    ("From March to May, and at the end of May.", "From March to May, and at the end of May."),
    ("It may be; then May chose it.", "It may be; then the client chose it."),
    ("STONE FLOOR", "STONE FLOOR"),
    ("May Stone cooks; pasta al dente with Al.", "The client cooks; pasta al dente with the client."),
    # Addresses, numbers and mail
    ("The Long Shed built boats until the yard closed.", "The house built boats until the yard closed."),
    ("the roof of the long shed; Long Shed\u2019s roof", "the roof of the house; the house\u2019s roof"),
    ("a long shed on the quay", "a long shed on the quay"),
    ("It stands on Slackwater Lane, in Nether Wharf.", "It stands at the address."),
    ("The Slackwater house, our Slackwater winter", "The house, our winter"),
    ("Nether Wharf\u2019s river", "The address\u2019s river"),
    ("Welcome to The Long Shed, Slackwater Lane.", "Welcome to the house."),
    ("slack water in the lane", "slack water in the lane"),
    ("The zip code 04530; they are in ME 04530.", "The postcode; they are in the postcode."),
    ("Call +1 207 555 0142.", "Call a telephone number."),
    ("Ring (207) 555-0142, or 555 0142.", "Ring a telephone number, or a telephone number."),
    ("order 120755501425, 5 rings", "order 120755501425, 5 rings"),
    ("ODALYS@shed.example and b.merrowby@x.example", "An e-mail address and an e-mail address"),
    ("The evenings are long; write to a@b.example.", "The evenings are long; write to a@b.example."),
]  # fmt: skip


@pytest.mark.parametrize("audience", ["public", "student"])
@pytest.mark.parametrize(("text", "reads"), SENTENCES)
def test_a_sentence_reads_well_without_names(text: str, reads: str, audience: Audience) -> None:
    once = told(text, audience)
    assert once == reads
    assert told(once, audience) == once


def test_the_designer_is_left_out_for_the_public_alone_and_the_studio_keeps_its_name() -> None:
    text = "Overmantle Interiors drew it; W. Overmantle says so, and Ms Overmantle\u2019s pencil."
    assert told(text) == "Overmantle Interiors drew it; the designer says so, and the designer\u2019s pencil."
    assert told(text, "student") == text


def test_two_that_are_not_spaced_are_found_in_scripts_without_spaces() -> None:
    project = house(
        spaces=[room(144, 144)], client={"names": ["\u674e\u660e", "\u0391\u03bd\u03bd\u03b1 \u039a\u03ac\u03c0\u03b1"]}
    )
    names = Names(project, "public")
    assert "\u674e\u660e" not in names.out_of_text("\u4eca\u5929\u674e\u660e\u559c\u6b22")
    assert names.out_of_text("\u0397 \u0391\u039d\u039d\u0391 \u039a\u03b1\u03c0\u03b1") == "\u0397 the client"


@pytest.mark.parametrize("name", ["Thole and Daughter", "Green Stone Joinery"])
@pytest.mark.parametrize("who", ["Anna Thole", "Ms Thole", "Tom Quill"])
def test_a_private_name_wins_over_a_credit_and_an_ordinary_word_does_not(name: str, who: str) -> None:
    trade = {"id": "t", "trade": "joiner", "name": name, "may_be_credited": True}
    project = house(spaces=[room(144, 144) | {"story": f"Built by {name}."}], client={"names": [who, "Tom Stone"]},
                    show={"trades": [trade]})  # fmt: skip
    shown = for_audience(project, "public")
    lost = "Thole" in name and "Thole" in who
    assert shown.show.trades[0].name == ("" if lost else name)
    assert shown.spaces[0].story == (f"Built by {'the joiner' if lost else name}.")


def test_who_does_something_and_may_be_credited_is_named() -> None:
    plain = named(doers=["Grommet Brothers, on site"])
    assert Names(plain, "public").out_of_text("Grommet Brothers did it.") == "Grommet Brothers did it."


def test_names_of_things_stand_inside_sentences() -> None:
    project = named(finishes=[{"id": "o", "name": "Hesper\u2019s green"}, {"id": "p", "name": "Oak of Bram"}])
    shown = for_audience(project, "public")
    assert [finish.name for finish in shown.finishes] == ["the client\u2019s green", "Oak of the client"]
