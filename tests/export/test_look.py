"""The studio's look: one file, checked with places, and nothing in it that runs, leads out or may not be embedded."""

from __future__ import annotations

import io
import struct
from pathlib import Path
from xml.etree import ElementTree

import pytest
from fontTools.ttLib import TTFont
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image, PngImagePlugin

import enfilade as ef
from enfilade.checks.run import project_yardstick
from enfilade.errors import BadRecord, EnfiladeError, Refused
from enfilade.export.font_files import font_facts
from enfilade.export.logo import logo_of
from enfilade.export.look import Look, look_of
from enfilade.project.audience import for_audience
from enfilade.project.store import load, save
from enfilade.project.studio_file import inside, named_files
from enfilade.resources import shipped

FONT = shipped("assets") / "fonts" / "enfilade-text-regular.ttf"
SVG = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 5"><path d="M0 0H10V5Z" fill="#0b5563"/></svg>'
STUDIO = """
[studio]
name = "Studio Lantern and Lath"
designer = "W. Overmantle"
letterhead = ["Tide Lane 3, Nether Wharf", "Ask for W. Overmantle"]
logo = "logo.svg"

[look]
ink = "#101820"
accent = "#7A1F1F"
family = "Enfilade Text"
fonts = ["fonts/lath.ttf"]
"""


@pytest.fixture
def home(tmp_path: Path) -> Path:
    folder = tmp_path / "house"
    save(ef.demo(), folder)
    (folder / "fonts").mkdir()
    (folder / "fonts" / "lath.ttf").write_bytes(FONT.read_bytes())
    (folder / "logo.svg").write_bytes(SVG)
    (folder / "studio.toml").write_text(STUDIO)
    return folder


def with_file(home: Path, text: str) -> Look:
    (home / "studio.toml").write_text(text)
    return look_of(load(home))


def faults(home: Path, text: str) -> list[str]:
    with pytest.raises(BadRecord) as caught:
        with_file(home, text)
    assert caught.value.file == str(home / "studio.toml")
    return [str(fault) for fault in caught.value.faults]


def test_a_look_is_read(home: Path) -> None:
    look = look_of(load(home))
    assert (look.studio, look.designer) == ("Studio Lantern and Lath", "W. Overmantle")
    assert look.letterhead == ("Tide Lane 3, Nether Wharf", "Ask for W. Overmantle")
    assert (look.ink, look.accent, look.family) == ("#101820", "#7a1f1f", "Enfilade Text")
    assert look.font_files == (home / "fonts" / "lath.ttf",)
    assert look.logo_kind == "svg"
    assert b"M0 0H10V5Z" in (look.logo or b"")


def test_without_a_file_the_look_is_the_shipped_one(tmp_path: Path) -> None:
    assert look_of(ef.demo()) == Look()
    save(ef.demo(), tmp_path)
    assert look_of(load(tmp_path)) == Look()
    (tmp_path / "studio.toml").write_text("[rules]\nK7 = 40\n")
    assert look_of(load(tmp_path)) == Look()


def test_the_public_hears_no_designer(home: Path) -> None:
    project = load(home)
    public = look_of(for_audience(project, "public"))
    assert (public.studio, public.designer) == ("Studio Lantern and Lath", "")
    assert public.letterhead == ("Tide Lane 3, Nether Wharf",)
    assert look_of(for_audience(project, "client")).designer == "W. Overmantle"


def test_the_look_is_no_part_of_the_house_rules(home: Path) -> None:
    rules = '[rules]\n"K6/one cook" = 45\n'
    (home / "studio.toml").write_text(rules)
    bare = project_yardstick(load(home))
    (home / "studio.toml").write_text(STUDIO + rules)
    both = project_yardstick(load(home))
    assert bare.house_rules == both.house_rules != ""
    assert bare.row("K6", "one cook").value == both.row("K6", "one cook").value
    (home / "studio.toml").write_text(STUDIO)
    assert project_yardstick(load(home)).house_rules == ""


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("[studio]\nnam = 'x'", "studio/nam: is unknown; expected name, designer, letterhead, logo"),
        ("[look]\ncolour = '#000000'", "look/colour: is unknown; expected ink, accent, family, fonts"),
        ("studio = 3", "studio: is no table; expected [studio]"),
        ("[studio]\nname = 3", "studio/name: is a int; expected text in quotes"),
        ("[studio]\nname = 'a\\u0007b'\n".replace("'", '"'), "studio/name: is too long, or holds signs"),
        ("[studio]\nletterhead = 'one line'", "studio/letterhead: is no short list of lines"),
        ("[studio]\nletterhead = ['a', 3]", "studio/letterhead/2: is a int"),
        # WCAG 2.2, 1.4.3: #777777 has 4.478 to 1 on white, and 4.5 is asked for.
        ("[look]\nink = '#777777'", "look/ink: #777777 has a contrast of 4.47 to 1 on white; expected at least 4.5"),
        ("[look]\naccent = '#ffffff'", "look/accent: #ffffff has a contrast of 1.00 to 1 on white"),
        ("[look]\naccent = 'teal'", "look/accent: 'teal' is not a colour; expected #rrggbb"),
        ("[look]\naccent = 7", "look/accent: '7' is not a colour"),
        ("[studio]\nlogo = 'none.svg'", "studio/logo: none.svg does not exist"),
        ("[studio]\nlogo = '../logo.svg'", "studio/logo: '../logo.svg' is no file in the project's folder"),
        ("[studio]\nlogo = '/etc/passwd'", "studio/logo: '/etc/passwd' is no file in the project's folder"),
        ("[studio]\nlogo = 5", "studio/logo: '5' is no file in the project's folder"),
        ("[studio]\nlogo = 'project.json'", "studio/logo: the logo is no picture that can be set"),
        ("[look]\nfonts = ['logo.svg']", "look/fonts/1: the file is no font; expected a font as one TTF or OTF file"),
        ("[look]\nfonts = 'fonts/lath.ttf'", "look/fonts: is no short list of files"),
        ("[look]\nfamily = 'Lath'", "look/family: 'Lath' has no files"),
        ("[look]\nfamily = 'Lath'\nfonts = ['fonts/lath.ttf']",
         "look/fonts/1: 'fonts/lath.ttf' is of the family 'Enfilade Text'; expected a file of 'Lath'"),
        ("[look", "text: "),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_with_its_place(home: Path, text: str, fault: str) -> None:
    (found,) = faults(home, text)
    assert found.startswith(fault)
    assert str(home) not in found


def test_all_faults_are_told_at_once(home: Path) -> None:
    assert len(faults(home, "[studio]\nx = 1\nlogo = 'no.svg'\n[look]\nink = '#eeeeee'\nfonts = ['no.ttf']")) == 4


def test_the_lightest_grey_that_is_enough_is_taken(home: Path) -> None:
    # WCAG 2.2, 1.4.3: #767676 has 4.542 to 1 on white.
    assert with_file(home, "[look]\nink = '#767676'").ink == "#767676"


def test_links_that_lead_out_are_refused(home: Path, tmp_path: Path) -> None:
    (tmp_path / "outside").mkdir()
    (tmp_path / "outside" / "logo.svg").write_bytes(SVG)
    (home / "linked").symlink_to(tmp_path / "outside")
    (home / "logo.svg").unlink()
    (home / "logo.svg").symlink_to(tmp_path / "outside" / "logo.svg")
    assert "leads out of the project's folder" in faults(home, "[studio]\nlogo = 'linked/logo.svg'")[0]
    assert "is a link" in faults(home, "[studio]\nlogo = 'logo.svg'")[0]
    (home / "studio.toml").unlink()
    (home / "studio.toml").symlink_to(tmp_path / "outside" / "studio.toml")
    with pytest.raises(Refused, match="is a link"):
        look_of(load(home))


def test_a_file_that_is_no_text_is_refused(home: Path) -> None:
    (home / "studio.toml").write_bytes(b"\xff\xfe")
    with pytest.raises(BadRecord, match="is not UTF-8"):
        look_of(load(home))


def test_the_studio_s_files_come_along_and_are_no_strangers(home: Path, tmp_path: Path) -> None:
    project = load(home)
    save(project, tmp_path / "copy")
    assert look_of(load(tmp_path / "copy")).logo == look_of(load(home)).logo
    fresh = tmp_path / "fresh"
    (fresh / "fonts").mkdir(parents=True)
    for name in ("studio.toml", "logo.svg"):
        (fresh / name).write_bytes((home / name).read_bytes())
    save(ef.demo(), fresh)
    assert [str(path) for path in named_files(fresh)] == ["logo.svg", "fonts/lath.ttf"]


@pytest.mark.parametrize(
    "text", ["", "[look", "look = 3", "[look]\nfonts = 3\n[studio]\nlogo = ['x']", "[studio]\nlogo='../x'"]
)
def test_a_file_that_names_nothing_usable_names_no_files(tmp_path: Path, text: str) -> None:
    (tmp_path / "studio.toml").write_text(text)
    assert named_files(tmp_path) == ()


@given(st.text(max_size=40))
def test_a_name_that_is_taken_stays_inside(name: str) -> None:
    path = inside(name)
    if path is not None:
        assert not path.is_absolute()
        assert ".." not in path.parts
        assert Path("/a/b", path).is_relative_to("/a/b")


# Logos


def svg(inner: str, attributes: str = 'viewBox="0 0 10 5"') -> bytes:
    names = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" xmlns:o="urn:other"'
    return f"<?xml version='1.0'?><svg {names} {attributes}>{inner}</svg>".encode()


@pytest.mark.parametrize(
    "inner",
    [
        "<script>alert(1)</script>",
        "<style>@import url(x.css)</style><path d='M0 0'/>",
        "<style>.a{fill:url(https://example.invalid)}</style><path d='M0 0' class='a'/>",
        "<style>g > path{fill:red}</style><path d='M0 0'/>",
        "<style>.a{fill:red</style><path d='M0 0'/>",
        "<style>" + ".a{fill:red}" * 1000 + "</style>" + "<path d='M0 0' class='a'/>" * 1000,
        "<style>" + ".a{fill:red}" * 300 + "</style>" + "<path d='M0 0' class='a'/>" * 10_000,
        "<foreignObject><p xmlns='http://www.w3.org/1999/xhtml'>x</p></foreignObject>",
        "<image href='https://example.invalid/x.png'/>",
        "<image href='data:image/png;base64,AAAA'/>",
        "<a href='https://example.invalid'><path d='M0 0'/></a>",
        "<use href='#a'/>",
        "<path d='M0 0' onclick='x()'/>",
        "<path d='M0 0' o:onload='x()'/>",
        "<path d='M0 0' fill='url(https://example.invalid/a.svg#b)'/>",
        "<path d='M0 0' style='fill:url(//example.invalid)'/>",
        "<path d='M0 0' style='fill:u\\72l(x)'/>",
        "<path d='M0 0' style='fill:u/**/rl(x)'/>",
        "<linearGradient xlink:href='other.svg#a'/><path d='M0 0'/>",
        "<animate attributeName='href' to='javascript:x()'/>",
        "<set attributeName='x'/>",
        "<g></g>",
        "<metadata><path d='M0 0'/></metadata>",
        "<clipPath id='a'><path d='M0 0' clip-path='url(#b)'/></clipPath><path d='M0 0'/>",
        "<g>" * 100 + "<path d='M0 0'/>" + "</g>" * 100,
        "<path d='M0 0'/>" * 20_001,
        "<path d='M0 0'",
    ],
)
def test_a_logo_with_more_than_shapes_is_refused(inner: str) -> None:
    with pytest.raises(Refused, match=r"^the logo\b"):
        logo_of(svg(inner))


@pytest.mark.parametrize(
    "data",
    [
        b"", b"GIF89a", b"<svg/>", b"<html><svg xmlns='http://www.w3.org/2000/svg'/></html>",
        svg("<path d='M0 0'/>", attributes=""), svg("<path d='M0 0'/>", attributes='width="100%" height="5"'),
        svg("<path d='M0 0'/>", attributes='viewBox="0 0 0 5"'),
        svg("<path d='M0 0'/>", attributes='width="1e9" height="5"'),
        b'<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]>' + svg("<text>&b;</text>").split(b"?>")[1],
        b'<!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/passwd">]>' + svg("<text>&a;</text>").split(b"?>")[1],
        b"\x89PNG\r\n\x1a\n damaged", b"<svg encoding" + b"\xff" * 40,
        b"<?xml version='1.0' encoding='no-such'?><svg xmlns='http://www.w3.org/2000/svg'/>",
    ],
)  # fmt: skip
def test_what_is_no_logo_is_refused(data: bytes) -> None:
    with pytest.raises(Refused):
        logo_of(data)


def test_remarks_of_drawing_programs_are_left_out() -> None:
    data = svg(
        "<!-- by Ida --><metadata>Ida Quill</metadata><o:view zoom='2'/><title>Lath</title>"
        "<defs><linearGradient id='a'><stop offset='0' o:x='Ida'/></linearGradient></defs>"
        "<g o:label='Ida'><path d='M0 0' fill='url(#a)' style='stroke: #000'/></g><text x='1'>A &amp; &lt;b&gt;</text>",
        'width="10mm" height="5mm"',
    )
    clean, kind = logo_of(data)
    assert kind == "svg"
    assert b"Ida" not in clean
    root = ElementTree.fromstring(clean)
    assert root.get("viewBox") == "0 0 10 5"
    assert [element.tag.partition("}")[2] for element in root.iter()] == [
        "svg", "title", "defs", "linearGradient", "stop", "g", "path", "text",
    ]  # fmt: skip
    assert "".join(root.itertext()) == "LathA & <b>"
    assert logo_of(clean) == (clean, "svg")


def test_a_style_sheet_is_written_onto_the_shapes() -> None:
    data = svg(
        "<style>/* by Ida */ .a, .b {fill:#111111;} .b{stroke:url(#g)} path{opacity:.5} #z{fill:#222222}</style>"
        "<linearGradient id='g'/><path class='a b' d='M0 0' style='x:y'/><path id='z' class='a' d='M1 1'/><rect/>"
    )
    clean, _ = logo_of(data)
    assert b"style>" not in clean
    assert b"class" not in clean
    one, other = (e for e in ElementTree.fromstring(clean).iter() if e.tag.endswith("path"))
    # Cascading Style Sheets (W3C, Selectors): a class is more particular than a tag, an id than a class; what stands
    # on the shape itself comes last.
    assert one.get("style") == "opacity:.5;fill:#111111;fill:#111111;stroke:url(#logo-g);x:y"
    assert other.get("style") == "opacity:.5;fill:#111111;fill:#222222"
    assert other.get("id") == "logo-z"
    assert logo_of(clean) == (clean, "svg")


def test_a_png_is_taken_without_text_about_itself() -> None:
    about = PngImagePlugin.PngInfo()
    about.add_text("Author", "Ida Quill")
    stream = io.BytesIO()
    Image.new("RGB", (8, 4), "teal").save(stream, "PNG", pnginfo=about)
    clean, kind = logo_of(stream.getvalue())
    assert kind == "png"
    assert b"Ida" in stream.getvalue()
    assert b"Ida" not in clean
    assert Image.open(io.BytesIO(clean)).size == (8, 4)


@settings(suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(st.binary(max_size=200), st.integers(0, len(SVG)))
def test_damaged_logos_are_refused_in_words(noise: bytes, at: int) -> None:
    try:
        clean, _ = logo_of(SVG[:at] + noise + SVG[at:])
    except EnfiladeError:
        return
    ElementTree.fromstring(clean)


# Fonts


def font(embedding: int = 0, family: str = "Lath") -> bytes:
    made = TTFont(FONT)
    made["OS/2"].fsType = embedding
    for record in made["name"].names:
        if record.nameID in (1, 16, 21):
            record.string = family
    stream = io.BytesIO()
    made.save(stream)
    return stream.getvalue()


@pytest.mark.parametrize("embedding", [0x0000, 0x0004, 0x0008, 0x000A])
def test_fonts_that_may_be_embedded(embedding: int) -> None:
    # OpenType, OS/2, fsType: 0 installable, 2 restricted, 4 preview and print, 8 editable; of several the least
    # restrictive holds. Written and read back by fontTools.
    facts = font_facts(font(embedding))
    assert (facts.embedding, facts.families[0]) == (TTFont(io.BytesIO(font(embedding)))["OS/2"].fsType, "Lath")


@pytest.mark.parametrize(
    ("embedding", "words"),
    [(0x0002, "forbid embedding"), (0x0204, "bitmaps alone"), (0x0104, "only the letters used"), (0x0302, "forbid")],
)
def test_fonts_that_must_not_be_embedded(embedding: int, words: str) -> None:
    with pytest.raises(Refused, match=words):
        font_facts(font(embedding))


@pytest.mark.parametrize("name", ["regular", "semibold", "italic"])
def test_the_names_are_those_that_another_library_reads(name: str) -> None:
    data = (FONT.parent / f"enfilade-text-{name}.ttf").read_bytes()
    names = TTFont(io.BytesIO(data))["name"]
    assert font_facts(data).families[0] == names.getBestFamilyName()
    assert set(font_facts(data).families) >= {names.getDebugName(1)}


def test_a_font_of_another_script(home: Path) -> None:
    assert font_facts(font(family="\u6728\u821f")).families == ("\u6728\u821f",)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "no font"), (b"wOF2" + b"\x00" * 40, "a web font"), (b"ttcf" + b"\x00" * 40, "a collection"),
        (b"\x00\x01\x00\x00", "damaged"), (struct.pack(">4sHHHH", b"OTTO", 0, 0, 0, 0), "lacks its table"),
        (FONT.read_bytes()[:2000], "cut short"),
    ],
)  # fmt: skip
def test_what_is_no_whole_font_is_refused(data: bytes, words: str) -> None:
    with pytest.raises(Refused, match=words):
        font_facts(data)


@given(st.data())
def test_damaged_fonts_are_refused_in_words(data: st.DataObject) -> None:
    whole = bytearray(FONT.read_bytes()[:4000])
    for place in data.draw(st.lists(st.integers(0, 600), max_size=8)):
        whole[place] = data.draw(st.integers(0, 255))
    with pytest.raises(Refused):
        font_facts(bytes(whole))
