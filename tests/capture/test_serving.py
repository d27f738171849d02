"""The server of the pages, without a browser: who may come in, and what is left when it ends."""

from __future__ import annotations

import http.client
import os
import re
import tempfile
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import psutil
import pytest

import enfilade as ef
from browser.pages import OpenPages, open_pages


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenPages]:
    """The pages of the demo house, served."""
    folder = tmp_path_factory.mktemp("served")
    ef.save(ef.demo(), folder / "demo")
    with open_pages(folder / "demo", home=folder / "home") as opened:
        yield opened


@pytest.fixture(scope="module")
def kernel(pages: OpenPages) -> str:
    """The id of the kernel behind a page that was asked for."""
    status, text = ask(pages, pages.url("check"))
    assert status == 200
    found = re.search(r'"kernelId": ?"([\w-]+)"', text)
    assert found, text[-2000:]
    return found[1]


@pytest.fixture
def short_folder() -> Iterator[Path]:
    """A folder for passing files whose path is short enough for sockets in it."""
    with tempfile.TemporaryDirectory(dir="/tmp" if os.name == "posix" else None) as name:
        yield Path(name)


def ask(
    pages: OpenPages, address: str, *, method: str = "GET", headers: dict[str, str] | None = None
) -> tuple[int, str]:
    """Return the status and the text of what is answered at once, without following where it points to."""
    parts = urlsplit(address)
    connection = http.client.HTTPConnection(urlsplit(pages.root).netloc, timeout=60)
    try:
        connection.request(method, f"{parts.path}?{parts.query}" if parts.query else parts.path, headers=headers or {})
        answer = connection.getresponse()
        return answer.status, answer.read().decode("utf-8", "replace")
    finally:
        connection.close()


def shake_hands(pages: OpenPages, kernel: str, **headers: str) -> int:
    """Return the status with which a connection to a kernel is taken or refused."""
    hello = {
        "Upgrade": "websocket", "Connection": "Upgrade", "Sec-WebSocket-Key": "dGhlIHNhbXBsZSBub25jZQ==",
        "Sec-WebSocket-Version": "13", "Origin": pages.root, **headers,
    }  # fmt: skip
    connection = http.client.HTTPConnection(urlsplit(pages.root).netloc, timeout=60)
    try:
        connection.request("GET", f"/api/kernels/{kernel}/channels?session_id=x", headers=hello)
        return connection.getresponse().status
    finally:
        connection.close()


def test_the_address_is_one_line_of_loopback_with_a_token(pages: OpenPages) -> None:
    assert re.fullmatch(r"http://127\.0\.0\.1:\d+/measure\?token=[\w-]{32}", pages.address)
    assert pages.process.stdout is not None


def test_nothing_listens_beyond_loopback(pages: OpenPages, kernel: str) -> None:
    family = [psutil.Process(pages.process.pid), *psutil.Process(pages.process.pid).children(recursive=True)]
    heard = {
        connection.laddr.ip
        for process in family
        for connection in process.net_connections("inet")
        if connection.status == psutil.CONN_LISTEN
    }
    assert heard == {"127.0.0.1"}


@pytest.mark.parametrize("token", ["", "?token=", "?token=wrong", "?token=%00"])
@pytest.mark.parametrize(
    "path",
    ["/", "/measure", "/keep", "/own/sheet.css", "/own/sheet.js", "/voila/static/voila.js",
     "/voila/labextensions/anywidget/package.json", "/api/kernels/KERNEL", "/alive/KERNEL", "/nowhere"],
)  # fmt: skip
def test_nothing_is_given_without_the_token(path: str, token: str, pages: OpenPages, kernel: str) -> None:
    status, text = ask(pages, path.replace("KERNEL", kernel) + token)
    assert status == 403
    assert ef.demo().name not in text
    if path == "/measure":
        assert "enfilade open" in text


def test_all_of_that_is_given_with_the_token(pages: OpenPages, kernel: str) -> None:
    for path in ("/own/sheet.css", "/own/sheet.js", "/voila/static/voila.js", f"/api/kernels/{kernel}",
                 f"/alive/{kernel}", "/own/source-sans-3-latin-400-normal.woff2"):  # fmt: skip
        assert ask(pages, f"{path}?token={pages.token}")[0] == 200, path


def test_a_kernel_speaks_only_to_who_has_the_token_and_comes_from_here(pages: OpenPages, kernel: str) -> None:
    with urllib.request.urlopen(f"{pages.root}/alive/{kernel}?token={pages.token}", timeout=60) as answer:
        cookie = {"Cookie": "; ".join(one.split(";")[0] for one in answer.headers.get_all("Set-Cookie"))}
    assert shake_hands(pages, kernel) == 403
    assert shake_hands(pages, kernel, Authorization="token wrong") == 403
    assert shake_hands(pages, kernel, **cookie, Origin="http://elsewhere.example") == 403
    assert shake_hands(pages, kernel, **cookie, Host="elsewhere.example") == 403
    assert shake_hands(pages, kernel, **cookie) == 101


def test_another_name_for_this_machine_is_refused(pages: OpenPages) -> None:
    # A page elsewhere may give its own name the number of this machine; the browser then sends that name.
    assert ask(pages, pages.url(), headers={"Host": "elsewhere.example"})[0] == 403


@pytest.mark.parametrize("path", ["/voila/render/measure.ipynb", "/voila/tree", "/voila/files/measure.ipynb", "/tree",
                                  "/api/contents", "/own/../serving.py", "/own/%2e%2e/%2e%2e/pyproject.toml",
                                  "/own//etc/passwd", "/measure.ipynb", "/login"])  # fmt: skip
def test_there_is_nothing_else_to_be_had(path: str, pages: OpenPages) -> None:
    status, text = ask(pages, f"{path}?token={pages.token}")
    assert status in (403, 404)
    assert "root:" not in text
    assert "nbformat" not in text


def test_nobody_ends_or_leaves_a_kernel_without_the_token(pages: OpenPages, kernel: str) -> None:
    assert ask(pages, f"/left/{kernel}", method="POST")[0] == 403
    assert ask(pages, f"/api/kernels/{kernel}", method="DELETE")[0] == 403
    assert '"alive": true' in ask(pages, f"/alive/{kernel}?token={pages.token}")[1]


def test_a_page_may_reach_no_other_machine(pages: OpenPages) -> None:
    with urllib.request.urlopen(pages.url("check"), timeout=60) as answer:
        policy = answer.headers["Content-Security-Policy"]
        answer.read()
    assert "default-src 'self'" in policy
    sources = {word.rstrip(";") for word in policy.split() if ":" in word or "*" in word}
    assert sources == {"data:", "blob:", "ws://127.0.0.1:*", "ws://localhost:*"}


@pytest.mark.skipif(os.name == "nt", reason="a script stands for the browser")
def test_the_address_given_to_a_browser_lets_one_in_and_no_second(tmp_path: Path) -> None:
    # What stands on a command line can be read by everybody on the machine.
    script, seen = tmp_path / "browser", tmp_path / "seen"
    script.write_text(f'#!/bin/sh\nprintf %s "$1" > {seen}.part && mv {seen}.part {seen}\n', "utf-8")
    script.chmod(0o755)
    with open_pages(None, home=tmp_path / "home", browser=True, environment={"BROWSER": f"{script} %s"}) as opened:
        end = time.monotonic() + 20
        while not seen.exists() and time.monotonic() < end:
            time.sleep(0.1)
        address = seen.read_text("utf-8")
        assert address.startswith(opened.root)
        assert opened.token not in address
        assert ask(opened, address)[0] == 302
        assert ask(opened, address)[0] == 403
    with open_pages(None, home=tmp_path / "home") as opened:
        assert ask(opened, f"{opened.root}/?once=wrong")[0] == 403


def test_who_leaves_a_page_ends_its_kernel_a_little_later(tmp_path: Path) -> None:
    ef.save(ef.demo(), tmp_path / "demo")
    with open_pages(tmp_path / "demo", home=tmp_path / "home") as opened:
        _, text = ask(opened, opened.url("check"))
        found = re.search(r'"kernelId": ?"([\w-]+)"', text)
        assert found
        assert ask(opened, f"/left/{found[1]}?token={opened.token}", method="POST")[0] == 204
        assert len(opened.kernels()) == 1  # what was typed last is still taken in
        end = time.monotonic() + 20
        while opened.kernels() and time.monotonic() < end:
            time.sleep(0.2)
        assert opened.kernels() == []
        alive = ""
        while '"alive": false' not in alive and time.monotonic() < end:  # the server hears of it a little later
            alive = ask(opened, f"/alive/{found[1]}?token={opened.token}")[1]
        assert '"alive": false' in alive


@pytest.mark.skipif(os.name == "nt", reason="signals")
def test_the_end_leaves_no_kernel_no_file_and_no_noise(tmp_path: Path, short_folder: Path) -> None:
    ef.save(ef.demo(), tmp_path / "demo")
    with open_pages(tmp_path / "demo", home=tmp_path / "home", environment={"TMPDIR": str(short_folder)}) as opened:
        ask(opened, opened.url("check"))
        (kernel,) = opened.kernels()
        ask(opened, f"{opened.root}/measure")
        (own,) = short_folder.iterdir()
        assert own.stat().st_mode & 0o077 == 0
        assert opened.stop() == 0
        assert not psutil.pid_exists(kernel)
        assert list(short_folder.iterdir()) == []
        assert [line for line in opened.said if not line.startswith("  ")] == []
    assert not [path for path in (tmp_path / "demo").rglob("*") if path.suffix == ".ipynb"]
    with pytest.raises(urllib.error.URLError):
        urllib.request.urlopen(opened.address, timeout=5)
