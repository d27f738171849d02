"""The reader of documents finds a word wherever it hides, so that a test that finds none means something."""

from __future__ import annotations

import base64
import io
import tempfile
import urllib.parse
import zipfile
from pathlib import Path

import pypdf
import pytest
import typst
from PIL import Image, PngImagePlugin
from pypdf.generic import DecodedStreamObject, DictionaryObject, NameObject, TextStringObject

from documents.reading import read
from enfilade.export.gallery import Gallery
from enfilade.export.look import Look
from enfilade.export.typesetting import Setting
from enfilade.walkthrough.pages import Drawing

WORD = "qzsecretzq"


def png(**said: str) -> bytes:
    stream, info = io.BytesIO(), PngImagePlugin.PngInfo()
    for key, value in said.items():
        info.add_itxt(key, value, zip=True)
    Image.new("RGB", (2, 2)).save(stream, "PNG", pnginfo=info)
    return stream.getvalue()


def jpeg() -> bytes:
    stream, exif = io.BytesIO(), Image.Exif()
    exif[0x010E] = WORD
    Image.new("RGB", (2, 2)).save(stream, "JPEG", exif=exif)
    return stream.getvalue()


def office(name: str, data: bytes) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(name, data)
    return stream.getvalue()


def address(data: bytes, kind: str) -> bytes:
    return f'<img src="data:{kind};base64,{base64.b64encode(data).decode()}">'.encode()


def pdf(*, body: str = "", drawing: str = "", **about: str) -> bytes:
    gallery = Gallery()
    setting = Setting("t.pdf", "cards", about.get("title", "T"), Look(), gallery=gallery)
    gallery.drawing(Drawing("d", drawing or _SVG.format("")), widest_mm=50, highest_mm=50)
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(_plain_pdf(setting, body)))
    if "attached" in about:
        writer.add_attachment("a.txt", about["attached"].encode())
    if "object" in about:
        writer._add_object(DictionaryObject({NameObject("/Alt"): TextStringObject(about["object"])}))
    if "stream" in about:
        stream = DecodedStreamObject()
        stream.set_data(about["stream"].encode("utf-16-be"))
        writer._add_object(stream.flate_encode())
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


_SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="90" height="20" viewBox="0 0 90 20">'
    '<text x="2" y="12" font-size="9">{}</text></svg>'
)


def _plain_pdf(setting: Setting, body: str) -> bytes:
    with tempfile.TemporaryDirectory() as folder:
        for name, content in setting.gallery.files(_AsItIs()).items():  # type: ignore[arg-type]
            (Path(folder) / name).write_bytes(content)
        text = f'#set document(title: "{setting.title}")\n{body}\n#image("d0.svg", alt: "drawing")'
        (Path(folder) / "t.typ").write_text(text, "utf-8")
        return bytes(typst.compile(Path(folder) / "t.typ", root=folder, pdf_standards=["ua-1"]))


class _AsItIs:
    def text(self, text: str) -> str:
        return text


_PERCENT = urllib.parse.quote(f"<svg>{WORD}</svg>")

HIDDEN = {
    "a file's name": (f"{WORD}.txt", b"x"),
    "text": ("a.csv", f"a,{WORD}".encode()),
    "capital letters": ("a.csv", WORD.upper().encode()),
    "letter by letter": ("a.csv", " ".join(WORD).encode()),
    "broken by a line": ("a.csv", f"{WORD[:4]}\n{WORD[4:]}".encode()),
    "UTF-16": ("a.csv", WORD.encode("utf-16")),
    "UTF-16 without a mark": ("a.bin", b"\0\1" + WORD.encode("utf-16-be")),
    "entities": ("a.html", "".join(f"&#{ord(sign)};" for sign in WORD).encode()),
    "entities of entities": ("a.html", "".join(f"&amp;#x{ord(sign):x};" for sign in WORD).encode()),
    "between tags": ("a.html", f"<b>{WORD[:4]}</b><i>{WORD[4:]}</i>".encode()),
    "an attribute": ("a.html", f'<p data-a="{WORD}">'.encode()),
    "escapes of a script": ("a.html", "".join(f"\\u{ord(sign):04x}" for sign in WORD).encode()),
    "an address in base64": ("a.html", address(f"<svg><desc>{WORD}</desc></svg>".encode(), "image/svg+xml")),
    "an address in percent": ("a.html", f"<img src='data:image/svg+xml,{_PERCENT}'>".encode()),
    "a picture in a drawing in a page": ("a.html", address(address(png(Comment=WORD), "image/png"), "image/svg+xml")),
    "a bare run of base64": ("a.json", base64.b64encode(f"padding padding {WORD}".encode())),
    "a part of an office file": ("a.docx", office("docProps/core.xml", f"<a>{WORD}</a>".encode())),
    "runs of an office file": ("a.docx", office("w.xml", f"<r><t>{WORD[:3]}</t></r><r><t>{WORD[3:]}</t></r>".encode())),
    "the name of a part": ("a.docx", office(f"media/{WORD}.xml", b"<a/>")),
    "text in a picture of an office file": ("a.pptx", office("media/1.png", png(Author=WORD))),
    "what a camera wrote": ("a.pptx", office("media/1.jpg", jpeg())),
    "a folded calendar": ("a.ics", f"SUMMARY:{WORD[:5]}\r\n {WORD[5:]}\r\n".encode()),
    "an escaped calendar": ("a.ics", "\\".join(WORD).encode()),
}  # fmt: skip


@pytest.mark.parametrize("where", HIDDEN)
def test_a_word_is_found(where: str) -> None:
    name, data = HIDDEN[where]
    assert read(name, data).holds(WORD)
    assert not read(name, data).holds("qzothersecretzq")


PRINTED = {
    "what is set": {"body": f"= A\n{WORD}"},
    "what is set letter by letter": {"body": f"= A\n#text(tracking: 4pt)[{WORD}]"},
    "a heading, and a bookmark": {"body": f"= {WORD}"},
    "the title": {"title": WORD},
    "an alternative": {"body": f'#figure(image("d0.svg", alt: "{WORD}"))'},
    "words of a drawing": {"drawing": _SVG.format(WORD)},
    "an object that nothing shows": {"object": WORD},
    "a packed stream that nothing shows": {"stream": WORD},
    "a file that is embedded": {"attached": WORD},
}


@pytest.mark.parametrize("where", PRINTED)
def test_a_word_is_found_in_print(where: str) -> None:
    assert read("a.pdf", pdf(**PRINTED[where])).holds(WORD)


def test_a_document_without_it_does_not_hold_it() -> None:
    assert not read("a.pdf", pdf(body="= A\nword")).holds(WORD)
