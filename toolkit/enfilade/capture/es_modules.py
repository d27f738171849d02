"""The page's ES modules, joined into the one module that a widget may have: no build step, nothing remote.

Each file becomes a closure under its own name, so that no two of them can clash.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Final

from enfilade.drawings.fonts import font_faces
from enfilade.errors import Refused

__all__ = ["JS", "joined", "styles"]

JS: Final = Path(__file__).parent / "js"

_IMPORT: Final = re.compile(r'^import \{ ([\w, ]+) \} from "\./([\w-]+)\.js";$', re.MULTILINE)
_EXPORT: Final = re.compile(r"^export (?=(?:async )?function\*? |const |class )", re.MULTILINE)
_NAME: Final = re.compile(r"^export (?:async )?(?:function\*? |const |class )(\w+)", re.MULTILINE)
_OTHER: Final = re.compile(r"^(?:import|export)\b.*$|\bimport\(", re.MULTILINE)


@cache
def joined(entry: str, exports: str) -> str:
    """Return `entry` and all that it imports as the text of one ES module.

    Args:
        entry: File in `js`, such as `page.js`.
        exports: Name that the entry exports and that the whole exports by default as `{name}`.
    Raises:
        Refused: A file imports or exports in a form other than the two that are joined.
    """
    order: list[str] = []
    _visit(entry.removesuffix(".js"), order, ())
    parts = [_closure(name) for name in order]
    return "\n".join([*parts, f"export default {{ {exports}: {_variable(order[-1])}.{exports} }};", ""])


@cache
def styles() -> str:
    """Return the page's own styles, the face and the base first."""
    files = sorted(JS.glob("*.css"), key=lambda path: (path.name != "page.css", path.name))
    return "\n".join([font_faces(), *(path.read_text(encoding="utf-8") for path in files)])


def _visit(name: str, order: list[str], above: tuple[str, ...]) -> None:
    if name in order:
        return
    if name in above:
        raise Refused(f"{name}.js imports itself through {' -> '.join(above)}", expected="modules without a ring")
    for _, other in _IMPORT.findall(_text(name)):
        _visit(other, order, (*above, name))
    order.append(name)


def _closure(name: str) -> str:
    text = _text(name)
    exported = _NAME.findall(text)
    body = _IMPORT.sub(lambda match: f"const {{ {_taken(match[1])} }} = {_variable(match[2])};", text)
    body = _EXPORT.sub("", body)
    if odd := _OTHER.search(body):
        raise Refused(
            f"{name}.js: {odd.group()!r} cannot be joined", expected='`import { a } from "./b.js";`, one line'
        )
    return f"const {_variable(name)} = (() => {{\n{body}\nreturn {{ {', '.join(exported)} }};\n}})();"


def _variable(name: str) -> str:
    return f"{name.replace('-', '_')}_js"


def _text(name: str) -> str:
    return (JS / f"{name}.js").read_text(encoding="utf-8")


def _taken(names: str) -> str:
    """Return what an import names as a destructuring: `view as planView` becomes `view: planView`."""
    return names.replace(" as ", ": ")
