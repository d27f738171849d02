"""Names of a client in files of any encoding.

How the same letters are written is Unicode's and Python's own codecs' doing, not the project's.
"""

from __future__ import annotations

import codecs
import html
import io
import json
import time
import zipfile
from urllib.parse import quote

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from enfilade.archive.forgetting.beside import _CLOSED, file_without
from enfilade.archive.forgetting.bytes_of_names import encoding_of, stands_in_bytes
from enfilade.project.names import Names
from enfilade.project.people import Client
from enfilade.project.project import Project

NAMES = Names(Project(id="house", name="House", client=Client(names=("Jörg Müßer", "Ada Övre", "Ylu Ek"))), "public")
LONG = Names(Project(id="house", name="House", client=Client(names=("Wolfgang Müßerling",))), "public")
"""By chance no such name stands among a few bytes."""
LETTER = "Measured for Jörg Müßer and ADA ÖVRE and Ylu on a wet day."


@pytest.mark.parametrize(
    "data",
    [
        LETTER.encode("latin-1"), LETTER.encode("cp1252"), LETTER.encode("utf-16"), LETTER.encode("utf-32"),
        codecs.BOM_UTF16_BE + LETTER.encode("utf-16-be"), codecs.BOM_UTF8 + LETTER.encode(),
        LETTER.encode("utf-16-le"), LETTER.encode("utf-16-be"), LETTER.encode("utf-32-le"),
    ],
)  # fmt: skip
def test_a_text_of_any_encoding_stays_without_them(data: bytes) -> None:
    left = file_without("light/notes.txt", data, NAMES)
    assert left is not None
    encoding = encoding_of(data)
    assert encoding is not None
    text = left.decode(encoding)
    assert text.startswith("Measured for ")
    assert text.endswith(" on a wet day.")
    assert not any(name in text.casefold() for name in ("jörg", "müsser", "ada", "övre", "ylu"))


@pytest.mark.parametrize(
    "text",
    [
        html.escape("Müßer").encode("ascii", "xmlcharrefreplace").decode(), "M&uuml;&szlig;er", json.dumps("Jörg"),
        quote("Övre"), "J\\xf6rg", quote("Jörg", encoding="latin-1"), quote("J&ouml;rg"), "J\\u{f6}rg",
        html.escape("J&#xF6;rg"), "J\\\\u00f6rg", "%59lu", "&#89;lu",
    ],
)  # fmt: skip
def test_a_name_in_another_writing_takes_the_file_with_it(text: str) -> None:
    assert file_without("light/notes.txt", f"for {text}".encode(), NAMES) is None


@pytest.mark.parametrize(
    "data",
    [
        b"\x00\x01MUESSER j\xd6RG \x02", "\x00\x01 of Jörg".encode(), b"\x00" + "MÜSSER".encode("utf-16-le"),
        b"\x00\x01\x00 " + "övre".encode("utf-16-be"), b"\x00 \xd6VRE \x01",
        b"\x00\x01\x02" + " ylu ".encode("utf-16-be"), b"\x00\x01\x02\x00" + " Ek ".encode("utf-16-le"),
    ],
)  # fmt: skip
def test_no_text_in_which_one_stands_goes(data: bytes) -> None:
    assert encoding_of(data) is None
    assert file_without("light/scan.bin", data, NAMES) is None


def test_what_packs_its_text_goes_and_the_rest_stays() -> None:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as to:
        to.writestr("notes.txt", LETTER)
    assert file_without("light/notes.zip", packed.getvalue(), NAMES) is None
    for data in (bytes(range(256)) * 40, "Käse 20 % & more &amp; less".encode(), b"IESNA:LM-63\r\n1 2 3", b""):
        assert file_without("light/lamp.ies", data, NAMES) == data


def test_short_words_stand_by_chance_in_bytes() -> None:
    assert not stands_in_bytes(b"\x00 ada \x01", ["ada"])
    assert stands_in_bytes(b"\x00 OVRE \x01", ["ovre"])
    assert not stands_in_bytes(b"\x00xOVREx\x01", ["ovre"])


@given(st.binary(max_size=400))
def test_what_holds_no_name_stays_as_it_is(data: bytes) -> None:
    assume(not data.startswith(_CLOSED))
    assert file_without("light/lamp.ies", data, LONG) == data


@given(st.text(max_size=60), st.sampled_from(["utf-8", "utf-16", "utf-16-le", "utf-16-be", "utf-32"]))
def test_a_name_among_any_signs_is_found(around: str, encoding: str) -> None:
    name = "Övre".encode(encoding)
    for mark in (codecs.BOM_UTF32_LE, codecs.BOM_UTF16_LE):
        name = name.removeprefix(mark)
    left = file_without("light/notes.txt", f"{around} Övre {around}".encode(encoding, "ignore"), NAMES)
    assert left is None or name not in left


def test_it_takes_no_time_that_grows_with_the_square() -> None:
    start = time.monotonic()
    for sign in ("\\", "%", "&#", "%26", "a-"):
        data = (sign * 500_000).encode()
        assert file_without("light/notes.txt", data, NAMES) == data
    assert time.monotonic() - start < 60
