"""The shot list: one row a shot, for whoever films."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from typing import Final

from enfilade.editing.tables.table_files import guarded
from enfilade.export.document import Document
from enfilade.export.issue import undecided_words
from enfilade.lengths import show_length
from enfilade.trade.lens import picture_on_sensor
from enfilade.walkthrough.film import ShotPart

__all__ = ["COLUMNS", "plain_cell", "write"]

COLUMNS: Final = (
    "shot", "position", "part", "room", "line spoken", "size", "move", "lens", "sensor", "subject", "where",
    "camera x", "camera y", "camera height", "toward x", "toward y", "toward height", "tilt", "shift",
    "also in frame", "blocked by", "seconds", "note", "trouble", "undecided here", "changed here", "version", "date",
)  # fmt: skip

_NOT_IN_XML: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")


def plain_cell(text: str) -> str:
    """Return the text of a cell as a table program shows it, and never as a formula that it works out.

    Characters that no XML 1.0 file may hold, and that a file in UTF-8 cannot, are left out.

    >>> plain_cell("=1+1"), plain_cell("sink, 30 in")
    ("'=1+1", 'sink, 30 in')
    """
    return guarded(_NOT_IN_XML.sub("", text))


def write(document: Document) -> dict[str, bytes]:
    """Return `shots.csv`.

    A row a shot, in the order of the script; the first row names the columns. Fields are parted by commas and quoted
    as RFC 4180 says, rows end in CR LF. It is UTF-8 with a byte order mark: without one, table programs on many
    machines read names with accents wrongly, and readers of CSV are made to skip it. Lengths are in the project's
    units, in a form that is typed back as it stands. A house of which nothing is said gives the names of the columns
    alone.

    A table has no head that other programs would not take for a row. So the issue stands in the last columns of every
    row: its version and date, and what is undecided and what changed in the room of that shot. The storyboard, which is
    written with it, opens with all that is undecided and all that changed.
    """
    text = io.StringIO(newline="")
    rows = csv.writer(text, lineterminator="\r\n")
    rows.writerow(COLUMNS)
    rows.writerows([plain_cell(cell) for cell in row] for row in _rows(document))
    return {"shots.csv": text.getvalue().encode("utf-8-sig")}


def _rows(document: Document) -> Iterator[tuple[str, ...]]:
    sensor, pages = _sensor(document), document.pages
    said = {line.id: (part.title, line) for part in pages.spoken.parts for line in part.lines}
    here = {space.id: _of_room(document, space.id) for space in document.telling.project.spaces}
    for shot in document.film.shots:
        part, line = said.get(shot.line, ("", None))
        camera, toward = _place(document, shot.eye_mm), _place(document, shot.toward_mm)
        yield (
            str(shot.number),
            str(shot.position) if shot.position is not None else "",
            part,
            shot.room,
            line.shown if line else "",
            shot.size,
            shot.move,
            shot.lens,
            sensor if shot.lens else "",
            shot.subject,
            shot.where,
            *camera,
            *toward,
            *_set(shot),
            "; ".join(shot.also),
            "; ".join(shot.blocked_by),
            f"{line.seconds:.1f}" if line else "",
            shot.note,
            shot.trouble,
            *here.get(shot.space, ("", "")),
            pages.version,
            pages.date,
        )


def _of_room(document: Document, space: str) -> tuple[str, str]:
    """Return what is undecided in a room, by whom and by when, and what changed in it since the last issue."""
    numbers = {one.number for one in document.telling.project.decisions if space in one.spaces}
    undecided = [undecided_words(one) for one in document.pages.undecided if one.number in numbers]
    return "; ".join(undecided), " ".join(document.pages.changes.of_room(space))


def _sensor(document: Document) -> str:
    """Return the sensor with the picture on it, such as `36 x 24 mm, 16:9 (36 x 20.25 mm)`."""
    filming = document.telling.project.show.filming
    wide, high = (int(side) for side in filming.picture.split(":"))
    width, height = picture_on_sensor(filming.sensor_width_mm, filming.sensor_height_mm, (wide, high))
    whole = f"{filming.sensor_width_mm:g} x {filming.sensor_height_mm:g} mm"
    return f"{whole}, {filming.picture} ({width:.4g} x {height:.4g} mm)"


def _place(document: Document, place: tuple[float, float, float] | None) -> tuple[str, str, str]:
    if place is None:
        return ("", "", "")
    # With a true minus sign, which is read back too, a length below nought is no formula.
    x, y, height = (show_length(value, document.telling.project.show.units).replace("-", "−") for value in place)
    return x, y, height


def _set(shot: ShotPart) -> tuple[str, str]:
    """Return the tilt and the shift, with the way they go; 0 for a level camera that is not shifted."""
    if shot.eye_mm is None:
        return "", ""
    tilt = f"{abs(shot.pitch_deg):.1f} deg {'up' if shot.pitch_deg > 0 else 'down'}" if shot.pitch_deg else "0"
    shift = f"{abs(shot.shift_mm):.2f} mm {'up' if shot.shift_mm > 0 else 'down'}" if shot.shift_mm else "0"
    return tilt, shift
