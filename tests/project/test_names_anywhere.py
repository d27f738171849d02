"""Whatever sentence a name stands in, no part of it that tells who it is comes out. Names are made up by hypothesis."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st

from building import house, room
from enfilade.project.names import Names
from enfilade.project.names_words import FUNCTION, NAMES_NOBODY, ORDINARY, PERSONAL, ROLES, TITLES
from enfilade.project.project import Project

# Words of the sentences, which a name must not be, since nobody can tell them apart.
_PLAIN = """
the client's wall was laid by and with of a in larch boards stood it they chose said mr ms dr stone may floor at to for
who came asked then quietly designer joiner maker someone house address kitchen people some clients
""".split()  # noqa: SIM905
_KNOWN = {*_PLAIN, *FUNCTION, *NAMES_NOBODY, *ORDINARY, *PERSONAL, *ROLES, *TITLES}

_parts = st.text("abcdefghiklmnoprstuvwyz\u00e9\u00f8\u00e7", min_size=4, max_size=9).filter(
    lambda word: not {word, word + "s", word[:-1], word[:-2]} & _KNOWN
)
_names = st.lists(_parts.map(str.capitalize), min_size=1, max_size=3, unique=True)
_cases = st.sampled_from([str, str.upper, str.lower, str.capitalize])
_after = st.sampled_from(["", "'s", "\u2019s", "s", "es", "'", "s\u2019", "-style", "-Quill", ".", ",", "\u2014", ")"])
_before = st.sampled_from(
    ["", "the ", "The ", "a ", "Mr ", "Mrs. ", "Mr and Mrs ", "P. ", "ex-", "(", "\u201c", "Aunt ", "and "]
)
_roles = st.sampled_from(["client", "person", "trade", "maker", "decides", "answers", "point", "service", "designer"])


def project_of(role: str, name: str) -> Project:
    """Return a house that knows one name in one place."""
    kitchen = room(144, 144)
    product: dict[str, object] = {"id": "p", "name": "tap"}
    if role == "point":
        kitchen["points"] = [{"id": "o", "what": "w", "by": name}]
    if role == "maker":
        product["maker"] = name
    if role == "service":
        product["services"] = [{"id": "s", "what": "w", "every_months": 2, "by": name}]
    trades = [{"id": "t", "trade": "joiner", "name": name}] if role == "trade" else []
    return house(
        spaces=[kitchen],
        products=[product],
        client={"names": [name]} if role == "client" else {},
        household={"people": [{"id": "h", "name": name}]} if role == "person" else {},
        show={"trades": trades, "studio": {"designer": name if role == "designer" else ""}},
        decisions=[{"id": "d", "number": 1, "title": "t", "by": f"the joiner and {name}, on site"}]
        if role == "decides" else [],
        answers=[{"id": "a", "finding": "K1:x", "kind": "accepted", "reason": "r", "by": name}]
        if role == "answers" else [],
    )  # fmt: skip


@st.composite
def sentences(draw: st.DrawFn, parts: list[str]) -> str:
    words = []
    for _ in range(draw(st.integers(1, 8))):
        if draw(st.booleans()):
            few = draw(st.lists(st.sampled_from(parts), min_size=1, max_size=3))
            joined = draw(st.sampled_from([" ", "-", " and ", " & ", ", ", "\n", "_"])).join(
                draw(_cases)(one) for one in few
            )
            words.append(draw(_before) + joined + draw(_after))
        else:
            words.append(draw(st.sampled_from([*_PLAIN, "Larch", "Stone", "May", "12", "wall.", "Then"])))
    return " ".join(words)


@given(st.data(), _roles, _names)
def test_no_part_of_a_known_name_comes_out(data: st.DataObject, role: str, parts: list[str]) -> None:
    names = Names(project_of(role, " ".join(parts)), "public")
    text = data.draw(sentences(parts))
    told = names.out_of_text(text)
    heard = re.findall(r"[^\W_]+", told.lower())
    for part in parts:
        assert not {part.lower(), f"{part.lower()}s", f"{part.lower()}es"} & set(heard), (text, told)
    assert names.out_of_text(told) == told


@given(
    st.data(),
    st.lists(st.sampled_from(sorted({"Stone", "Wood", "Hall", "Banks", "Rose", "May"})), min_size=1, max_size=2),
)
def test_ordinary_words_stay_in_ordinary_sentences(data: st.DataObject, parts: list[str]) -> None:
    names = Names(project_of("client", f"Ottoline {' '.join(parts)}"), "public")
    word = data.draw(st.sampled_from(parts)).lower()
    begun = (f"The {word} is cold.", f"{word.capitalize()} is what it needs.", f"Of {word}s and {word}.")
    for text in (*begun, f"a {word} floor", "We begin in May.", f"larch or {word}-grey"):
        assert names.out_of_text(text) == text


@given(st.text(max_size=200), _names, _roles)
def test_any_text_is_told_and_told_again_alike(text: str, parts: list[str], role: str) -> None:
    names = Names(project_of(role, " ".join(parts)), "public")
    told = names.out_of_text(text)
    assert names.out_of_text(told) == told


@given(st.text(max_size=120), st.text(max_size=60), st.text(max_size=60), st.text(max_size=200))
def test_odd_names_addresses_and_contacts_break_nothing(name: str, address: str, contact: str, text: str) -> None:
    clean = [
        re.sub("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]", "", one) for one in (name, address, contact)
    ]
    project = house(
        spaces=[room(144, 144)],
        client={"names": [clean[0]], "address": clean[1], "contact": clean[2]},
        products=[{"id": "p", "name": "tap", "maker": clean[0]}],
        show={"trades": [{"id": "t", "trade": clean[1], "name": clean[2]}]},
        decisions=[{"id": "d", "number": 1, "title": "t", "by": clean[1]}],
    )
    told = Names(project, "public").out_of_text(f"{text} {clean[0]} {text} {clean[1]}")
    assert isinstance(told, str)


@given(
    st.integers(2_010_000_000, 9_899_999_999), st.lists(st.sampled_from([" ", "-", ".", ""]), min_size=2, max_size=2)
)
def test_a_known_number_is_found_however_it_is_spaced(number: int, gaps: list[str]) -> None:
    digits = str(number)
    project = house(spaces=[room(144, 144)], client={"contact": f"+1 {digits[:3]} {digits[3:6]} {digits[6:]}"})
    written = f"{digits[:3]}{gaps[0]}{digits[3:6]}{gaps[1]}{digits[6:]}"
    for form in (written, f"+1 {written}", f"+1-{written}", f"1 {written}"):
        assert Names(project, "public").out_of_text(f"Call {form}, please.") == "Call a telephone number, please."


def test_texts_of_a_hundred_thousand_signs_are_told_at_once() -> None:
    """No measure of speed: what takes quadratic time would not end while anyone waits."""
    names = Names(project_of("client", "Odalys Merrowby"), "public")
    for text in ("Odalys " * 14_000, "Odalys, " * 12_000, "Odalys and " * 9_000, "a" * 100_000 + " @", "1 " * 50_000,
                 "(" * 100_000 + "Odalys", "Mr. " * 25_000 + "Odalys", "the client " * 9_000 + "Odalys"):  # fmt: skip
        assert "Odalys" not in names.out_of_text(text)
