"""Pictures drawn anew: turned upright, or made small for a page.

Only bytes that were cut before come here, so that no decoder meets what a stranger wrote about a picture.
"""

from __future__ import annotations

import contextlib
import io
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Final

from enfilade.project.pictures.cut import Cut, damaged

if TYPE_CHECKING:
    from PIL import Image

__all__ = ["small", "upright"]

_WEBP_QUALITY: Final = 92
"""For a WebP picture that must be turned; JPEG keeps the tables of its camera, PNG loses nothing."""
_TURNED: Final = {2: 0, 3: 3, 4: 1, 5: 5, 6: 4, 7: 6, 8: 2}
"""Exif orientation (CIPA DC-008, 4.6.4) to the decoder's own numbers: 0 and 1 mirror, 2 to 4 turn left by quarters."""
_ON_ITS_SIDE: Final = 5
"""From this orientation on rows are columns."""


def upright(cut: Cut, form: str) -> bytes:
    """Return a picture in its own format, drawn anew as its orientation says, or as the first frame of several.

    Args:
        cut: What `cut_jpeg`, `cut_png` or `cut_webp` returned.
        form: JPEG, PNG or WEBP.
    Raises:
        Refused: It cannot be decoded.
    """
    with _decoded(cut.data) as picture:
        options: dict[str, Any] = {"icc_profile": picture.info.get("icc_profile")}
        if form == "JPEG":
            options |= _as_coded(picture, cut.exif.orientation)
        elif form == "WEBP":
            options |= {"quality": _WEBP_QUALITY, "method": 4, "exact": True, "lossless": cut.data[12:16] == b"VP8L"}
        turned = _turned(picture, cut.exif.orientation)
        stream = io.BytesIO()
        turned.save(stream, form, **options)
    return stream.getvalue()


def small(cut: Cut, *, longest_px: int, quality: int) -> bytes:
    """Return a picture as an upright JPEG in sRGB, made so small that no side is longer than `longest_px`.

    Transparent parts become white.

    Raises:
        Refused: It cannot be decoded.
    """
    with _decoded(cut.data, draft_px=longest_px) as picture:
        picture.thumbnail((longest_px, longest_px), reducing_gap=3.0)
        plain = _in_srgb(_turned(picture, cut.exif.orientation))
        stream = io.BytesIO()
        plain.save(stream, "JPEG", quality=quality, optimize=True)
    return stream.getvalue()


@contextlib.contextmanager
def _decoded(data: bytes, draft_px: int | None = None) -> Iterator[Image.Image]:
    from PIL import Image

    try:
        with Image.open(io.BytesIO(data), formats=("PNG", "JPEG", "WEBP")) as picture:
            if draft_px is not None:
                picture.draft(None, (2 * draft_px, 2 * draft_px))
            picture.load()
            yield picture
    except MemoryError:
        raise
    except Exception as error:  # A decoder can fail in any way on bytes that were made to break it.
        raise damaged("it cannot be decoded") from error


def _turned(picture: Image.Image, orientation: int) -> Image.Image:
    from PIL import Image

    if orientation not in _TURNED:
        return picture
    return picture.transpose(Image.Transpose(_TURNED[orientation]))


def _as_coded(picture: Image.Image, orientation: int) -> dict[str, Any]:
    """Return the tables that the camera coded with, so that turning loses as little as coding can."""
    from PIL import JpegImagePlugin

    halved = JpegImagePlugin.get_sampling(picture)
    tables = [list(table) for _, table in sorted(getattr(picture, "quantization", {}).items())]
    if orientation >= _ON_ITS_SIDE:
        tables = [[table[8 * (i % 8) + i // 8] for i in range(64)] for table in tables]
    # Half the colours across and down is the same on its side; half across alone is not.
    options: dict[str, Any] = {"qtables": tables, "subsampling": 2 if halved == 2 else 0}
    if picture.info.get("dpi"):
        options["dpi"] = picture.info["dpi"]
    return options


def _in_srgb(picture: Image.Image) -> Image.Image:
    from PIL import Image, ImageCms

    profile = picture.info.get("icc_profile")
    flat = _on_white(picture)
    if profile:
        with contextlib.suppress(ImageCms.PyCMSError, OSError):
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            shown = ImageCms.profileToProfile(flat, source, ImageCms.createProfile("sRGB"), outputMode="RGB")
            if isinstance(shown, Image.Image):
                flat = shown
    plain = flat.convert("RGB")
    plain.info.clear()
    return plain


def _on_white(picture: Image.Image) -> Image.Image:
    """Return a picture in grey, RGB or CMYK, of 8 bits a sample, with what was transparent on white."""
    from PIL import Image

    if picture.mode.startswith(("I", "F")):  # 16 bits of grey
        return picture.convert("I").point(lambda value: value * (1 / 256)).convert("L")
    if picture.has_transparency_data:
        shown = picture.convert("RGBA")
        ground = Image.new("RGBA", shown.size, "white")
        ground.alpha_composite(shown)
        return ground.convert("RGB")
    return picture if picture.mode in ("L", "RGB", "CMYK") else picture.convert("RGB")
