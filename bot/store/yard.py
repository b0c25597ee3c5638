"""What the foreman of the queue may see and do: never a word of what people wrote."""

import json
import re
import time
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, delete, select, update

from bot.store.rows import Letter
from bot.store.tables import ASIDE, NEW, inbox, is_aside, orders, outbox
from bot.store.taking import PIECES

IN, OUT = "in", "out"


@dataclass(frozen=True, slots=True)
class Reject:
    """A row that was set aside: which way it was going, its number, kind of fault, tries, when it came."""

    way: str
    row: int
    fault: str
    tries: int
    at: float


def rejects(connection: Connection, most: int) -> list[Reject]:
    """What was set aside last, newest first, without content."""
    found: list[Reject] = []
    for way, table in ((IN, inbox), (OUT, outbox)):
        columns = (table.c.id, table.c.fault, table.c.tries, table.c.at)
        asked = select(*columns).where(is_aside).order_by(table.c.id.desc()).limit(most)
        found += [
            Reject(way, row, plain(fault), tries, at) for row, fault, tries, at in connection.execute(asked)
        ]
    return sorted(found, key=lambda one: -one.at)[:most]


def plain(fault: str | None) -> str:
    """The kind of a fault; what is quoted or numbered in it may be a person's."""
    return re.split(r"[\"'<>\d@]", fault or "")[0].strip(" :,") or "unknown"


def relay_in(connection: Connection, row: int) -> bool:
    """Have an update worked again: what its first working left to be sent is taken back."""
    mine = (outbox.c.id >= row * PIECES) & (outbox.c.id < (row + 1) * PIECES)
    if connection.execute(select(outbox.c.id).where(mine, outbox.c.stage == NEW)).first():
        return False
    again = update(inbox).where(inbox.c.id == row, inbox.c.stage == ASIDE, inbox.c.body.is_not(None))
    if not connection.execute(again.values(stage=NEW, tries=0, fault=None)).rowcount:
        return False
    connection.execute(delete(outbox).where(mine))
    return True


def relay_out(connection: Connection, row: int) -> Letter | None:
    """Have a letter sent again."""
    again = update(outbox).where(outbox.c.id == row, outbox.c.stage == ASIDE)
    if not connection.execute(again.values(stage=NEW, tries=0, due=0.0, fault=None)).rowcount:
        return None
    columns = (outbox.c.method, outbox.c.body, outbox.c.lane, outbox.c.chat, outbox.c.message, outbox.c.id)
    method, body, *rest = connection.execute(select(*columns).where(outbox.c.id == row)).one()
    return Letter(method, json.loads(body), *rest)


def give_order(connection: Connection, name: str) -> None:
    """Give all workers an order."""
    lift_orders(connection, [name])
    connection.execute(orders.insert().values(name=name, at=time.time()))


def lift_orders(connection: Connection, names: Sequence[str]) -> None:
    """Take orders back."""
    connection.execute(delete(orders).where(orders.c.name.in_(names)))


def standing_orders(connection: Connection) -> dict[str, float]:
    """The orders that stand, and how many seconds ago each was given."""
    now = time.time()
    return {name: now - at for name, at in connection.execute(select(orders.c.name, orders.c.at))}
