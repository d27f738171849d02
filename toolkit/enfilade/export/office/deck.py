"""The editable deck, as whoever fills it sees it."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any, Final

from enfilade.export.office.deck_frame import FRAMES, LAYOUTS
from enfilade.export.office.deck_markup import feet_markup, is_foot, parsed, text_markup, title_markup
from enfilade.export.office.deck_text import Block, columns_on_slides, title_fit
from enfilade.export.office.pictures import Shown
from enfilade.export.office.text import paragraphs, plain, shortened

__all__ = ["Deck"]

_POINTS: Final = 72
_EMU: Final = 914_400
_LARGEST: Final = 28.0
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
        return [self._slide(layout, title + (_CONTINUED if n else ""), parts) for n, parts in enumerate(told)]

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
        tree = placed._element.getparent()
        for foot in [one for one in tree if is_foot(one)]:
            tree.append(foot)

    def notes(self, slide: Any, texts: Sequence[str]) -> None:
        """Write what is said to a slide into its notes."""
        lines = [line for text in texts for line in paragraphs(text)]
        if lines:
            slide.notes_slide.notes_text_frame.text = "\n".join(lines)

    def _slide(self, layout: str, title: str, parts: Sequence[Sequence[Block]]) -> Any:
        place, holders = LAYOUTS[layout]
        slide = self.presentation.slides.add_slide(self.presentation.slide_master.slide_layouts[place])
        kind, _, frame = holders[0]
        _, _, wide, high = FRAMES[frame]
        text, size = title_fit(title, wide * _POINTS, high * _POINTS)
        if layout == "Cover" and size == _LARGEST and len(text) < 60:
            size = 44.0 if len(text) < 34 else 36.0
        shapes = [title_markup(kind, text, size)]
        # A frame in which nothing stands is left out: it would ask to be filled.
        shapes += [text_markup(n + 2, holders[n][0], n, blocks) for n, blocks in enumerate(parts, 1) if blocks]
        if layout != "Cover":
            shapes += feet_markup(self._footer)
        tree = slide.shapes._spTree
        for shape in list(tree)[2:]:
            tree.remove(shape)
        for shape in parsed(shapes):
            tree.append(shape)
        return slide
