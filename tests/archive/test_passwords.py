"""A password in an address is refused, and repeated by nothing: no output, no error behind an error, no log."""

from __future__ import annotations

import logging
import os
import subprocess
import sys
import traceback
from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest

from enfilade.archive.address import VARIABLE, address_of
from enfilade.archive.store import Store
from enfilade.cli import main
from enfilade.errors import EnfiladeError, Refused
from enfilade.export.selftest import selftest_lines
from postgres import Server

SECRET = "hunter2qz"
ENCODED = "h%75nter2qz"
ADDRESSES = [
    f"postgresql://u:{SECRET}@h/d", f"postgres://u:{SECRET}@h/d", f"POSTGRESQL://u:{SECRET}@h/d",
    f"  postgresql://u:{SECRET}@h/d", f"postgresql://u:{ENCODED}@h/d", f"postgresql://u:p%40{SECRET}@h/d",
    f"postgresql://u:a@{SECRET}@h/d", f"postgresql://u:a/{SECRET}@h/d", f"postgresql://u%3A{SECRET}@h/d",
    f"postgresql://h:{SECRET}/d", f"postgresql://u:{SECRET}@h:port/d", f"postgresql://u:{SECRET}@[::1/d",
    f"postgresql://u:{SECRET}@", f"postgresql://:{SECRET}@h/d", f"postgresql+psycopg://u:{SECRET}@h/d",
    f"postgresql://u@h/d?password={SECRET}", f"postgresql://u@h/d?PASSWORD={SECRET}",
    f"postgresql://u@/d?host=u:{SECRET}@h", f"postgresql://u@/d?host=h:{SECRET}", f"postgresql://u@/d?port=1:{SECRET}",
    f"postgresql://u@/d?HOST=a,h%3A{SECRET}", f"postgresql://u@/d?host=h&host=u%40{SECRET}",
    f"postgresql://u@/d?host=h%20password%3D{SECRET}",
    f"postgresql://u@h/d?sslmode=require&password={ENCODED}", f"postgresql://u@h/d?sslpassword={SECRET}",
    f"postgresql://u@h/d?passfile=/{SECRET}", f"postgresql://u@h/d?options=-c%20a={SECRET}",
    f"postgresql://u@h/d?service={SECRET}", f"postgresql://u@h/d?pasword={SECRET}",
    f"postgresql://u@h/d?%70assword={SECRET}", f"postgresql://u@h/d%3Fpassword={SECRET}",
    f"postgresql:u:{SECRET}@h/d", f"postgresql:/u:{SECRET}@h/d", f"postgresql ://u:{SECRET}@h/d",
    f"u:{SECRET}@h/d", f"host=h password={SECRET} dbname=d", f"mysql://u:{SECRET}@h/d", f"https://u:{SECRET}@h/d",
    f"postgresql://u:{SECRET}\x00@h/d", f"postgresql://u:{SECRET}\n@h/d",
]  # fmt: skip


def all_that_is_said(error: BaseException) -> str:
    """Return an error with all that stands behind it, as far down as one can look."""
    said, seen = [], set()
    behind: list[BaseException | None] = [error]
    while behind:
        one = behind.pop()
        if one is not None and id(one) not in seen:
            seen.add(id(one))
            said += [str(one), repr(one), repr(one.args), repr(vars(one)), "".join(traceback.format_exception(one))]
            behind += [one.__cause__, one.__context__]
    return "\n".join(said)


def holds(text: str) -> bool:
    # A traceback quotes lines of these tests too, in which the secret stands by its name alone.
    return SECRET in text or ENCODED in text


@pytest.fixture
def logged(caplog: pytest.LogCaptureFixture) -> pytest.LogCaptureFixture:
    caplog.set_level(logging.DEBUG)
    for name in ("sqlalchemy", "sqlalchemy.engine", "sqlalchemy.pool", "psycopg", "psycopg.pool"):
        caplog.set_level(logging.DEBUG, name)
    return caplog


@pytest.mark.parametrize("address", ADDRESSES)
def test_a_password_in_an_address_is_refused_and_not_repeated(
    address: str, logged: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv(VARIABLE, raising=False)
    with pytest.raises(Refused) as refused:
        Store(address)
    assert not holds(all_that_is_said(refused.value))
    if "\x00" not in address:
        monkeypatch.setenv(VARIABLE, address)
        with pytest.raises(Refused) as refused:
            address_of()
        assert not holds(all_that_is_said(refused.value))
        assert not holds("\n".join(map(str, selftest_lines_of_the_archive())))
    assert not holds(logged.text)
    assert list(tmp_path.iterdir()) == []  # nor is a file of that name made


def selftest_lines_of_the_archive() -> tuple[object, ...]:
    from enfilade.export.selftest_archive import archive_tried

    return archive_tried()


@pytest.mark.parametrize("address", [
    "postgresql://u@h/d", "postgresql://u@[::1]:5433/d", "postgresql://u@/d?host=/var/run/postgresql",
    "postgresql:///d", "postgresql://u@h/d?sslmode=verify-full&sslrootcert=/etc/root.crt", "postgresql://me%40it@h/d",
    "/a/b@c:d/e.sqlite", "postgres.sqlite", "postgres/archive.sqlite", "C:\\Users\\me@x\\a.sqlite", "a@b.sqlite",
    "studio: 2026.sqlite", "password.sqlite",
])  # fmt: skip
def test_other_addresses_are_taken(address: str) -> None:
    assert address_of(address).shared == ("://" in address)


def test_addresses_of_two_databases_do_not_look_alike() -> None:
    here, there = "postgresql://u@/d?host=/run/a&port=5433", "postgresql://u@/d?host=/run/b"
    assert str(address_of(here)) != str(address_of(there))
    assert all(words in str(address_of(here)) for words in ("run", "a", "5433"))
    assert address_of("postgresql://u@/d?host=a.example,10.0.0.1,::1&port=1,2,3").shared
    # How it is reached is nobody's business.
    hidden = f"postgresql://u@h/d?sslmode=require&sslkey=/home/{SECRET}.key&sslcert=/c&krbsrvname={SECRET}"
    assert str(address_of(hidden)) == "postgresql://u@h/d"


def test_the_commands_say_nothing_of_it(tmp_path: Path) -> None:
    address = ADDRESSES[0]
    for words, more in (
        (["selftest"], {VARIABLE: address}),
        (["find", "oak"], {VARIABLE: address}),
        (["find", "oak", "--archive", address], {}),
    ):
        done = subprocess.run(
            [sys.executable, "-m", "enfilade", *words], capture_output=True, text=True, timeout=120, cwd=tmp_path,
            env={**os.environ, **more},
        )  # fmt: skip
        assert done.returncode != 0
        assert not holds(done.stdout + done.stderr), words


@pytest.fixture(scope="module")
def asking(postgres: Server) -> Iterator[str]:
    """The address of a database whose user must give a password; users before keep being trusted."""
    name, rules = postgres.new_database(), postgres.data / "pg_hba.conf"
    before = rules.read_text()
    postgres.run(f"SET password_encryption = 'scram-sha-256'; CREATE ROLE careful LOGIN PASSWORD '{SECRET}'")
    postgres.run(f"GRANT ALL ON DATABASE {name} TO careful")
    postgres.run("GRANT ALL ON SCHEMA public TO careful", name)
    rules.write_text(f"host all careful 127.0.0.1/32 scram-sha-256\n{before}")
    postgres.run("SELECT pg_reload_conf()")
    yield postgres.address(name, "careful")
    rules.write_text(before)
    postgres.run("SELECT pg_reload_conf()")
    postgres.drop(name)
    postgres.run("DROP ROLE careful")


def test_a_password_is_taken_from_postgresqls_own_file_and_never_seen(
    asking: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, logged: pytest.LogCaptureFixture,
    capfd: pytest.CaptureFixture[str],
) -> None:  # fmt: skip
    own = tmp_path / "pgpass"
    own.write_text(f"*:*:*:careful:{SECRET}\n")
    own.chmod(0o600)
    monkeypatch.setenv("PGPASSFILE", str(own))
    monkeypatch.setenv(VARIABLE, asking)
    with Store() as store:
        assert store.projects() == []
        said = f"{store.address} {store.address!r} {store._engine!r} {store._engine.url!r} {vars(store)!r}"
    lines = "\n".join(map(str, selftest_lines()))
    assert "0 projects, can be written" in lines
    assert main(["selftest"]) == 0
    out = capfd.readouterr()
    assert not holds(said + lines + out.out + out.err + logged.text)


@pytest.mark.parametrize("how", ["none", "wrong", "wrong port", "wrong user", "wrong database", "no such host"])
def test_connections_that_fail_do_not_repeat_it(
    how: str, asking: str, monkeypatch: pytest.MonkeyPatch, logged: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setenv("PGPASSFILE", os.devnull)
    if how != "none":
        monkeypatch.setenv("PGPASSWORD", SECRET if how != "wrong" else f"not{SECRET}")
    head, _, database = asking.rpartition("/")
    address = {
        "wrong port": f"{head.rpartition(':')[0]}:1/{database}",
        "wrong user": asking.replace("careful", "careless"),
        "wrong database": f"{head}/nowhere",
        "no such host": f"postgresql://careful@nowhere.invalid/{database}",
    }.get(how, asking)
    with pytest.raises(EnfiladeError) as refused:
        Store(address, create=False)
    assert not holds(all_that_is_said(refused.value))
    assert not holds(logged.text)
    assert "cannot be reached" in str(refused.value) or "refused" in str(refused.value)


def test_the_secret_of_these_tests_is_one(asking: str) -> None:
    # Else no test above could fail: without the password nobody comes in, and with it one does.
    with pytest.raises(psycopg.OperationalError):
        psycopg.connect(asking, passfile=os.devnull)
    psycopg.connect(asking, password=SECRET).close()
    assert holds(all_that_is_said(ValueError(ADDRESSES[0])))
