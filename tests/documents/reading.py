"""Everything that a document's bytes can hold, as text: what is shown, hidden, or only carried along."""

from __future__ import annotations

import base64
import binascii
import html
import io
import re
import urllib.parse
import warnings
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

import pypdf
from PIL import Image
from pypdf.generic import (
    ArrayObject,
    ByteStringObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    StreamObject,
    TextStringObject,
)

__all__ = ["Reading", "pieces", "read", "read_folder", "shown", "squeezed"]

Piece = tuple[str, str]
"""Where it stands, and what it says."""

_DATA = re.compile(r"data:([a-z0-9.+/-]*)((?:;[a-z0-9=.+-]+)*),([^\"'()<>\s]*)", re.IGNORECASE)
_BASE64 = re.compile(r"[A-Za-z0-9+/_-]{24,}={0,2}")
_HEX = re.compile(r"<([0-9A-Fa-f\s]{8,})>")
_ESCAPED = re.compile(r"\\u([0-9a-fA-F]{4})|\\x([0-9a-fA-F]{2})")
_TAG = re.compile(r"<[^<>]*>")
_BETWEEN = re.compile("[\\s\u00ad\u200b-\u200f\u2060\ufeff-]+")
_PICTURES = (b"\x89PNG", b"\xff\xd8\xff", b"RIFF", b"GIF8")
_DEEPEST = 6


def squeezed(text: str) -> str:
    """Return text in small letters without what may stand between letters that belong together."""
    return _BETWEEN.sub("", text.lower())


@dataclass(frozen=True)
class Reading:
    """One file, read through."""

    name: str
    pieces: tuple[Piece, ...]

    @cached_property
    def text(self) -> str:
        """All of it in small letters."""
        return "\n".join(text for _, text in self.pieces).lower()

    @cached_property
    def squeezed(self) -> str:
        """The same without white space, so that no letter-spacing or line break hides a word."""
        return "\n".join(squeezed(text) for _, text in self.pieces)

    def holds(self, words: str) -> bool:
        """Tell whether some words stand anywhere in it, however they are broken."""
        return words.lower() in self.text or squeezed(words) in self.squeezed

    def matches(self, pattern: re.Pattern[str]) -> set[str]:
        """Return what of a pattern of small letters is found."""
        return set(pattern.findall(self.text)) | set(pattern.findall(self.squeezed))

    def where(self, words: str) -> list[str]:
        """Return where some words stand."""
        return [
            where for where, text in self.pieces if words.lower() in text.lower() or squeezed(words) in squeezed(text)
        ]


def read_folder(folder: Path) -> dict[str, Reading]:
    """Return every file of a folder by its path in it; the path is read too."""
    return {
        name: read(name, path.read_bytes())
        for path in sorted(folder.rglob("*"))
        if path.is_file() and (name := path.relative_to(folder).as_posix())
    }


def read(name: str, data: bytes) -> Reading:
    """Return a file read through."""
    return Reading(name, (("file name", name), *pieces(name, data)))


def pieces(name: str, data: bytes, depth: int = 0) -> Iterator[Piece]:
    """Yield all that stands in some bytes: as they are, and unpacked, decoded and unescaped again and again."""
    if depth > _DEEPEST or not data:
        return
    if data.startswith(b"%PDF"):
        yield from _of_pdf(name, data, depth)
    elif data.startswith(b"PK\x03\x04"):
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            yield f"{name} comment", archive.comment.decode("latin-1")
            for entry in archive.infolist():
                yield f"{name} entries", f"{entry.filename} {entry.comment!r} {entry.extra!r}"
                yield from pieces(f"{name}/{entry.filename}", archive.read(entry), depth + 1)
    elif data.startswith(_PICTURES):
        yield from _of_picture(name, data)
    elif _is_font(data):
        yield f"{name} font", data[:64].decode("latin-1")
    else:
        yield from _of_bytes(name, data, depth)


def _is_font(data: bytes) -> bool:
    return data[:4] in (b"\x00\x01\x00\x00", b"OTTO", b"true", b"wOFF", b"wOF2")


def _of_bytes(name: str, data: bytes, depth: int) -> Iterator[Piece]:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        yield from _of_text(name, data.decode("utf-16", "replace"), depth)
    elif b"\0" in data:
        yield f"{name} as UTF-16", data.replace(b"\0", b"").decode("latin-1")
        for coding in ("utf-16-le", "utf-16-be"):
            for start in (0, 1):
                yield f"{name} as {coding}", data[start : start + 200_000].decode(coding, "ignore")
    else:
        yield from _of_text(name, data.decode("utf-8", "replace"), depth)


def _of_text(name: str, text: str, depth: int) -> Iterator[Piece]:
    """Yield a text, and what it becomes when it is read as markup, as a script, as a calendar or as an address."""
    carried = list(_DATA.finditer(text))
    bare = _DATA.sub(lambda found: f"data:{found[1]}", text) if carried else text
    yield name, bare
    plain = html.unescape(html.unescape(bare))
    if "<" in bare:
        # A word may be broken by the tags of its runs; attributes were read with the whole.
        yield f"{name} between tags", html.unescape(_TAG.sub("", bare))
    if plain != bare:
        yield f"{name} unescaped", plain
    if "\\u" in bare or "\\x" in bare:
        yield f"{name} escapes", _ESCAPED.sub(lambda found: chr(int(found[1] or found[2], 16)), bare)
    if "\\" in bare:
        yield f"{name} backslashes", re.sub(r"\\(.)", r"\1", bare)
    if re.search(r"\r?\n[ \t]", bare):
        yield f"{name} unfolded", re.sub(r"\r?\n[ \t]", "", bare)
    if "%" in bare:
        yield f"{name} percent", urllib.parse.unquote(bare, errors="replace")
    for number, found in enumerate(carried):
        where, body = f"{name} data {number} {found[1]}", html.unescape(found[3])
        data = _unpacked(urllib.parse.unquote(body)) if "base64" in found[2].lower() else _percent(body)
        if data is None:
            yield where, body
        else:
            yield from pieces(where, data, depth + 1)
    for number, run in enumerate(_BASE64.findall(bare)):
        data = _unpacked(run)
        if data is not None and depth < _DEEPEST:
            yield f"{name} base64 {number}", data.replace(b"\0", b"").decode("latin-1")


def _percent(body: str) -> bytes:
    return urllib.parse.unquote_to_bytes(body)


def _unpacked(run: str) -> bytes | None:
    plain = re.sub(r"\s", "", run).translate(str.maketrans("-_", "+/")).rstrip("=")
    try:
        return base64.b64decode(plain + "=" * (-len(plain) % 4))
    except (binascii.Error, ValueError):
        return None


def _of_picture(name: str, data: bytes) -> Iterator[Piece]:
    """Yield what a picture carries beside its points: chunks of text, what the camera wrote, profiles."""
    yield f"{name} as bytes", data.replace(b"\0", b"").decode("latin-1")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with Image.open(io.BytesIO(data)) as picture:
            picture.load()
            said = {str(key): value for key, value in picture.info.items()}
            said |= {f"exif {key}": value for key, value in picture.getexif().items()}
            said |= {f"text {key}": value for key, value in getattr(picture, "text", {}).items()}
    for key, value in said.items():
        whole = value.replace(b"\0", b"").decode("latin-1") if isinstance(value, bytes) else str(value)
        yield f"{name} {key}", f"{key} {whole}"


def _of_pdf(name: str, data: bytes, depth: int) -> Iterator[Piece]:
    yield f"{name} as bytes", data.decode("latin-1")
    reader = pypdf.PdfReader(io.BytesIO(data))
    yield f"{name} about", " ".join(f"{key} {value}" for key, value in (reader.metadata or {}).items())
    yield f"{name} outline", "\n".join(_titles(reader.outline))
    yield f"{name} page labels", " ".join(reader.page_labels)
    for embedded, contents in reader.attachments.items():
        yield f"{name} embedded", embedded
        for content in contents:
            yield from pieces(f"{name}/{embedded}", content, depth + 1)
    for number, page in enumerate(reader.pages, 1):
        yield f"{name} page {number}", page.extract_text()
    for number, thing in _objects(reader):
        yield f"{name} object {number}", " ".join(_strings(thing))
        if isinstance(thing, StreamObject):
            yield from _of_stream(f"{name} stream {number}", thing, depth)


def _objects(reader: pypdf.PdfReader) -> Iterator[tuple[int, Any]]:
    numbers = {number for table in reader.xref.values() for number in table} | set(reader.xref_objStm)
    for number in sorted(numbers):
        try:
            yield number, reader.get_object(number)
        except (pypdf.errors.PdfReadError, KeyError):
            continue


def _of_stream(name: str, stream: Any, depth: int) -> Iterator[Piece]:
    if stream.get("/Subtype") == "/Image" and stream.get("/Filter") not in ("/DCTDecode", "/JPXDecode"):
        return  # points alone
    try:
        data = stream.get_data()
    except Exception:  # what cannot be unpacked is read as it lies there
        data = stream._data
    if data.startswith(_PICTURES):
        yield from _of_picture(name, data)
    elif not _is_font(data) and not {"/Length1", "/Length2"} & set(stream) and "CIDFontType0C" not in repr(stream):
        yield name, data.replace(b"\0", b"").decode("latin-1")
        if stream.get("/Type") == "/Metadata" or data[:5] in (b"<?xml", b"<?xpa"):
            yield from _of_text(f"{name} as text", data.decode("utf-8", "replace"), depth + 1)
        yield f"{name} hex", " ".join(_from_hex(found) for found in _HEX.findall(data.decode("latin-1")))


def _from_hex(found: str) -> str:
    plain = re.sub(r"\s", "", found)
    return bytes.fromhex(plain + "0" * (len(plain) % 2)).replace(b"\0", b"").decode("latin-1")


def _strings(thing: Any) -> Iterator[str]:
    """Yield the strings and names of an object: titles, alternatives, the text that stands for what is drawn."""
    if isinstance(thing, DictionaryObject):
        for key, value in thing.items():
            yield str(key)
            yield from _strings(value)
    elif isinstance(thing, ArrayObject):
        for value in thing:
            yield from _strings(value)
    elif isinstance(thing, ByteStringObject):
        yield bytes(thing).replace(b"\0", b"").decode("latin-1")
    elif isinstance(thing, TextStringObject | NameObject) and not isinstance(thing, IndirectObject):
        yield str(thing)


def _titles(entries: Any) -> Iterator[str]:
    for entry in entries:
        if isinstance(entry, list):
            yield from _titles(entry)
        else:
            yield str(entry.title)


def shown(name: str, data: bytes) -> str:
    """Return the text that a reader of a document sees, in one line of words; for tests of what it says."""
    if data.startswith(b"%PDF"):
        reader = pypdf.PdfReader(io.BytesIO(data))
        text = "\n".join(page.extract_text() for page in reader.pages)
    elif data.startswith(b"PK\x03\x04"):
        text = "\n".join(_office_texts(data))
    elif name.endswith(".html"):
        bare = re.sub(r"<(style|script)\b.*?</\1>", " ", data.decode("utf-8"), flags=re.DOTALL)
        text = html.unescape(re.sub(r"<(?=[a-zA-Z/!])[^>]*>", " ", bare))
    elif name.endswith(".ics"):
        text = re.sub(r"\\(.)", r"\1", re.sub(r"\r?\n[ \t]", "", data.decode("utf-8")).replace("\\n", "\n"))
    elif name.endswith(".vtt"):
        text = html.unescape(data.decode("utf-8"))
    else:
        text = data.decode("utf-8-sig")
    return " ".join(text.replace("\u200b", "").split())


def _office_texts(data: bytes) -> Iterator[str]:
    from lxml import etree

    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        for entry in archive.namelist():
            if entry.endswith(".xml") and not entry.startswith(("docProps/", "[")):
                root: Any = etree.fromstring(archive.read(entry))
                for block in root.iter("{*}p", "{*}si", "{*}is", "{*}v"):
                    yield "".join(block.itertext())
