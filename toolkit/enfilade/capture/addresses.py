"""What the server of the pages answers at each address, and that it answers only who has the token."""

from __future__ import annotations

import asyncio
import hmac
import json
from html import escape
from typing import Any, Final

from jupyter_core.utils import ensure_async
from jupyter_server.auth.decorator import allow_unauthenticated
from jupyter_server.base.handlers import APIHandler, FileFindHandler, JupyterHandler
from jupyter_server.services.kernels.handlers import KernelHandler
from tornado import web
from voila.handler import VoilaHandler
from voila.tornado.kernel_websocket_handler import VoilaKernelWebsocketHandler

from enfilade.resources import shipped

__all__ = ["ACTS", "CONTENT_SECURITY_POLICY", "NoSuchPage", "routes"]

ACTS: Final = ("measure", "decide", "check", "tell", "keep")

CONTENT_SECURITY_POLICY: Final = (
    "default-src 'self' data: blob:; script-src 'self' 'unsafe-inline' 'unsafe-eval' blob:; "
    "style-src 'self' 'unsafe-inline'; connect-src 'self' ws://127.0.0.1:* ws://localhost:* data: blob:; "
    "frame-ancestors 'none'; form-action 'self'; base-uri 'self'; object-src 'none'"
)
"""A page asks nothing of any other machine, whatever stands in it."""

_KERNEL: Final = r"(?P<kernel_id>\w+-\w+-\w+-\w+-\w+)"
_SETTLING_S: Final = 3
"""How long a kernel still takes in what was typed last on a page that was left."""
_BUSY_S: Final = 60

_REFUSED: Final = (
    "Not opened",
    "This page opens only with the whole address that enfilade open wrote, with its token, and only while it runs. "
    "Copy that address anew, or start enfilade open again.",
)
_NOT_THERE: Final = ("Not there", "There is no such page. The five pages are measure, decide, check, tell and keep.")
_TROUBLE: Final = ("Not opened", "The page could not be made. What was written before is saved. Load the page again.")


class _Ours:
    """Refuses in words instead of asking for a password."""

    def get_login_url(self) -> str:
        raise web.HTTPError(403)

    def write_error(self: Any, status_code: int, **kwargs: Any) -> None:
        title, words = {403: _REFUSED, 404: _NOT_THERE}.get(status_code, _TROUBLE)
        page = shipped("templates", "pages", "refused.html").read_text(encoding="utf-8")
        self.set_header("Content-Type", "text/html; charset=utf-8")
        self.finish(page.replace("{title}", escape(title)).replace("{words}", escape(words)))


class NoSuchPage(_Ours, JupyterHandler):
    """Any other address."""

    async def get(self, *_: str) -> None:
        raise web.HTTPError(404)

    post = put = patch = delete = get


class Door(_Ours, JupyterHandler):
    """Where a browser that was started from here comes in: once."""

    @allow_unauthenticated
    async def get(self) -> None:
        given, once = self.get_argument("once", ""), self.settings["once"]
        if given:
            self.settings["once"] = ""
            if not once or not hmac.compare_digest(given.encode(), once.encode()):
                raise web.HTTPError(403)
        elif self.current_user is None:
            raise web.HTTPError(403)
        self.redirect(self.settings["first"])


class Act(_Ours, VoilaHandler):  # type: ignore[misc]
    """The page of one act."""

    async def get(self, act: str) -> None:
        self.xsrf_token  # noqa: B018 - asking for it sets the cookie with which the page says that it was left
        async for html in self.get_generator(path=f"{act}.ipynb"):
            self.write(html)
            await self.flush()


class Alive(APIHandler):
    """Tells a page whether what it speaks to is still there."""

    _track_activity = False

    async def get(self, kernel_id: str) -> None:
        kernels = self.kernel_manager
        there = kernel_id in kernels and await ensure_async(kernels.get_kernel(kernel_id).is_alive())
        self.set_status(200)
        self.finish(json.dumps({"alive": bool(there)}))


class Left(APIHandler):
    """Ends the kernel of a page that was left, once it has taken in what was typed there last."""

    async def post(self, kernel_id: str) -> None:
        if kernel_id in self.kernel_manager:
            self.settings.setdefault("leaving", set()).add(asyncio.create_task(_end(self.kernel_manager, kernel_id)))
        self.set_status(204)
        self.finish()


async def _end(kernels: Any, kernel_id: str) -> None:
    await asyncio.sleep(_SETTLING_S)
    for _ in range(_BUSY_S):
        if kernel_id not in kernels:
            return
        if kernels.get_kernel(kernel_id).execution_state != "busy":
            break
        await asyncio.sleep(1)
    if kernel_id in kernels:
        await ensure_async(kernels.shutdown_kernel(kernel_id))


class Kernel(KernelHandler):
    """What a page asks about its kernel before it speaks to it."""

    async def delete(self, kernel_id: str) -> None:
        raise web.HTTPError(405)


class Files(_Ours, FileFindHandler):
    """Scripts, styles and fonts; they too are given only to who has the token."""

    _static_paths: dict[str, str] = {}  # noqa: RUF012 - declared so above

    def get(self, path: str, include_body: bool = True) -> Any:
        return web.StaticFileHandler.get(self, path, include_body)

    def head(self, path: str) -> Any:
        return web.StaticFileHandler.get(self, path, False)


class OwnFiles(Files):
    _static_paths: dict[str, str] = {}  # noqa: RUF012 - declared so above


class Extensions(Files):
    _static_paths: dict[str, str] = {}  # noqa: RUF012 - declared so above


def routes(
    *, template_paths: list[str], config: Any, voila_configuration: Any, static: list[str], labextensions: list[str],
    own: list[str],
) -> list[Any]:  # fmt: skip
    """Return the handlers by their addresses."""
    page = {"template_paths": template_paths, "config": config, "voila_configuration": voila_configuration}
    return [
        (r"/", Door),
        (rf"/({'|'.join(ACTS)})", Act, page),
        (rf"/alive/{_KERNEL}", Alive),
        (rf"/left/{_KERNEL}", Left),
        (rf"/api/kernels/{_KERNEL}", Kernel),
        (rf"/api/kernels/{_KERNEL}/channels", VoilaKernelWebsocketHandler),
        (r"/voila/static/(.*)", Files, {"path": static}),
        (r"/voila/labextensions/(.*)", Extensions, {"path": labextensions}),
        (r"/own/(.*)", OwnFiles, {"path": own}),
    ]
