"""The editable deck, as whoever fills it sees it."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any, Final
from xml.sax.saxutils import escape

from enfilade.export.office.deck_frame import FRAMES, LAYOUTS
from enfilade.export.office.deck_text import Block, columns_on_slides, title_fit
from enfilade.export.office.pictures import Shown
from enfilade.export.office.text import paragraphs, plain, shortened

__all__ = ["Deck"]

_POINTS: Final = 72
_EMU: Final = 914_400
_GREY: Final = "5A5A5A"
_CONTINUED: Final = " (continued)"


class Deck:
    """A deck that is being filled.

    Args:
        presentation: A deck of python-pptx with the layouts of `deck_frame`.
        footer: What stands at the foot of each slide.
    """

    def __init__(self, presentation: Any, footer: str) -> None:
        self.presentation = presentation
        self._footer = shortened(plain(footer), 150)
        self._columns = {
            name: [frame for kind, index, frame in holders if index]
            for name, (_, holders) in LAYOUTS.items()
        }  # fmt: skip

    def slides(self, layout: str, title: str, *columns: Sequence[Block]) -> list[Any]:
        """Put text on as many slides as it takes, and return them; without text there is one, for a picture.

        Args:
            layout: A name of `LAYOUTS`.
            title: Said on each, with `(continued)` from the second on.
            columns: What stands in each of its frames.
        """
        frames = self._columns[layout]
        widths = [FRAMES[frame][2] * _POINTS for frame in frames]
        height = min(FRAMES[frame][3] for frame in frames) * _POINTS
        told = columns_on_slides([*columns, *[[]] * (len(frames) - len(columns))], widths, height)
        made = []
        for n, parts in enumerate(told):
            slide = self._slide(layout, title + (_CONTINUED if n else ""))
            for index, blocks in enumerate(parts, 1):
                _fill(slide, index, blocks)
            made.append(slide)
        return made

    def picture(self, slide: Any, shown: Shown, frame: str, *, number: int = 0, of: int = 1) -> None:
        """Put a picture into a frame, or into one of several equal parts of it from left to right."""
        left, top, wide, high = FRAMES[frame]
        share = wide / of
        x = left + share * number + (share - shown.width_in) / 2
        y = top + max(0.0, (high - shown.height_in) / 2)
        at = [round(side * _EMU) for side in (x, y, shown.width_in, shown.height_in)]
        placed = slide.shapes.add_picture(io.BytesIO(shown.data), *at)
        said = placed._element.nvPicPr.cNvPr
        said.set("descr", shortened(plain(shown.alternative), 2000))
        said.set("name", f"Picture {placed.shape_id}")
        # Footer and number are read last.
        for foot in [one for one in slide.shapes if one.is_placeholder and one.placeholder_format.idx in (11, 12)]:
            foot._element.getparent().append(foot._element)

    def notes(self, slide: Any, texts: Sequence[str]) -> None:
        """Write what is said to a slide into its notes."""
        lines = [line for text in texts for line in paragraphs(text)]
        if lines:
            slide.notes_slide.notes_text_frame.text = "\n".join(lines)

    def _slide(self, layout: str, title: str) -> Any:
        place, holders = LAYOUTS[layout]
        slide = self.presentation.slides.add_slide(self.presentation.slide_master.slide_layouts[place])
        _, _, wide, high = FRAMES[holders[0][2]]
        cover = layout == "Cover"
        text, size = title_fit(title, wide * _POINTS, high * _POINTS)
        if cover and size == 28.0 and len(text) < 60:
            size = 44.0 if len(text) < 34 else 36.0
        frame = slide.shapes.title.text_frame
        frame.text = text
        _sized(frame.paragraphs[0], size, size * 1.1)
        tree = slide.shapes._spTree
        for markup in () if cover else (_footer_markup(self._footer), _number_markup()):
            tree.append(_parsed(markup))
        return slide


def _fill(slide: Any, index: int, blocks: Sequence[Block]) -> None:
    holder = next(one for one in slide.placeholders if one.placeholder_format.idx == index)
    if not blocks:
        holder._element.getparent().remove(holder._element)  # an empty one would ask to be filled
        return
    frame = holder.text_frame
    for n, block in enumerate(blocks):
        line = frame.paragraphs[0] if n == 0 else frame.add_paragraph()
        line.level = 1 if block.bullet else 0
        line.text = block.text
        _sized(line, block.size, block.pitch, before=block.before if n else 0.0)
        _coloured(line.runs[0] if line.runs else None, block)


def _sized(line: Any, size: float, pitch: float, before: float = 0.0) -> None:
    from pptx.util import Pt

    # An exact pitch: lines stand as far apart as was measured, whichever face is there.
    line.line_spacing, line.space_before, line.space_after = Pt(pitch), Pt(before), Pt(0)
    for run in line.runs:
        run.font.size = Pt(size)


def _coloured(run: Any, block: Block) -> None:
    from pptx.dml.color import RGBColor
    from pptx.enum.dml import MSO_THEME_COLOR

    if run is None:
        return
    run.font.bold = block.bold or None
    if block.tone == "accent":
        run.font.color.theme_color = MSO_THEME_COLOR.ACCENT_1
    elif block.tone == "grey":
        run.font.color.rgb = RGBColor.from_string(_GREY)


def _parsed(markup: str) -> Any:
    from pptx.oxml import parse_xml

    return parse_xml(markup)


_OPEN: Final = (
    '<p:sp xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" '
    'xmlns:p="http://schemas.openxmlformats.org/presentationml/2006/main"><p:nvSpPr>'
)

_SMALL: Final = (
    f'<a:rPr sz="1000"><a:solidFill><a:srgbClr val="{_GREY}"/></a:solidFill><a:latin typeface="+mn-lt"/></a:rPr>'
)


def _footer_markup(text: str) -> str:
    return (
        f'{_OPEN}<p:cNvPr id="900" name="Footer"/><p:cNvSpPr><a:spLocks noGrp="1"/></p:cNvSpPr>'
        '<p:nvPr><p:ph type="ftr" sz="quarter" idx="11"/></p:nvPr></p:nvSpPr><p:spPr/>'
        f'<p:txBody><a:bodyPr/><a:lstStyle/><a:p><a:pPr algn="l"/><a:r>{_SMALL}<a:t>{escape(text)}</a:t></a:r></a:p>'
        "</p:txBody></p:sp>"
    )


def _number_markup() -> str:
    return (
        f'{_OPEN}<p:cNvPr id="901" name="Slide number"/><p:cNvSpPr><a:spLocks noGrp="1"/></p:cNvSpPr>'
        '<p:nvPr><p:ph type="sldNum" sz="quarter" idx="12"/></p:nvPr></p:nvSpPr><p:spPr/>'
        '<p:txBody><a:bodyPr/><a:lstStyle/><a:p><a:pPr algn="r"/>'
        '<a:fld id="{B6F15528-21DE-4FAA-801E-634DDDAF4B2B}" type="slidenum">'
        f"{_SMALL}<a:t>\u2039#\u203a</a:t></a:fld></a:p></p:txBody></p:sp>"
    )
