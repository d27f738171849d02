"""The documents of the walkthrough: for whom, in which forms, where they lie, and the files to be looked at.

The pages write no documents themselves: whoever opens the page hands over what writes them (see `open_page`).
"""

from __future__ import annotations

import base64
import datetime as dt
import os
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, Protocol

from enfilade.capture.desk import Desk
from enfilade.capture.houses import beside
from enfilade.capture.line_faults import line_faults
from enfilade.capture.sight import Sight, text_of
from enfilade.capture.telling import told_now
from enfilade.editing.forms.forms import Field, Forms
from enfilade.editing.forms.offers import Offers
from enfilade.editing.quoting import quoted
from enfilade.errors import NotFound, Refused
from enfilade.files import read_bytes
from enfilade.project.audience import for_audience
from enfilade.project.fields import AUDIENCES, Audience
from enfilade.project.issues import FOLDER as ISSUED
from enfilade.project.issues import Issue, Issued, as_kept, issued_to
from enfilade.times import day_words, when_words

__all__ = ["HANDLERS", "NAME", "QUIET", "read_document", "shown", "write_documents", "written_by"]

NAME: Final = "documents"

Writer = Callable[..., list[Path]]


class _Form(Protocol):
    """A form that documents can be written in."""

    @property
    def name(self) -> str: ...
    @property
    def words(self) -> str: ...


@dataclass(frozen=True)
class _Plain:
    name: str
    words: str


_FOR: Final = {
    "client": ("The client", "everything but the studio’s own notes"),
    "public": ("The public", "no names, no address, no prices, nothing that tells how the house is secured"),
    "student": ("Students", "reasons and working first; no names and no prices"),
    "studio": ("The studio", "everything"),
}
_PAGE: Final = "walkthrough.html"
_ALONE: Final = (_Plain("html", "the walkthrough, for a browser"),)
"""What is written where nobody says which forms there are."""
_LOOKED_AT: Final = {
    ".pdf": "application/pdf", ".vtt": "text/plain", ".srt": "text/plain", ".csv": "text/plain", ".txt": "text/plain",
    ".ics": "text/plain", ".png": "image/png",
}  # fmt: skip
"""Files that a browser shows by itself, beside pages; others are saved."""
_NAMED: Final = {
    "walkthrough.html": "the walkthrough", "speaker.html": "the speaker’s page", "prompt.html": "the prompting page",
    "slides.html": "the slides",
}  # fmt: skip
_BORNE: Final = ("version", "date")
_writers: list[Writer] = []
_forms: list[_Form] = [*_ALONE]


def written_by(write: Writer | None, forms: Iterable[_Form] = ()) -> None:
    """Say what writes the documents of the page in this kernel.

    Args:
        write: Called with a project, and `to`, `audience`, `out`, `issue` and `progress` as `enfilade.tell` takes them.
        forms: The forms that it writes, each with a `name` and `words`; none: the page for a browser alone.
    """
    _writers[:] = [write] if write else []
    _forms[:] = [*forms] or [*_ALONE]


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return for whom documents can be written, in which forms, and which lie there."""
    written = sight.kept.get("written", {})
    return {
        "audiences": [
            {
                "value": name,
                "label": _FOR[name][0],
                "told": _FOR[name][1],
                "folder": str(_folder(desk, name)),
                "files": _lying(desk, name, written.get(name, ())),
                "issued": _issued_words(desk, sight, name),
                "again": _again(desk, sight, name) is not None,
            }
            for name in AUDIENCES
        ],
        "audience": sight.kept.get("audience", "client"),
        "forms": [{"value": one.name, "label": one.words[:1].upper() + one.words[1:]} for one in _forms],
        "chosen": sight.kept.get("forms", [one.name for one in _forms[:1]]),
        "can": bool(_writers),
        "borne": _borne(desk),
        "state": _state(desk, sight),
        "faults": line_faults(told_now(desk, sight), sight),
    }


def write_documents(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Write the walkthrough for one audience, in the forms that are asked for."""
    audience, forms = _audience(message), _asked(message)
    if not _writers:
        raise Refused("no documents can be written from this page", do="open the notebook `tell`")
    issue = message.get("issue") is True
    sight.kept["audience"], sight.kept["forms"] = audience, forms
    written = _writers[0](
        desk.project, to=forms, audience=audience, out=_folder(desk, audience), issue=issue, progress=sight.progress
    )
    sight.kept.setdefault("written", {})[audience] = tuple(path.name for path in written)
    many = f"{len(written)} file{'' if len(written) == 1 else 's'} written"
    return f"{many} and issued to {_FOR[audience][0].lower()}" if issue else many


def read_document(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Return a file that was written: a page as its text, to be shown beside this one, any other as base64."""
    audience, name = _audience(message), message.get("name", _PAGE)
    folder = _folder(desk, audience)
    if not isinstance(name, str) or name not in {path.name for path in _files(folder)}:
        raise NotFound("this file is not there any more", do="write it again")
    data = read_bytes(folder / name)
    if name.endswith(".html"):
        return {"say": "", "html": data.decode("utf-8", "replace")}
    kind = _LOOKED_AT.get(Path(name).suffix, "application/octet-stream")
    return {"say": "", "base64": base64.b64encode(data).decode("ascii"), "type": kind, "name": name}


def _issued_before(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Tell whether what an audience would be told now differs from what it was told under the same version.

    It is asked for, since making the copy for an audience takes too long to be done at every letter that is typed.
    """
    audience = _audience(message)
    last = _again(desk, sight, audience)
    if last is None or as_kept(for_audience(desk.project, audience)) == last.project:
        return {"say": "", "words": ""}
    on = f" on {day_words(last.date)}" if last.date else " before"
    return {"say": "", "words": f"Version {last.version} was issued{on}; what is written now differs from it."}


HANDLERS: Final = {
    "write documents": write_documents,
    "read document": read_document,
    "issued before": _issued_before,
}
QUIET: Final = ("read document", "issued before")


def _borne(desk: Desk) -> list[Field]:
    """Return the fields of what every document bears."""
    forms = Forms(desk.project, Offers(desk.project), desk.drafts)
    return [forms.field(("show", name)) | {"help": "", "told": ""} for name in _BORNE]


def _state(desk: Desk, sight: Sight) -> int:
    """Return a number that is another one once the house, or what was issued of it, is another."""
    number, project, stamp = sight.kept.get("documents state", (0, None, None))
    now = _issued_stamp(desk)
    if project is not desk.project or stamp != now:
        number += 1
        sight.kept["documents state"] = (number, desk.project, now)
    return int(number)


def _audience(message: dict[str, Any]) -> Audience:
    audience = text_of(message, "audience", longest=20)
    for one in AUDIENCES:
        if one == audience:
            return one
    raise Refused(f"there is no audience {quoted(audience)}", expected=", ".join(AUDIENCES))


def _asked(message: dict[str, Any]) -> list[str]:
    """Return the forms that a message asks for, in their order; the first one when it says nothing."""
    asked = message.get("forms")
    if asked is None:
        return [one.name for one in _forms[:1]]
    if not isinstance(asked, list):
        raise Refused("the page sent no forms", do="load the page again")
    found = [one.name for one in _forms if one.name in asked]
    if not found:
        raise Refused("no form is chosen", do="choose at least one")
    return found


def _folder(desk: Desk, audience: str) -> Path:
    """Return the folder for one audience: the client's is that of the command, so that the two never differ."""
    told = beside(desk.folder, "told")
    return told if audience == "client" else told / audience


def _files(folder: Path) -> list[os.DirEntry[str]]:
    try:
        with os.scandir(folder) as found:
            plain = [one for one in found if one.is_file(follow_symlinks=False) and not one.name.startswith(".")]
    except OSError:
        return []
    return sorted(plain, key=lambda one: one.name)


def _lying(desk: Desk, audience: str, written: tuple[str, ...]) -> list[dict[str, Any]]:
    """Return the files that lie in the folder of an audience: those just written first, as they were written."""
    found = {one.name: one for one in _files(_folder(desk, audience))}
    order = [*(name for name in written if name in found), *(name for name in found if name not in written)]
    return [_file(found[name], new=name in written) for name in order]


def _file(entry: os.DirEntry[str], *, new: bool) -> dict[str, Any]:
    state, suffix = entry.stat(follow_symlinks=False), Path(entry.name).suffix
    how = "page" if suffix == ".html" else "look" if suffix in _LOOKED_AT else "save"
    when = dt.datetime.fromtimestamp(state.st_mtime, dt.UTC)
    return {
        "name": entry.name,
        "called": _NAMED.get(entry.name, entry.name),
        "size": _size_words(state.st_size),
        "when": when_words(when),
        "how": how,
        "new": new,
    }


def _size_words(size: int) -> str:
    """Write a size of a file.

    >>> _size_words(900), _size_words(20_480), _size_words(3_400_000)
    ('1 kB', '20 kB', '3.4 MB')
    """
    if size < 999_500:
        return f"{max(1, round(size / 1000))} kB"
    return f"{size / 1_000_000:.1f} MB"


def _again(desk: Desk, sight: Sight, audience: Audience) -> Issue | None:
    """Return the last issue to an audience when it bore the version that would be issued now."""
    last = _last_issued(desk, sight, audience).last
    return last if last is not None and last.version == desk.project.show.version else None


def _issued_words(desk: Desk, sight: Sight, audience: Audience) -> str:
    """Return when the house was last issued to an audience."""
    issued = _last_issued(desk, sight, audience)
    words = list(issued.troubles)
    if issued.last is not None:
        on = f" of {day_words(issued.last.date)}" if issued.last.date else ""
        words.insert(0, f"Last issued: number {issued.last.number}, version {issued.last.version}{on}.")
    return " ".join(words)


def _last_issued(desk: Desk, sight: Sight, audience: Audience) -> Issued:
    """Return the last issue to an audience; looked up again only when the folder has changed."""
    stamp = _issued_stamp(desk)
    if stamp is None:
        return Issued(None)
    known: dict[str, tuple[int, Issued]] = sight.kept.setdefault("issued", {})
    if audience not in known or known[audience][0] != stamp:
        known[audience] = stamp, issued_to(desk.project, audience)
    return known[audience][1]


def _issued_stamp(desk: Desk) -> int | None:
    try:
        return (desk.folder / ISSUED).stat().st_mtime_ns
    except OSError:
        return None
