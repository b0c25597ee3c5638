"""Runs the migrations on the connection that the program hands over."""

from alembic import context

from bot.store import saved as _saved  # noqa: F401 - its tables belong to the schema
from bot.store.tables import metadata

context.configure(
    connection=context.config.attributes["connection"], target_metadata=metadata, render_as_batch=True
)
context.run_migrations()
