"""Migrations, run by alembic from inside the program."""

from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.util import CommandError
from sqlalchemy import Connection, Engine, text

from bot.store.opening import StoreFault


def config(connection: Connection) -> Config:
    """The migration tool's settings for one open connection."""
    settings = Config()
    settings.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
    settings.attributes["connection"] = connection
    return settings


def upgrade(engine: Engine) -> None:
    """Take the tables from whatever edition they have to the newest."""
    with engine.begin() as connection:
        if engine.dialect.name == "postgresql":  # one worker at a time
            connection.execute(text("SELECT pg_advisory_xact_lock(4201)"))
        try:
            command.upgrade(config(connection), "head")
        except CommandError as error:
            raise StoreFault(f"the database has a schema this version does not know: {error}") from error
