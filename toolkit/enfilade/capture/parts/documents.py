"""The documents of the walkthrough: for whom, where they lie, and the page itself to be looked at.

The pages write no documents themselves: whoever opens the page hands over what writes them (see `open_page`).
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.houses import beside
from enfilade.capture.sight import Sight, text_of
from enfilade.editing.quoting import quoted
from enfilade.errors import Refused
from enfilade.files import read_bytes
from enfilade.project.fields import AUDIENCES

NAME = "documents"

Writer = Callable[..., list[Path]]

_FOR: Final = {
    "client": ("The client", "everything but the studio’s own notes"),
    "public": ("Anybody", "no names, no address, no prices, nothing that tells how the house is secured"),
    "student": ("Students", "reasons and working first; no names and no prices"),
    "studio": ("The studio", "everything"),
}
_writers: list[Writer] = []


def written_by(write: Writer | None) -> None:
    """Say what writes the documents of the page in this kernel: called with a project, `audience` and `out`."""
    _writers[:] = [write] if write else []


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return for whom documents can be written, and which were written on this page."""
    return {
        "audiences": [
            {"value": name, "label": _FOR[name][0], "told": _FOR[name][1], "pages": _lying(desk, name)}
            for name in AUDIENCES
        ],
        "audience": sight.kept.get("audience", "client"),
        "folder": str(beside(desk.folder, "told")),
        "can": bool(_writers),
    }


def write_documents(desk: Desk, sight: Sight, message: dict[str, Any]) -> str:
    """Write the walkthrough for one audience."""
    audience = _audience(message)
    if not _writers:
        raise Refused("no documents can be written from this page", do="open the notebook `tell`")
    sight.kept["audience"] = audience
    written = _writers[0](desk.project, audience=audience, out=_folder(desk, audience))
    return f"Written: {', '.join(str(path) for path in written)}"


def read_document(desk: Desk, sight: Sight, message: dict[str, Any]) -> dict[str, Any]:
    """Return a page that was written, to be shown beside this one."""
    path = _folder(desk, _audience(message)) / "walkthrough.html"
    return {"say": "", "html": read_bytes(path).decode("utf-8", "replace")}


HANDLERS = {"write documents": write_documents, "read document": read_document}


def _audience(message: dict[str, Any]) -> str:
    audience = text_of(message, "audience", longest=20)
    if audience not in AUDIENCES:
        raise Refused(f"there is no audience {quoted(audience)}", expected=", ".join(AUDIENCES))
    return audience


def _folder(desk: Desk, audience: str) -> Path:
    """Return the folder for one audience: the client's is that of the command, so that the two never differ."""
    told = beside(desk.folder, "told")
    return told if audience == "client" else told / audience


def _lying(desk: Desk, audience: str) -> list[dict[str, str]]:
    path = _folder(desk, audience) / "walkthrough.html"
    return [{"name": "walkthrough", "path": str(path)}] if path.is_file() else []
