"""Back-up and restore of the database file, while the bot runs and when it does not."""

import sqlite3
from contextlib import closing
from pathlib import Path

from sqlalchemy.engine import make_url

from bot.store.opening import StoreFault, bring_up_to_date, claim_file, open_engine


def back_up(url: str, to: Path) -> None:
    """Copy the database as it stands at one moment into a new file; the bot may go on working."""
    source = _file(url)
    if not source.exists():
        raise StoreFault("there is no database file yet")
    if to.exists():
        raise StoreFault(f"{to} is there already and is not written over")
    part = to.with_name(to.name + ".part")
    part.unlink(missing_ok=True)
    part.touch(mode=0o600)
    with closing(sqlite3.connect(source)) as old, closing(sqlite3.connect(part)) as new:
        old.backup(new)
        new.execute("PRAGMA journal_mode=DELETE")
    _check(part)
    part.rename(to)


def restore(url: str, copy: Path) -> None:
    """Put a back-up in the database's place, unless a bot works on it; what stood there is kept beside."""
    _check(copy)
    target = _file(url)
    lock = claim_file(url)
    try:
        part = target.with_name(target.name + ".part")
        part.unlink(missing_ok=True)
        part.touch(mode=0o600)
        part.write_bytes(copy.read_bytes())
        for ending in ("", "-wal", "-shm"):
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


def _file(url: str) -> Path:
    place = make_url(url)
    if place.get_backend_name() != "sqlite" or not place.database:
        raise StoreFault("a database server is backed up with its own tools: see deploy/RUNBOOK.md")
    return Path(place.database)


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
