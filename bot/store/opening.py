"""Opening the database: pragmas, one owner, the schema brought up to date."""

import sqlite3
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, inspect, text
from sqlalchemy.engine import make_url
from sqlalchemy.exc import DBAPIError

from bot.store import saved as _saved  # noqa: F401 - its tables belong to the schema
from bot.store.ready import in_house_terms
from bot.store.tables import EDITION, metadata


class StoreFault(RuntimeError):
    """The database cannot be used; the message says why and what to do."""


def open_engine(url: str) -> Engine:
    """An engine whose transactions are real ones from the first statement."""
    place = make_url(url)
    if place.get_backend_name() != "sqlite":
        if place.drivername == "postgresql":
            place = place.set(drivername="postgresql+psycopg")
        return create_engine(place, connect_args={"connect_timeout": 5, "application_name": "perpend"})
    engine = create_engine(url)

    @event.listens_for(engine, "connect")
    def _prepare(connection: Any, _record: Any) -> None:
        connection.isolation_level = None  # the driver's own BEGIN comes too late: we say it ourselves
        for pragma in ("journal_mode=WAL", "synchronous=FULL", "busy_timeout=5000", "foreign_keys=ON"):
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        try:
            connection.connection.cursor().execute("BEGIN IMMEDIATE")
        except sqlite3.Error as error:  # somebody else has the file locked
            raise in_house_terms(connection.dialect, "BEGIN", error) from error

    return engine


def file_of(url: str) -> Path | None:
    """The file that a database is, if it is one."""
    place = make_url(url)
    if place.get_backend_name() != "sqlite" or not place.database or place.database == ":memory:":
        return None
    return Path(place.database)


def claim_file(url: str) -> Any:
    """Hold a SQLite file for this process alone; the hold ends with the process, however it ends."""
    path = file_of(url)
    if path is None:
        return None
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    try:
        import fcntl
    except ImportError:  # no such lock on this platform
        return None
    lock = Path(f"{path}.lock").open("w")  # noqa: SIM115 - kept open as long as the process owns the file
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        lock.close()
        raise StoreFault("another bot process already works on this database file") from None
    return lock


def bring_up_to_date(engine: Engine) -> None:
    """Create or migrate the tables; the migration tool is loaded only when there is something to do."""
    with engine.begin() as connection:
        if engine.dialect.name == "postgresql":  # one worker at a time
            connection.execute(text("SELECT pg_advisory_xact_lock(4201)"))
        found = edition(connection)
        if found == EDITION:
            return
        if found is None:
            metadata.create_all(connection)
            connection.execute(
                text("CREATE TABLE alembic_version (version_num VARCHAR(32) NOT NULL PRIMARY KEY)")
            )
            connection.execute(text("INSERT INTO alembic_version VALUES (:edition)"), {"edition": EDITION})
            return
    from bot.store.upgrading import upgrade

    upgrade(engine)


def edition(connection: Connection) -> str | None:
    """The migration that a database stands at; None where it has no tables of ours."""
    if not inspect(connection).has_table("alembic_version"):
        return None
    try:
        return connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    except DBAPIError as error:
        raise StoreFault("the database does not tell its schema version") from error
