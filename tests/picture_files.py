"""Picture files made byte by byte, with everything in them that cameras, telephones and programs write.

Each piece of such data holds a marker of its own, so that a test can search for it. JPEG: ITU-T T.81,
annex B; Exif: CIPA DC-008, 4.5 and 4.6; several pictures: CIPA DC-007; PNG: PNG specification, third
edition, clauses 5 and 11; WebP: RFC 9649, 2.4 to 2.7; profiles: ICC.1:2022, clause 7 (all recalled).
"""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Iterator

from PIL import Image, ImageCms

__all__ = [
    "MAKER", "MARKERS", "SERIAL", "camera_jpeg", "camera_png", "camera_webp", "corners", "exif", "jpeg_segments",
    "parts_of", "png_chunks", "profile_of_a_screen", "riff_chunks",
]  # fmt: skip

MAKER, MODEL, SERIAL, PLACE, NOTE = b"qqmaker", b"qqmodel", b"qqserial", b"qqplace", b"qqnote"
MARKERS = (MAKER, MODEL, SERIAL, PLACE, NOTE, b"1961:04:12", b"1961", b"qq")
TAKEN = b"1961:04:12 06:07:00\0"


def corners(width: int = 48, height: int = 32) -> Image.Image:
    """Return a picture whose stored corners are red (first row and column), green (end of row), blue, white."""
    picture = Image.new("RGB", (width, height))
    half = (width // 2, height // 2)
    for box, colour in (
        ((0, 0, *half), "red"),
        ((half[0], 0, width, half[1]), "lime"),
        ((0, half[1], half[0], height), "blue"),
        ((*half, width, height), "white"),
    ):
        picture.paste(colour, box)
    return picture


def exif(orientation: int = 1, order: str = "<", *, taken: bytes = TAKEN, small: bytes = b"") -> bytes:
    """Return Exif data with maker, model, serial number, place and a small picture, from its byte-order mark on."""
    degrees = struct.pack(order + "6I", 51, 1, 30, 1, 7, 1)
    place = _folder(order, [(1, 2, b"N\0"), (2, 5, degrees), (3, 2, b"E\0"), (4, 5, degrees), (0x1B, 7, PLACE)])
    camera = _folder(order, [(0x9003, 2, taken), (0xA431, 2, SERIAL + b"\0"), (0x927C, 7, NOTE)])
    first = [
        (0x010F, 2, MAKER + b"\0"),
        (0x0110, 2, MODEL + b"\0"),
        (0x0112, 3, struct.pack(order + "H", orientation)),
        (0x0132, 2, taken),
        (0x8769, 4, camera),
        (0x8825, 4, place),
    ]
    head = b"II*\0" if order == "<" else b"MM\0*"
    return head + struct.pack(order + "I", 8) + _laid(order, first, 8) + small


def _folder(order: str, entries: list[tuple[int, int, bytes]]) -> tuple[str, list[tuple[int, int, bytes]]]:
    return order, entries


def _laid(order: str, entries: list[tuple[int, int, bytes | tuple]], at: int) -> bytes:  # type: ignore[type-arg]
    """Lay out a folder of tags at a place in the file; folders within it follow it."""
    sizes = {2: 1, 3: 2, 4: 4, 5: 8, 7: 1}
    table, behind = struct.pack(order + "H", len(entries)), b""
    start = at + 2 + 12 * len(entries) + 4
    for tag, kind, value in entries:
        here = start + len(behind)
        if isinstance(value, tuple):
            behind += _laid(value[0], value[1], here)
            table += struct.pack(order + "HHII", tag, kind, 1, here)
        elif len(value) <= 4:
            table += struct.pack(order + "HHI", tag, kind, len(value) // sizes[kind]) + value.ljust(4, b"\0")
        else:
            behind += value + bytes(len(value) % 2)
            table += struct.pack(order + "HHII", tag, kind, len(value) // sizes[kind], here)
    return table + bytes(4) + behind


def profile_of_a_screen() -> bytes:
    """Return a working colour profile that also says which screen it was measured on, in a private tag."""
    plain = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    (count,) = struct.unpack_from(">I", plain, 128)
    named = b"mmod\0\0\0\0" + MAKER + MODEL + SERIAL + bytes(3)
    table = bytearray(plain[132 : 132 + 12 * count])
    for i in range(count):  # One more row in the table moves everything behind it.
        struct.pack_into(">I", table, 12 * i + 4, struct.unpack_from(">I", table, 12 * i + 4)[0] + 12)
    body = plain[132 + 12 * count :]
    row = struct.pack(">4sII", b"mmod", len(plain) + 12, len(named))
    whole = bytearray(plain[:128] + struct.pack(">I", count + 1) + bytes(table) + row + body + named)
    struct.pack_into(">I", whole, 0, len(whole))
    whole[48:56] = b"qqMaqqMo"
    whole[80:84] = b"qqCr"
    return bytes(whole)


def _xmp() -> bytes:
    return (
        b"<x:xmpmeta><rdf:Description exif:GPSLatitude='"
        + PLACE
        + b"' aux:SerialNumber='"
        + SERIAL
        + b"'/></x:xmpmeta>"
    )


def camera_jpeg(
    orientation: int = 1, order: str = "<", picture: Image.Image | None = None, *, taken: bytes = TAKEN,
    **options: object,
) -> bytes:  # fmt: skip
    """Return a JPEG as a telephone writes it, and more: every segment in which something can be told."""
    shown = picture or corners()
    stream = io.BytesIO()
    shown.save(stream, "JPEG", **{"quality": 90, "subsampling": 0, **options})  # type: ignore[arg-type]
    plain = stream.getvalue()
    second = io.BytesIO()
    Image.new("RGB", (8, 8), "gray").save(second, "JPEG")
    hidden = second.getvalue()[:2] + _segment(0xE1, b"Exif\0\0" + exif(1, order)) + second.getvalue()[2:]
    screen = profile_of_a_screen()
    told = [
        _segment(0xE0, b"JFIF\0" + bytes((1, 2, 1)) + struct.pack(">HHBB", 72, 72, 2, 2) + b"qqsmallqqsma"),
        _segment(0xE0, b"JFXX\0\x10" + hidden),
        _segment(0xE1, b"Exif\0\0" + exif(orientation, order, taken=taken, small=hidden)),
        _segment(0xE1, b"a packet of XMP\0" + _xmp()),
        _segment(0xE1, b"more of the packet\0" + bytes(40) + _xmp()),
        _segment(0xE2, b"ICC_PROFILE\0\x02\x02" + screen[1000:]),
        _segment(0xE2, b"ICC_PROFILE\0\x01\x02" + screen[:1000]),
        _segment(0xE2, b"MPF\0" + NOTE),
        _segment(0xEB, b"JP\0\x01" + NOTE),
        _segment(0xED, b"a holder of IPTC\0" + b"8BIM\x04\x04\0\0\0\0\0\x0c\x1c\x02\x5a\0\x07" + PLACE),
        _segment(0xEF, NOTE),
        _segment(0xFE, b"comment " + NOTE),
    ]
    (length,) = struct.unpack_from(">H", plain, 4)
    rest = plain[4 + length :]  # behind the library's own APP0
    return plain[:2] + b"".join(told) + rest + hidden + b"trailer " + SERIAL


def _segment(code: int, body: bytes) -> bytes:
    return struct.pack(">BBH", 0xFF, code, len(body) + 2) + body


def jpeg_segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Yield code and content of a JPEG's segments, and under code 0 the bytes behind its end (T.81, B.1 and B.2)."""
    assert data[:2] == b"\xff\xd8"
    at = 2
    while True:
        assert data[at] == 0xFF, hex(at)
        code = data[at + 1]
        if code == 0xD9:
            yield 0, data[at + 2 :]
            return
        length = data[at + 2] * 256 + data[at + 3]
        yield code, data[at + 4 : at + 2 + length]
        at += 2 + length
        while code == 0xDA and not (data[at] == 0xFF and data[at + 1] not in (0, *range(0xD0, 0xD8))):
            at += 1


def camera_png(orientation: int = 1, picture: Image.Image | None = None, *, moves: bool = False) -> bytes:
    """Return a PNG with every chunk in which something can be told, and bytes behind the picture and the file."""
    stream = io.BytesIO()
    (picture or corners()).save(stream, "PNG")
    chunks = list(png_chunks(stream.getvalue()))
    coded = b"".join(body for kind, body in chunks if kind == b"IDAT")
    told = [
        (b"iCCP", b"qqscreen\0\0" + zlib.compress(profile_of_a_screen())),
        (b"gAMA", struct.pack(">I", 45455)),
        (b"tEXt", b"Author\0" + MAKER),
        (b"zTXt", b"Comment\0\0" + zlib.compress(NOTE)),
        (b"iTXt", b"XML:packet\0\0\0\0\0" + _xmp()),
        (b"eXIf", exif(orientation, ">")),
        (b"tIME", struct.pack(">HBBBBB", 1961, 4, 12, 6, 7, 0)),
        (b"prVt", NOTE),
        *([(b"acTL", struct.pack(">II", 1, 0))] if moves else []),
    ]
    whole = [chunks[0], *told, (b"IDAT", coded[:40]), (b"IDAT", coded[40:] + NOTE), (b"tEXt", b"Late\0" + PLACE)]
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(*one) for one in [*whole, (b"IEND", b"")]) + b"trailer " + SERIAL


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png_chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Yield name and content of a PNG's chunks, and under `rest` the bytes behind its end (clause 5.3)."""
    at = 8
    while True:
        length = int.from_bytes(data[at : at + 4], "big")
        kind = data[at + 4 : at + 8]
        yield kind, data[at + 8 : at + 8 + length]
        at += 12 + length
        if kind == b"IEND":
            yield b"rest", data[at:]
            return


def camera_webp(orientation: int = 1, picture: Image.Image | None = None, *, lossless: bool = True) -> bytes:
    """Return a WebP file in its extended format with Exif, XMP, a profile, an unknown chunk, and bytes behind it."""
    shown = picture or corners()
    stream = io.BytesIO()
    shown.save(stream, "WEBP", lossless=lossless, quality=95)
    coded = [one for one in riff_chunks(stream.getvalue()) if one[0] in (b"VP8 ", b"VP8L", b"ALPH")]
    flags = 0x20 | 0x08 | 0x04 | (0x10 if shown.mode == "RGBA" else 0)
    size = b"".join((side - 1).to_bytes(3, "little") for side in shown.size)
    chunks = [
        (b"VP8X", bytes((flags, 0, 0, 0)) + size),
        (b"ICCP", profile_of_a_screen()),
        *coded,
        (b"EXIF", exif(orientation)),
        (b"XMP ", _xmp()),
        (b"qqun", NOTE),
    ]
    body = b"WEBP" + b"".join(k + struct.pack("<I", len(b)) + b + bytes(len(b) % 2) for k, b in chunks)
    return b"RIFF" + struct.pack("<I", len(body)) + body + b"trailer " + SERIAL


def riff_chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Yield name and content of a WebP file's chunks, and under `rest` the bytes behind its end (2.3 and 2.4)."""
    end = 8 + int.from_bytes(data[4:8], "little")
    at = 12
    while at < end:
        length = int.from_bytes(data[at + 4 : at + 8], "little")
        yield data[at : at + 4], data[at + 8 : at + 8 + length]
        at += 8 + length + length % 2
    yield b"rest", data[end:]


def parts_of(data: bytes) -> list[tuple[object, bytes]]:
    """Return the parts of a picture file of any of the three formats."""
    if data.startswith(b"\xff\xd8"):
        return list(jpeg_segments(data))
    return list(png_chunks(data) if data.startswith(b"\x89PNG") else riff_chunks(data))
