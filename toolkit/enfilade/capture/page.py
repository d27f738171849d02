"""The page: one widget that shows parts of a project, and answers what is done on it."""

from __future__ import annotations

import sys
import time
import traceback
from collections.abc import Sequence
from typing import Any

import anywidget
import traitlets

from enfilade.capture.desk import Desk
from enfilade.capture.es_modules import joined, styles
from enfilade.capture.hand import live_state
from enfilade.capture.parts import handlers, parts, quiet
from enfilade.capture.plain_data import plain_data
from enfilade.capture.plain_words import without_marks
from enfilade.capture.sight import Sight
from enfilade.errors import BadRecord, EnfiladeError
from enfilade.files import fingerprint

__all__ = ["Page"]


class Page(anywidget.AnyWidget):
    """Parts of one project on a page.

    Args:
        desk: The project; None shows the questions of a new one until `attach` is called.
        sections: Names of the parts, in their order.
        room: Id of the room to look at first.
        act: Which of the five acts the page belongs to.
    """

    _esm = joined("page.js", "render")
    _css = styles()

    sections = traitlets.List(traitlets.Unicode()).tag(sync=True)
    started = traitlets.Bool(False).tag(sync=True)
    project = traitlets.Unicode("").tag(sync=True)
    act = traitlets.Unicode("measure").tag(sync=True)
    units = traitlets.Unicode("us").tag(sync=True)
    hand = traitlets.Dict().tag(sync=True)
    live = traitlets.Dict().tag(sync=True)
    vars().update({name: traitlets.Dict().tag(sync=True) for name in parts()})

    def __init__(
        self, desk: Desk | None = None, *, sections: Sequence[str] = (), room: str | None = None, act: str = "measure"
    ) -> None:
        super().__init__(sections=list(sections), act=act)
        self.sight = Sight(act=act, room=room, progress=lambda words: self.send({"progress": words}))
        self.desk: Desk | None = None
        self._busy = False
        self.on_msg(self._heard)
        self.observe(self._moved, names="hand")
        if desk is not None:
            self.attach(desk)
        else:
            self.start = parts()["start"].shown(None, self.sight)

    def attach(self, desk: Desk) -> None:
        """Show this project."""
        self.desk = desk
        desk.watch(self._changed)
        self.refresh()
        self.started = True

    def refresh(self) -> None:
        """Show the house as it is now."""
        if self.desk is None:
            self.start = parts()["start"].shown(None, self.sight)
            return
        self.sight.settle(self.desk.project)
        with self.hold_sync():
            self.units = self.desk.project.show.units
            # By folder: the browser keeps under it what nobody answered.
            self.project = fingerprint(str(self.desk.folder.resolve()).encode())[:16]
            for name in self.sections:
                setattr(self, name, self._shown(name))

    def _shown(self, name: str) -> dict[str, Any]:
        try:
            shown: dict[str, Any] = parts()[name].shown(self.desk, self.sight)
        except EnfiladeError as error:
            return {"trouble": str(error)}
        except Exception:  # One part that fails must not take the page along.
            traceback.print_exc(file=sys.stderr)
            return {"trouble": "this part could not be shown; nothing is lost: load the page again"}
        return shown

    def _changed(self) -> None:
        if not self._busy:
            self.refresh()

    def _heard(self, _: object, message: object, buffers: list[Any]) -> None:
        if not isinstance(message, dict) or not isinstance(message.get("do"), str):
            return
        answer = {"reply": message.get("number"), **self.do({**message, "buffers": [bytes(one) for one in buffers]})}
        self.send(answer)

    def do(self, message: dict[str, Any]) -> dict[str, Any]:
        """Do what a message asks, and return the answer: `ok`, `say`, `errors` by place, and what the part adds."""
        do = message.get("do")
        handler = handlers().get(do) if isinstance(do, str) else None
        if handler is None:
            return _refused("the page asked for what is not known", do="load the page again")
        if self.desk is None and do not in parts()["start"].HANDLERS:
            return _refused("no house is open on this page", do="open one first")
        self._busy = True
        try:
            said = handler(self if self.desk is None else self.desk, self.sight, plain_data(message))
        except BadRecord as error:
            return {
                "ok": False,
                "say": "; ".join(without_marks(fault.what) for fault in error.faults[:3]),
                "errors": [_error(fault.what, fault.expected, fault.place) for fault in error.faults],
            }
        except EnfiladeError as error:
            return _refused(error.what, error.expected, error.do)
        except Exception as error:
            traceback.print_exc(file=sys.stderr)
            return _refused(f"this could not be done ({type(error).__name__})", do="nothing was changed")
        finally:
            self._busy = False
            if do not in quiet():
                self.refresh()
        answer = said if isinstance(said, dict) else {"say": said}
        if do in quiet() and answer.get("say"):
            self.refresh()
        return {"ok": True, "errors": [], "say": "", **answer}

    def _moved(self, change: Any) -> None:
        """Judge what is under the hand now; the house itself is changed when it is let go."""
        if self.desk is None or not change["new"]:
            return
        started, held = time.perf_counter(), change["new"]
        try:
            state = live_state(self.desk, self.sight, plain_data(held))
        except EnfiladeError as error:
            state = {"said": str(error), "changes": []}
        except Exception:  # Nothing is changed yet, and what cannot be is said when the hand lets go.
            traceback.print_exc(file=sys.stderr)
            state = {"said": "", "changes": []}
        took = round(1000 * (time.perf_counter() - started), 1)
        seq = held.get("seq")
        self.live = {**state, "seq": seq if isinstance(seq, int) else 0, "took_ms": took}


def _refused(what: str, expected: str = "", do: str = "") -> dict[str, Any]:
    words = "; ".join(part for part in (what, f"expected {expected}" if expected else "", do) if part)
    return {"ok": False, "say": without_marks(words), "errors": [_error(what, expected)]}


def _error(what: str, expected: str, place: str = "") -> dict[str, str]:
    return {"place": place, "what": without_marks(what), "expected": without_marks(expected)}
