"""Files that arrive in pieces, because one message to a kernel may not be large."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

from enfilade.capture.sight import text_of
from enfilade.errors import Refused

__all__ = ["PIECE_BYTES", "Uploads"]

PIECE_BYTES: Final = 1024 * 1024
"""Size of a piece as pages send it. The servers that carry messages end a connection over 10 MiB (the web server's
own default, which neither of them changes), and a slow line must not leave a page without an answer for long."""
_LARGEST_PIECE_BYTES: Final = 4 * PIECE_BYTES
_AT_ONCE: Final = 3
_AGAIN: Final = "add the file again"


@dataclass
class _Arriving:
    data: bytearray
    pieces: int = 0


class Uploads:
    """Files that have begun to arrive, held in memory until they are whole.

    Args:
        largest_bytes: What one file may have.
    """

    def __init__(self, largest_bytes: int) -> None:
        self._largest_bytes = largest_bytes
        self._arriving: dict[str, _Arriving] = {}

    def taken(self, message: dict[str, Any]) -> bytes | None:
        """Take the next piece, and return the file when it was the last one.

        Args:
            message: `upload` (a name for the file, made by the page), `index` of the piece from 0, `last`, and the
                piece as the only one of `buffers`.
        Raises:
            Refused: A piece is missing or too large, or the file is; what had arrived of it is let go.
        """
        upload, index = text_of(message, "upload", longest=80), message.get("index")
        arriving = self._arriving.pop(upload, None)
        if index == 0 and not isinstance(index, bool):
            arriving = _Arriving(bytearray())
        buffers = message.get("buffers")
        if arriving is None or arriving.pieces != index or not isinstance(buffers, list) or len(buffers) != 1:
            raise Refused("a piece of the file did not arrive", do=_AGAIN)
        if len(buffers[0]) > _LARGEST_PIECE_BYTES:
            raise Refused("a piece of the file is too large", do="load the page again")
        if len(arriving.data) + len(buffers[0]) > self._largest_bytes:
            raise Refused("the file is too large", expected=f"at most {self._largest_bytes // 1_048_576} MB")
        arriving.data += buffers[0]
        arriving.pieces += 1
        if message.get("last") is True:
            return bytes(arriving.data)
        self._arriving[upload] = arriving
        while len(self._arriving) > _AT_ONCE:  # Whoever closed a window in between will not send the rest.
            del self._arriving[next(iter(self._arriving))]
        return None
