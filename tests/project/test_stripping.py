"""What leaves the studio in a picture: its pixels and colours, and nothing that a camera or program wrote."""

from __future__ import annotations

import io
import random
import re
import struct
import tracemalloc
import warnings
import zlib
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageCms, ImageStat

from enfilade.errors import Refused
from enfilade.project.pictures.jpeg import MOST_SCANS
from enfilade.project.pictures.png import cut_png
from enfilade.project.stripping import day_taken, shown, stripped, stripped_small
from picture_files import (
    MAKER,
    MARKERS,
    SERIAL,
    camera_jpeg,
    camera_png,
    camera_webp,
    corners,
    exif,
    jpeg_segments,
    parts_of,
    png_chunks,
    riff_chunks,
)
from project_folders import picture

CAMERAS: dict[str, Callable[..., bytes]] = {"JPEG": camera_jpeg, "PNG": camera_png, "WEBP": camera_webp}
FORMS = list(CAMERAS)


def opened(data: bytes) -> Image.Image:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the second view of these files is not whole
        shown_picture = Image.open(io.BytesIO(data))
    with shown_picture:
        shown_picture.load()
        return shown_picture


def difference(one: Image.Image, other: Image.Image) -> float:
    """Return the mean difference of two pictures of one size [levels of 255]."""
    assert one.size == other.size
    return max(ImageStat.Stat(ImageChops.difference(one.convert("RGB"), other.convert("RGB"))).mean)


@pytest.mark.parametrize("form", FORMS)
def test_the_files_of_these_tests_hold_all_that_is_searched_for(form: str) -> None:
    data = CAMERAS[form](6)
    for marker in MARKERS:
        assert marker in data, marker
    found = opened(data).getexif()  # An independent reader finds them too.
    assert found[0x010F].encode() == MAKER
    assert found[0x0112] == 6
    assert found.get_ifd(0x8825)[2] == (51.0, 30.0, 7.0)
    assert found.get_ifd(0x8769)[0xA431].encode() == SERIAL


@pytest.mark.parametrize("orientation", [1, 6])
@pytest.mark.parametrize("form", FORMS)
def test_nothing_that_was_written_about_the_picture_is_left(form: str, orientation: int) -> None:
    out = stripped(CAMERAS[form](orientation))
    for marker in MARKERS:
        assert marker not in out, marker
    seen = opened(out)
    assert seen.format == form
    assert dict(seen.getexif()) == {}
    assert set(seen.info) <= {
        "jfif", "jfif_version", "jfif_unit", "jfif_density", "dpi", "icc_profile", "gamma", "loop", "background",
        "timestamp", "duration",
    }  # fmt: skip
    assert getattr(seen, "n_frames", 1) == 1


def test_of_a_jpeg_only_what_decodes_it_is_left() -> None:
    segments = list(jpeg_segments(stripped(camera_jpeg())))
    assert segments[-1] == (0, b"")
    # T.81, table B.1: SOF0, DHT, SOS, DQT; APP0 of 14 bytes without a small picture (JFIF 1.02); APP2 for colours.
    assert {code for code, _ in segments} == {0, 0xC0, 0xC4, 0xDA, 0xDB, 0xE0, 0xE2}
    (app0,) = [body for code, body in segments if code == 0xE0]
    assert len(app0) == 14
    assert app0[-2:] == b"\0\0"
    assert all(body.startswith(b"ICC_PROFILE\0") for code, body in segments if code == 0xE2)


def test_of_a_png_only_what_decodes_it_is_left() -> None:
    chunks = list(png_chunks(stripped(camera_png())))
    assert [kind for kind, _ in chunks] == [b"IHDR", b"iCCP", b"gAMA", b"IDAT", b"IEND", b"rest"]
    assert chunks[-1][1] == b""
    unpacking = zlib.decompressobj()
    unpacking.decompress(chunks[3][1])
    assert unpacking.unused_data == b""
    assert [kind for kind, _ in png_chunks(stripped(camera_png(moves=True)))][1:3] == [b"iCCP", b"gAMA"]


def test_of_a_webp_only_what_decodes_it_is_left() -> None:
    chunks = list(riff_chunks(stripped(camera_webp())))
    assert [kind for kind, _ in chunks] == [b"VP8X", b"ICCP", b"VP8L", b"rest"]
    assert chunks[0][1][0] == 0x20  # the flag of the profile, and neither Exif, XMP nor movement
    assert chunks[-1][1] == b""
    alpha = camera_webp(picture=corners().convert("RGBA"), lossless=False)
    assert [kind for kind, _ in riff_chunks(stripped(alpha))][:2] == [b"VP8X", b"ICCP"]


@pytest.mark.parametrize("form", FORMS)
def test_an_upright_picture_keeps_its_coding_byte_for_byte(form: str) -> None:
    data = CAMERAS[form]()
    out = stripped(data)
    assert difference(opened(data), opened(out)) == 0
    if form == "PNG":
        packed = b"".join(body for kind, body in parts_of(data) if kind == b"IDAT")
        assert packed.startswith(dict(png_chunks(out))[b"IDAT"])
    else:
        coded = {"JPEG": 0xDA, "WEBP": b"VP8L"}[form]
        assert [part for part in parts_of(out) if part[0] == coded] == [
            part for part in parts_of(data) if part[0] == coded
        ]
    if form == "JPEG":  # the coded picture itself, from the scan's head to the end of the picture
        start = data.index(b"\xff\xda", data.index(b"\xff\xc0", data.index(b"comment")))
        assert data[start : data.index(b"\xff\xd9", start) + 2] == out[out.index(b"\xff\xda") :]


@pytest.mark.parametrize("options", [{"progressive": True}, {"subsampling": 2}, {"restart_marker_rows": 1}])
def test_other_ways_to_code_a_jpeg_keep_every_pixel(options: dict[str, object]) -> None:
    for shape in (corners(), corners().convert("L"), corners().convert("CMYK")):
        data = camera_jpeg(picture=shape, **options)
        assert difference(opened(data), opened(stripped(data))) == 0


# CIPA DC-008, 4.6.4 A, Orientation (recalled): where the stored first row and first column are to be seen. From
# them: the seen corner (across, down) of what is stored at the top left (red) and at the top right (green).
SEEN = {
    1: ((0, 0), (1, 0)), 2: ((1, 0), (0, 0)), 3: ((1, 1), (0, 1)), 4: ((0, 1), (1, 1)),
    5: ((0, 0), (0, 1)), 6: ((1, 0), (1, 1)), 7: ((1, 1), (1, 0)), 8: ((0, 1), (0, 0)),
}  # fmt: skip


@pytest.mark.parametrize("orientation", SEEN)
@pytest.mark.parametrize(("form", "order"), [("JPEG", "<"), ("JPEG", ">"), ("small", ">"), ("PNG", ""), ("WEBP", "")])
def test_what_is_up_is_up_without_the_data_that_said_so(form: str, orientation: int, order: str) -> None:
    data = camera_jpeg(orientation, order) if order else CAMERAS[form](orientation)
    out = opened(stripped_small(data, longest_px=200, quality=95) if form == "small" else stripped(data)).convert("RGB")
    assert out.size == ((48, 32) if orientation < 5 else (32, 48))
    for (across, down), colour in zip(SEEN[orientation], ((255, 0, 0), (0, 255, 0)), strict=True):
        seen = out.getpixel((4 + across * (out.width - 9), 4 + down * (out.height - 9)))
        assert isinstance(seen, tuple)
        assert max(abs(a - b) for a, b in zip(seen, colour, strict=True)) < 12


@pytest.mark.parametrize("subsampling", [0, 1, 2])
@pytest.mark.parametrize("mode", ["RGB", "L", "CMYK"])
def test_turning_a_jpeg_costs_less_than_one_level(subsampling: int, mode: str) -> None:
    soft = Image.linear_gradient("L").resize((96, 64))
    shape = Image.merge("RGB", (soft, soft.transpose(Image.Transpose.ROTATE_180), Image.new("L", (96, 64), 90)))
    data = camera_jpeg(6, picture=shape.convert(mode), subsampling=subsampling)
    turned = opened(data).transpose(Image.Transpose.ROTATE_270)
    assert opened(stripped(data)).mode == mode
    assert difference(turned, opened(stripped(data))) < 1


@pytest.mark.parametrize("form", FORMS)
def test_what_is_stripped_is_not_stripped_again(form: str) -> None:
    for orientation in (1, 6):
        once = stripped(CAMERAS[form](orientation))
        assert stripped(once) == once


def test_wide_colours_are_shown_in_srgb_when_a_picture_is_made_small() -> None:
    # A profile whose red and green are exchanged shows red as green: the numbers must be worked out, not passed on.
    plain = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    exchanged = plain.replace(b"rXYZ", b"????").replace(b"gXYZ", b"rXYZ").replace(b"????", b"gXYZ")
    for form in ("PNG", "JPEG"):
        stream = io.BytesIO()
        Image.new("RGB", (30, 30), "red").save(stream, form, icc_profile=exchanged)
        small = opened(stripped_small(stream.getvalue(), longest_px=20, quality=90))
        red, green, blue = small.getpixel((5, 5))  # type: ignore[misc]
        assert (green > 240, red < 15, blue < 15) == (True, True, True)
        assert "icc_profile" not in small.info


@pytest.mark.parametrize(
    ("mode", "colour", "seen"),
    [
        ("RGBA", (255, 0, 0, 0), 255), ("LA", (0, 0), 255), ("I;16", 128 * 256, 128), ("L", 77, 77), ("1", 1, 255),
        ("P", 0, 0), ("RGBA", (0, 0, 0, 255), 0),
    ],
)  # fmt: skip
def test_every_kind_of_pixel_is_made_small(mode: str, colour: object, seen: int) -> None:
    stream = io.BytesIO()
    Image.new(mode, (64, 40), colour).save(stream, "PNG")  # type: ignore[arg-type]
    small = opened(stripped_small(stream.getvalue(), longest_px=32, quality=90))
    assert (small.size, small.mode, small.format) == ((32, 20), "RGB", "JPEG")
    assert max(abs(level - seen) for level in small.getpixel((16, 10))) <= 1  # type: ignore[union-attr, arg-type]


@pytest.mark.parametrize("form", FORMS)
def test_a_small_picture_holds_no_marker_either(form: str) -> None:
    small = stripped_small(CAMERAS[form](3), longest_px=24, quality=80)
    assert not any(marker in small for marker in MARKERS)
    assert opened(small).size == (24, 16)


def test_a_page_shows_a_small_picture_as_it_is_and_a_large_one_made_small() -> None:
    as_it_is = shown(camera_png(), longest_px=48, quality=80, most_bytes=100_000)
    assert (as_it_is.media, as_it_is.data) == ("image/png", stripped(camera_png()))
    for limits in ({"longest_px": 47, "most_bytes": 100_000}, {"longest_px": 48, "most_bytes": 100}):
        made = shown(camera_png(), quality=80, **limits)
        assert made.media == "image/jpeg"
        assert max(opened(made.data).size) == limits["longest_px"]


def test_the_first_frame_stands_for_a_picture_that_moves() -> None:
    stream = io.BytesIO()
    frames = [Image.new("RGB", (20, 10), colour) for colour in ("red", "blue")]
    frames[0].save(stream, "WEBP", save_all=True, append_images=frames[1:], lossless=True)
    assert opened(stream.getvalue()).n_frames == 2
    still = opened(stripped(stream.getvalue()))
    assert getattr(still, "n_frames", 1) == 1
    assert difference(still, frames[0]) < 3


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("damage", ["cut short", "bytes changed", "Exif cut short"])
def test_damage_is_refused_or_mended_and_never_passed_on(form: str, damage: str) -> None:
    chance = random.Random(7)
    whole = CAMERAS[form](6, picture=corners(16, 16))
    about = exif(6, ">" if form == "PNG" else "<")
    for _ in range(150):
        data = bytearray(whole)
        if damage == "cut short":
            del data[chance.randrange(len(data)) :]
        elif damage == "Exif cut short":
            at = data.index(about)
            start = at + chance.randrange(8, len(about) - 9)
            data[start : start + 8] = chance.randbytes(8)
        else:
            for _ in range(chance.randrange(1, 12)):
                data[chance.randrange(len(data))] = chance.randrange(256)
        for work in (stripped, day_taken, lambda given: stripped_small(given, longest_px=8, quality=70)):
            try:
                out = work(bytes(data))
            except Refused:
                continue
            if isinstance(out, bytes):
                assert not any(marker in out for marker in (MAKER, SERIAL, b"qqplace"))


@pytest.mark.parametrize("form", FORMS)
def test_a_picture_that_breaks_off_is_refused_by_name(form: str) -> None:
    whole = stripped(CAMERAS[form]())
    for length in range(len(whole) // 2, len(whole)):
        with pytest.raises(Refused, match=r"damaged|no picture"):
            stripped(whole[:length])


@given(st.integers(1, 70), st.integers(1, 70), st.integers(1, 8), st.sampled_from(FORMS))
@settings(max_examples=40, deadline=None)
def test_of_any_size_and_turn_a_picture_keeps_its_sides_and_loses_its_data(
    width: int, height: int, orientation: int, form: str
) -> None:
    out = stripped(CAMERAS[form](orientation, picture=corners(width, height)))
    assert opened(out).size == ((width, height) if orientation < 5 else (height, width))
    assert not any(marker in out for marker in MARKERS)
    assert stripped(out) == out


def test_a_picture_that_does_not_decode_is_not_put_on_a_page() -> None:
    data = bytearray(picture(64, 48, "JPEG"))
    start = data.index(b"\xff\xc4") + 5  # a table of codes that no coder could have made (T.81, annex C)
    data[start : start + 16] = bytes([0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, sum(data[start : start + 16])])
    data[start] = data[start + 15]
    data[start + 15] = 0
    with pytest.raises(Refused, match="damaged"):
        shown(bytes(data), longest_px=100, quality=80, most_bytes=100_000)


def jpeg_of(*segments: bytes) -> bytes:
    plain = picture(form="JPEG")
    return plain[:2] + b"".join(segments) + plain[2:]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (jpeg_of(b"\xff\xfe\0\x02" * 200_000), "segments"),
        (jpeg_of(b"\xff\xd8"), "second picture"),
        (jpeg_of(b"\xff\xfe\0\x01"), "inside a segment|no picture"),
        (picture(form="JPEG")[:-2] + b"\xff" * 3_000_000, "breaks off"),
        (picture(form="JPEG")[:-2] + b"\xff\x00" * 3_000_000, "breaks off"),
        (b"GIF89a" + bytes(40), "a GIF picture"),
        (b"\0\0\0\x18ftypheic" + bytes(40), "a HEIC picture.*JPEG"),
        (b"", "no picture"),
    ],
)  # fmt: skip
def test_hostile_files_are_refused_in_words(data: bytes, words: str) -> None:
    with pytest.raises(Refused) as refusal:
        stripped(data)
    assert re.search(words, str(refusal.value)), str(refusal.value)


def test_a_jpeg_of_too_many_passes_is_refused() -> None:
    stream = io.BytesIO()
    corners().save(stream, "JPEG", progressive=True)
    data = stream.getvalue()
    start = data.index(b"\xff\xda")
    end = data.index(b"\xff", start + 2)
    scan = data[start:end]
    assert stripped(data)
    with pytest.raises(Refused, match=f"at most {MOST_SCANS}"):
        stripped(data[:-2] + scan * (MOST_SCANS + 1) + b"\xff\xd9")


def test_a_png_that_unpacks_to_more_than_its_picture_is_refused_without_unpacking_it() -> None:
    chunks = list(png_chunks(picture(4, 4)))
    packed = zlib.compress(bytes(300_000_000), 9)

    def chunk(kind: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))

    start = b"\x89PNG\r\n\x1a\n" + chunk(*chunks[0])
    bomb = start + chunk(b"IDAT", packed) + chunk(b"IEND", b"")
    quiet = start + chunk(b"iCCP", b"p\0\0" + packed) + b"".join(chunk(*one) for one in chunks[1:3])
    tracemalloc.start()
    try:
        with pytest.raises(Refused, match="not as large"):
            stripped(bomb)
        with pytest.raises(Refused):
            stripped(quiet)
        assert cut_png(quiet).data.count(b"iCCP") == 0
        assert tracemalloc.get_traced_memory()[1] < 40_000_000
    finally:
        tracemalloc.stop()


def test_a_png_with_a_wrong_check_sum_is_refused_where_it_matters() -> None:
    data = bytearray(picture(8, 8))
    at = data.index(b"IDAT")
    data[at + 6] ^= 1
    with pytest.raises(Refused, match=r"check sum|no picture"):
        stripped(bytes(data))
