"""A statement made ready once and handed to the driver: looking it up again costs more than it does."""

import json
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, cast

from sqlalchemy import (
    ARRAY,
    Column,
    Connection,
    Executable,
    Select,
    String,
    Table,
    TableValuedAlias,
    Text,
    any_,
    bindparam,
    func,
    select,
)
from sqlalchemy import cast as sql_cast
from sqlalchemy.engine import Dialect
from sqlalchemy.exc import DBAPIError

Row = Mapping[str, Any]


class Ready:
    """One statement of the hot path; `made` is it, or makes it in the words of a database.

    It runs on the driver's own cursor, inside whatever transaction the connection is in.
    """

    def __init__(
        self,
        made: Executable | Callable[[str], Executable],
        columns: Sequence[str] | None = None,
        at_once: Callable[[], Executable] | None = None,
        takes_lists: bool = False,
    ) -> None:
        self._made = made
        self._columns = columns  # of an insertion: those that get a value
        self._takes_lists = takes_lists
        # a server spends more on a statement than on a row: there it takes a list of values for each name
        self._at_once = Ready(lambda _dialect: at_once(), takes_lists=True) if at_once else None
        self._for: dict[str, tuple[str, Sequence[str] | None, Row]] = {}

    def rows(self, connection: Connection, row: Row) -> list[Any]:
        """What it finds with these values."""
        words, order, fixed = self._ready(connection.dialect)
        cursor = connection.connection.cursor()
        try:
            cursor.execute(words, _values(order, fixed, row))
            found = list(cursor.fetchall())
        except _faults(connection.dialect) as error:
            raise in_house_terms(connection.dialect, words, error) from error
        return found

    def run(self, connection: Connection, row: Row) -> int:
        """Run it with these values; how many rows it touched."""
        words, order, fixed = self._ready(connection.dialect)
        cursor = connection.connection.cursor()
        try:
            cursor.execute(words, _values(order, fixed, row))
        except _faults(connection.dialect) as error:
            raise in_house_terms(connection.dialect, words, error) from error
        touched: int = cursor.rowcount
        return touched

    def run_each(self, connection: Connection, rows: Sequence[Row]) -> int:
        """Run it once for every row of values; how many rows it touched."""
        if not rows:
            return 0
        if self._at_once and len(rows) > 1 and connection.dialect.name == "postgresql":
            return self._at_once.run(connection, {name: [row[name] for row in rows] for name in rows[0]})
        words, order, fixed = self._ready(connection.dialect)
        cursor = connection.connection.cursor()
        try:
            cursor.executemany(words, [_values(order, fixed, row) for row in rows])
        except _faults(connection.dialect) as error:
            raise in_house_terms(connection.dialect, words, error) from error
        touched: int = cursor.rowcount
        return touched

    def _ready(self, dialect: Dialect) -> tuple[str, Sequence[str] | None, Row]:
        found = self._for.get(dialect.name)
        if found is None:
            made: Any = self._made(dialect.name) if callable(self._made) else self._made
            compiled = made.compile(dialect=dialect, column_keys=self._columns)
            order = compiled.positiontup if compiled.positional else None
            words = str(compiled)
            if self._takes_lists:  # written out as text they would have every quote escaped
                words = re.sub(r"%\((\w+)\)s", r"%(\1)b", words)
            found = self._for[dialect.name] = (words, order, compiled.params)
        return found


def putting(
    table: Table, columns: Sequence[str], keys: Sequence[str] = (), changed: Sequence[str] = ()
) -> Ready:
    """Insert rows; where `keys` are there already, write over what is `changed`, if anything is."""

    def or_over(made: Any) -> Executable:
        if keys and changed:
            new = {name: made.excluded[name] for name in changed}
            made = made.on_conflict_do_update(index_elements=keys, set_=new)
        elif keys:
            made = made.on_conflict_do_nothing(index_elements=keys)
        return cast("Executable", made)

    def made(dialect: str) -> Executable:
        if dialect == "postgresql":
            from sqlalchemy.dialects.postgresql import insert
        else:
            from sqlalchemy.dialects.sqlite import insert  # type: ignore[assignment]
        return or_over(insert(table))

    def at_once() -> Executable:
        from sqlalchemy.dialects.postgresql import insert

        given = lists(table, dict(zip(columns, columns, strict=True)))
        return or_over(insert(table).from_select(list(columns), select(*(given.c[name] for name in columns))))

    return Ready(made, columns, at_once)


def lists(table: Table, columns: Mapping[str, str]) -> TableValuedAlias:
    """Rows given to a server as a list for each name, of the kind of the column that it is for."""
    kinds = [table.c[column].type for column in columns.values()]
    # a cast to a kind with a length would cut what is too long without a word
    kinds = [Text() if isinstance(kind, String) else kind for kind in kinds]
    values = [sql_cast(bindparam(name), ARRAY(kind)) for name, kind in zip(columns, kinds, strict=True)]
    return func.unnest(*values).table_valued(*columns, name="given").render_derived()


def among(found: Select[Any], column: Column[Any], name: str, dialect: str) -> Executable:
    """The rows whose column is one of a list: in one statement, however long the list is."""
    if dialect == "postgresql":
        return found.where(column == any_(sql_cast(bindparam(name), ARRAY(column.type))))
    listed = func.json_each(bindparam(name)).table_valued("value")
    return found.where(column.in_(select(listed.c.value)))


def listed(connection: Connection, values: Iterable[Any]) -> Any:
    """A list as such a statement takes it."""
    return list(values) if connection.dialect.name == "postgresql" else json.dumps(list(values))


def _values(order: Sequence[str] | None, fixed: Row, row: Row) -> Any:
    if order is None:
        return {**fixed, **row}
    return tuple([row[name] if name in row else fixed[name] for name in order])


def _faults(dialect: Dialect) -> type[Exception]:
    faults: Any = dialect.dbapi and dialect.dbapi.Error
    return cast("type[Exception]", faults)


def in_house_terms(dialect: Dialect, words: str, error: Exception) -> BaseException:
    """The driver's own fault as everybody else looks for it."""
    return DBAPIError.instance(words, None, error, _faults(dialect), dialect=dialect)
