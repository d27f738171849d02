"""Names of a client in files of any encoding.

How the same letters are written is Unicode's and Python's own codecs' doing, not the project's.
"""

from __future__ import annotations

import codecs
import html
import io
import json
import zipfile
from urllib.parse import quote

import pytest

from enfilade.archive.forgetting.beside import file_without
from enfilade.archive.forgetting.bytes_of_names import encoding_of, stands_in_bytes
from enfilade.project.names import Names
from enfilade.project.people import Client
from enfilade.project.project import Project

NAMES = Names(Project(id="house", name="House", client=Client(names=("Jörg Müßer", "Ada Övre"))), "public")
LETTER = "Measured for Jörg Müßer and ADA ÖVRE on a wet day."


@pytest.mark.parametrize(
    "data",
    [
        LETTER.encode("latin-1"), LETTER.encode("cp1252"), LETTER.encode("utf-16"), LETTER.encode("utf-32"),
        codecs.BOM_UTF16_BE + LETTER.encode("utf-16-be"), codecs.BOM_UTF8 + LETTER.encode(),
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
    assert not any(name in text.casefold() for name in ("jörg", "müsser", "övre"))


@pytest.mark.parametrize(
    "text",
    [
        html.escape("Müßer").encode("ascii", "xmlcharrefreplace").decode(), "M&uuml;&szlig;er", json.dumps("Jörg"),
        quote("Övre"), "J\\xf6rg",
    ],
)  # fmt: skip
def test_a_name_in_another_writing_takes_the_file_with_it(text: str) -> None:
    assert file_without("light/notes.txt", f"for {text}".encode(), NAMES) is None


@pytest.mark.parametrize(
    "data",
    [
        b"\x00\x01MUESSER j\xd6RG \x02", "\x00\x01 of Jörg".encode(), b"\x00" + "MÜSSER".encode("utf-16-le"),
        b"\x00\x01\x00 " + "övre".encode("utf-16-be"), b"\x00 \xd6VRE \x01",
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
