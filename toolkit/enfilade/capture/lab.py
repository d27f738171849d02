"""The same notebooks in JupyterLab, as copies beside the project."""

from __future__ import annotations

import contextlib
import secrets
import signal
import warnings
from collections.abc import Callable
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from jupyter_server.serverapp import ServerApp
from jupyterlab.labapp import LabApp

from enfilade.capture.serving import FIRST, LOOPBACK, OwnPython, own_sockets

__all__ = ["serve_lab"]


class LabServer(ServerApp):
    """A server that ends without asking back, and says where it answers in our way."""

    ready: Callable[[str], None]

    def init_signal(self) -> None:
        for name in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK"):
            if hasattr(signal, name):
                signal.signal(getattr(signal, name), lambda *_: self.stop(from_signal=True))

    def start_ioloop(self) -> None:
        token = urlencode({"token": self.identity_provider.token})
        self.ready(f"http://{LOOPBACK}:{self.port}/lab/tree/{FIRST}.ipynb?{token}")
        super().start_ioloop()


class Lab(LabApp):  # type: ignore[misc]
    serverapp_class = LabServer


def serve_lab(notebooks: Path, runtime: Path, ready: Callable[[str], None], *, browser: bool) -> None:
    """Serve a folder of notebooks in JupyterLab until the program is told to stop.

    It asks nothing of any other machine: no news, no newer version, no list of extensions.

    Args:
        notebooks: Folder with the copies.
        runtime: Folder of this one server.
        ready: Called with the address once it answers.
        browser: Whether JupyterLab may open a browser.
    """
    LabServer.ready = staticmethod(ready)
    settings: dict[str, Any] = {
        "ServerApp.ip": LOOPBACK,
        "ServerApp.port": 0,
        "ServerApp.open_browser": browser,
        "ServerApp.root_dir": notebooks,
        "ServerApp.allow_remote_access": False,
        "ServerApp.allow_root": True,  # Who may start it may use it: it is on loopback, and asks for the token.
        "ServerApp.kernel_spec_manager_class": f"{OwnPython.__module__}.{OwnPython.__name__}",
        "ServerApp.log_level": "CRITICAL",
        "LabApp.log_level": "CRITICAL",
        "LabApp.default_url": f"/lab/tree/{FIRST}.ipynb",
        "LabApp.check_for_updates_class": "jupyterlab.handlers.announcements.NeverCheckForUpdate",
        "LabApp.news_url": "None",
        "LabApp.extension_manager": "readonly",
        "IdentityProvider.token": secrets.token_urlsafe(24),
    }
    if own_sockets(runtime):
        settings["KernelManager.transport"] = "ipc"
    with contextlib.suppress(KeyboardInterrupt), warnings.catch_warnings():
        warnings.simplefilter("ignore")  # They speak to who writes JupyterLab.
        Lab.launch_instance(argv=[f"--{name}={value}" for name, value in settings.items()])
