"""Where an archive is: a file on this machine, or a database that a studio shares."""

from __future__ import annotations

import os
import re
import shlex
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError

from enfilade.errors import Refused
from enfilade.resources import user_folder

__all__ = ["VARIABLE", "Address", "address_of", "copy_of", "when_damaged"]

VARIABLE: Final = "ENFILADE_ARCHIVE"
_FILE: Final = "archive.sqlite"
_SCHEME: Final = re.compile(r"([a-z][a-z0-9+.-]+)://", re.IGNORECASE)
_MISTYPED: Final = re.compile(
    r"(postgres(ql)?(\+\w+)?\s*:)|([^/\\]*://)|(?![a-z]:[/\\])([^/\\:]+:.*@)|(.*\bpass(word|wd|file)?\s*=)",
    re.IGNORECASE | re.DOTALL,
)
"""What is no path, but an address of a database that somebody typed in another way; it may hold a password."""
_OPTIONS: Final = {
    "host", "port", "sslmode", "sslrootcert", "sslcert", "sslkey", "sslcrl", "sslnegotiation",
    "ssl_min_protocol_version", "channel_binding", "gssencmode", "krbsrvname", "require_auth", "target_session_attrs",
    "keepalives", "keepalives_idle", "keepalives_interval", "keepalives_count", "tcp_user_timeout",
    "load_balance_hosts",
}  # fmt: skip
"""Options of a connection that hold no password (PostgreSQL documentation, libpq, parameter key words; recalled)."""
_SHOWN: Final = ("host", "port")
"""Options that tell one database from another; the rest say how it is reached."""
_ODD: Final = re.compile(r"[@?#&=:/\\\x00-\x1f]")
_EXPECTED: Final = "the path of a file, or postgresql://USER@HOST/DATABASE"


@dataclass(frozen=True)
class Address:
    """Where an archive is.

    Attributes:
        url: As the database library takes it; it holds no password.
        path: The file, None for a shared database.
    """

    url: URL
    path: Path | None

    @property
    def shared(self) -> bool:
        """Tell whether it is a database that several people reach over the network."""
        return self.path is None

    def __str__(self) -> str:
        if self.path:
            return str(self.path)
        shown = {name: value for name, value in self.url.query.items() if name.lower() in _SHOWN}
        return self.url.set(drivername="postgresql", query=shown).render_as_string()


def address_of(text: str | None = None) -> Address:
    """Return an address from what was given, from `$ENFILADE_ARCHIVE`, else the file in the user's data folder.

    A password is refused: arguments and settings are seen by other programs. PostgreSQL's own password file keeps it.

    Raises:
        Refused: It is no address, or holds a password. The message does not repeat it.
    """
    given = (text or os.environ.get(VARIABLE, "")).strip()
    if not given:
        return _file(user_folder() / _FILE)
    scheme = _SCHEME.match(given)
    if scheme is None:
        if _MISTYPED.match(given):
            raise Refused("the archive's address cannot be read", expected=_EXPECTED)
        return _file(Path(given))
    if scheme[1].lower() not in ("postgresql", "postgres"):
        raise Refused(f"an archive cannot be at {scheme[0]!r}", expected=_EXPECTED)
    url = _parsed(given)
    if url is None:
        raise Refused("the archive's address cannot be read", expected=_EXPECTED)
    if url.password is not None or not _OPTIONS.issuperset(name.lower() for name in url.query):
        raise Refused(
            "the archive's address holds a password or an option that may hold one",
            expected="postgresql://USER@HOST/DATABASE",
            do="put the password into PostgreSQL's password file (~/.pgpass, readable by you alone), and change it, "
            "since it has been seen",
        )
    if not url.database:
        raise Refused("the archive's address names no database", expected="postgresql://USER@HOST/DATABASE")
    return Address(url.set(drivername="postgresql+psycopg"), None)


def _parsed(given: str) -> URL | None:
    """Return an address as its parts; None when it cannot be read, or a part holds what looks like another.

    No error is raised here: the library's own repeats what was given, and would stand behind ours.
    """
    try:
        url = make_url(given)
    except (ArgumentError, ValueError):
        return None
    user = (url.username or "").replace("@", "")  # some servers' names for people hold one
    # As an option, a host may be the folder of a socket, or several.
    asked = [_host(part).replace("/", "") for name in _SHOWN for part in _values(url, name)]
    return None if any(_ODD.search(part or "") for part in (user, url.database, _host(url.host), *asked)) else url


def _values(url: URL, name: str) -> list[str]:
    given = [value for key, value in url.query.items() if key.lower() == name]
    return [
        part for value in given for one in ([value] if isinstance(value, str) else value) for part in one.split(",")
    ]


def _host(host: str | None) -> str:
    # An address of six groups and more has colons of its own.
    host = host or ""
    return host.replace(":", "") if re.fullmatch(r"[0-9a-fA-F:.]+", host) else host


def _file(path: Path) -> Address:
    try:
        if "\x00" in str(path):
            raise ValueError("it holds a zero byte")
        path = path.expanduser().absolute()
    except (OSError, RuntimeError, ValueError) as error:
        raise Refused(f"{str(path)!r} is no path ({error})", expected=_EXPECTED) from error
    return Address(URL.create("sqlite", database=str(path)), path)


def copy_of(path: str | Path) -> Path:
    """Return where the copy of an archive's file lies, whether it is there or not."""
    path = Path(path)
    return path.with_name(f"{path.name}.copy")


def when_damaged(address: Address) -> str:
    """Return what can be done about an archive whose file is damaged, as the end of a sentence."""
    if address.path is None or not os.path.lexists(copy_of(address.path)):
        return "copy it elsewhere before anything else, and look for an earlier copy on another disk"
    other = "" if address == address_of() else f" --archive {shlex.quote(str(address))}"
    return (
        f"copy it elsewhere before anything else; `enfilade verify --take-copy{other}` then puts the earlier copy "
        f"beside it, {copy_of(address.path).name}, in its place, puts this file aside, and names the versions that the "
        "copy does not hold"
    )
