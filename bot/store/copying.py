"""Back-up of the database while the bot runs, and restore when it does not; a server's copy is a file too."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

from sqlalchemy import Engine

from bot.store.carrying import from_server, is_empty, to_server, workers_on
from bot.store.opening import StoreFault, bring_up_to_date, claim_file, file_of, open_engine
from bot.store.ticks import NOTES


def back_up(url: str, to: Path) -> None:
    """Copy the database as it stands at one moment into a new file; the bot may go on working."""
    source = file_of(url)
    if source and not source.exists():
        raise StoreFault("there is no database file yet")
    if to.exists():
        raise StoreFault(f"{to} is there already and is not written over")
    part = _part_of(to)
    if source:
        with closing(sqlite3.connect(source)) as old, closing(sqlite3.connect(part)) as new:
            old.backup(new)
    else:
        with _engines(url, part) as (server, file):
            from_server(server, file)
    with closing(sqlite3.connect(part)) as new:
        new.execute("PRAGMA journal_mode=DELETE")
    _check(part)
    part.rename(to)


def restore(url: str, copy: Path) -> None:
    """Put a back-up in the database's place, unless a bot works on it; what stood there is kept beside."""
    _check(copy)
    target = file_of(url)
    if target is None:
        _restore_server(url, copy)
        return
    lock = claim_file(url)
    try:
        part = _part_of(target)
        part.write_bytes(copy.read_bytes())
        for ending in ("", "-wal", "-shm", NOTES):
            there = target.with_name(target.name + ending)
            if there.exists():
                there.replace(target.with_name(f"{target.name}.before{ending}"))
        part.replace(target)
        engine = open_engine(url)
        bring_up_to_date(engine)
        engine.dispose()
    finally:
        if lock:
            lock.close()


def _restore_server(url: str, copy: Path) -> None:
    part = _part_of(copy.with_name(copy.name + ".brought-up"))
    part.write_bytes(copy.read_bytes())
    try:
        with _engines(url, part) as (server, file):
            if workers_on(server):
                raise StoreFault("a bot works on this database: stop all workers first")
            if not is_empty(server):
                back_up(url, copy.with_name(copy.name + ".before"))
            to_server(file, server)
    finally:
        for ending in ("", "-wal", "-shm"):
            part.with_name(part.name + ending).unlink(missing_ok=True)


@contextmanager
def _engines(url: str, file: Path) -> Iterator[tuple[Engine, Engine]]:
    one, two = open_engine(url), open_engine(f"sqlite:///{file}")
    try:
        yield one, two
    finally:
        one.dispose()
        two.dispose()


def _part_of(path: Path) -> Path:
    """An empty file beside it that only its owner can read: it gets the name once it is whole."""
    part = path.with_name(path.name + ".part")
    part.unlink(missing_ok=True)
    part.touch(mode=0o600)
    return part


def _check(path: Path) -> None:
    """Whole, and a database of ours."""
    try:
        with closing(sqlite3.connect(f"file:{path}?mode=ro", uri=True)) as copy:
            sound = copy.execute("PRAGMA integrity_check").fetchone() == ("ok",)
            copy.execute("SELECT version_num FROM alembic_version").fetchone()
    except sqlite3.DatabaseError:
        sound = False
    if not sound:
        raise StoreFault(f"{path} is no sound copy of a database of ours")
