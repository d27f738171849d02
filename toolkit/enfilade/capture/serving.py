"""The notebooks as pages without code, on this machine alone: voila on loopback, behind a token."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import os
import secrets
import signal
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final
from urllib.parse import urlencode

from jupyter_client.kernelspec import KernelSpecManager
from jupyter_core.paths import jupyter_path
from tornado.httpserver import HTTPServer
from tornado.netutil import bind_sockets
from traitlets.config import Config
from voila.app import Voila
from voila.paths import collect_template_paths

from enfilade.capture.addresses import CONTENT_SECURITY_POLICY, NoSuchPage, routes
from enfilade.capture.houses import house_name
from enfilade.errors import Refused
from enfilade.resources import shipped

__all__ = ["FIRST", "LOOPBACK", "OwnPython", "own_sockets", "serve"]

LOOPBACK: Final = "127.0.0.1"
FIRST: Final = "measure"
NEEDED: Final = ("@voila-dashboards/widgets-manager8", "@jupyter-widgets/jupyterlab-manager", "anywidget")
"""What a page takes of all that may be installed beside JupyterLab."""

_LONGEST_SOCKET_FOLDER: Final = 38
"""So long a folder's path may be for the names of sockets below it to fit into the 104 signs that systems allow."""

LEFT_BEHIND_S: Final = 300
"""After how long the kernel of a page that nobody shows any more is ended; all that was typed there is saved."""


class OwnPython(KernelSpecManager):
    """Kernels of the Python that runs this, whatever else goes by that name on the machine."""

    def find_kernel_specs(self) -> dict[str, str]:
        from ipykernel.kernelspec import RESOURCES

        return {**super().find_kernel_specs(), "python3": RESOURCES}


class Pages(Voila):  # type: ignore[misc]
    """Voila with our own template, on a free port of loopback, and with none but the addresses that the pages use."""

    def setup_template_dirs(self) -> None:
        self.template_paths = [str(shipped("templates", "pages")), *collect_template_paths(["nbconvert"], "base")]

    def init_handlers(self) -> list[Any]:
        return routes(
            template_paths=self.template_paths,
            config=self.config,
            voila_configuration=self.voila_configuration,
            static=[str(Path(path) / "templates" / "base" / "static") for path in jupyter_path("voila")],
            labextensions=self.labextensions_path,
            own=[str(shipped("templates", "pages")), str(shipped("assets", "fonts"))],
        )

    def listen(self) -> None:
        """Take a free port, and return; whoever serves waits for the end."""
        sockets = bind_sockets(0, LOOPBACK)
        self.port = sockets[0].getsockname()[1]
        self.server = HTTPServer(self.app)
        self.server.add_sockets(sockets)

    async def close(self) -> None:
        """Stop answering, and end every kernel."""
        self.server.stop()
        await self.kernel_manager.shutdown_all()
        with contextlib.suppress(TimeoutError):
            await asyncio.wait_for(self.server.close_all_connections(), 1)


def serve(notebooks: Path, runtime: Path, ready: Callable[[str, str], None]) -> None:
    """Serve the notebooks of a folder until the program is told to stop.

    Args:
        notebooks: Folder with the notebooks, one an act.
        runtime: Folder of this one server, for the files through which it speaks to its kernels.
        ready: Called once it answers, with the address for people, and one for a browser that works once: what
            stands on a command line can be read by others on the machine.
    Raises:
        Refused: No port of loopback is free.
    """
    token, once = secrets.token_urlsafe(24), secrets.token_urlsafe(24)
    app = Pages(config=_config(notebooks, runtime, token))
    app.initialize([])
    # A page that is left while the program ends is no news.
    logging.getLogger("asyncio").setLevel(logging.CRITICAL)
    logging.getLogger("tornado.access").setLevel(logging.CRITICAL)  # Who was refused is told on the page itself.
    try:
        asyncio.run(_until_stopped(app, token, once, ready))
    except OSError as error:
        raise Refused(f"no page can be served on {LOOPBACK} ({error})", do="see what keeps it busy") from error


async def _until_stopped(app: Pages, token: str, once: str, ready: Callable[[str, str], None]) -> None:
    first = f"/{FIRST}?{urlencode({'token': token})}"
    app.start()
    app.app.settings.update(once=once, first=first)
    stopped = asyncio.Event()
    _on_signals(asyncio.get_running_loop(), stopped)
    root = f"http://{LOOPBACK}:{app.port}"
    try:
        ready(f"{root}{first}", f"{root}/?{urlencode({'once': once})}")
        await stopped.wait()
    finally:
        await app.close()


def own_sockets(folder: Path) -> bool:
    """Say whether server and kernels can speak through files that only this user may open, instead of ports."""
    return os.name == "posix" and len(str(folder)) <= _LONGEST_SOCKET_FOLDER


def _on_signals(loop: asyncio.AbstractEventLoop, stopped: asyncio.Event) -> None:
    for name in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK"):
        number = getattr(signal, name, None)
        if number is None:
            continue
        try:
            loop.add_signal_handler(number, stopped.set)
        except NotImplementedError:  # pragma: no cover - Windows
            signal.signal(number, lambda *_: loop.call_soon_threadsafe(stopped.set))


def _config(notebooks: Path, runtime: Path, token: str) -> Config:
    config = Config()
    config.Voila.ip = LOOPBACK
    config.Voila.token = token
    config.Voila.open_browser = False
    config.Voila.root_dir = str(notebooks)
    config.Voila.connection_dir_root = str(runtime)
    config.Voila.config_file_paths = []  # A file that happens to lie in some folder must not open what is closed here.
    config.Voila.log_level = logging.CRITICAL
    config.Voila.tornado_settings = {
        "allow_remote_access": False,
        "local_hostnames": ["localhost"],
        "ws_ping_interval": 0,  # On one machine a connection that ended is known to have ended; one that slept has not.
        "default_handler_class": NoSuchPage,
        "headers": {"Content-Security-Policy": CONTENT_SECURITY_POLICY, "Referrer-Policy": "same-origin"},
    }
    pages = config.VoilaConfiguration
    pages.template = "pages"
    pages.allow_template_override = pages.allow_theme_override = "NO"
    pages.extension_allowlist = list(NEEDED)
    pages.kernel_spec_manager_class = OwnPython
    pages.page_config_hook = _page_config
    if own_sockets(runtime):
        config.KernelManager.transport = "ipc"
    # A kernel that was started again by itself would know nothing of the page that shows it.
    config.KernelManager.autorestart = False
    config.MappingKernelManager.cull_idle_timeout = LEFT_BEHIND_S
    config.MappingKernelManager.cull_interval = 60
    config.MappingKernelManager.cull_connected = False
    return config


def _page_config(page_config: dict[str, Any], **_: Any) -> dict[str, Any]:
    return {**page_config, "house": house_name()}
