"""A statement made ready once and handed to the driver: looking it up again costs more than it does."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from sqlalchemy import Connection, CursorResult, Executable
from sqlalchemy.engine import Dialect

Row = Mapping[str, Any]


class Ready:
    """One statement of the hot path; `made` is it, or makes it in the words of a database."""

    def __init__(
        self, made: Executable | Callable[[str], Executable], columns: Sequence[str] | None = None
    ) -> None:
        self._made = made
        self._columns = columns  # of an insertion: those that get a value
        self._for: dict[str, tuple[str, Sequence[str] | None, Row]] = {}

    def rows(self, connection: Connection, row: Row) -> list[Any]:
        """What it finds with these values."""
        return list(self.run(connection, row))

    def run(self, connection: Connection, row: Row) -> CursorResult[Any]:
        """Run it with these values."""
        words, order, fixed = self._ready(connection.dialect)
        return connection.exec_driver_sql(words, _values(order, fixed, row))

    def run_each(self, connection: Connection, rows: Sequence[Row]) -> CursorResult[Any]:
        """Run it once for every row of values; a list without any is a fault."""
        words, order, fixed = self._ready(connection.dialect)
        return connection.exec_driver_sql(words, [_values(order, fixed, row) for row in rows])

    def _ready(self, dialect: Dialect) -> tuple[str, Sequence[str] | None, Row]:
        found = self._for.get(dialect.name)
        if found is None:
            made: Any = self._made(dialect.name) if callable(self._made) else self._made
            compiled = made.compile(dialect=dialect, column_keys=self._columns)
            order = compiled.positiontup if compiled.positional else None
            found = self._for[dialect.name] = (str(compiled), order, compiled.params)
        return found


def _values(order: Sequence[str] | None, fixed: Row, row: Row) -> Any:
    if order is None:
        return {**fixed, **row}
    return tuple(row[name] if name in row else fixed[name] for name in order)
