"""How fast somebody may go: places that are taken one by one and come back with time.

One process keeps them to itself; several share them in the database, by the database's own clock.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import Enum

from sqlalchemy import Connection, text

from bot.store.ready import Ready


class Verdict(Enum):
    """In; out, and to be told so; out, and told before."""

    IN, TOLD, OUT = "in", "told", "out"


@dataclass(frozen=True, slots=True)
class Rate:
    """So many at once, and so many a second after that."""

    burst: float
    a_second: float


@dataclass(slots=True)
class Places:
    """What is left, and whether it was said that nothing is."""

    left: float
    at: float = 0.0
    told: bool = False
    taken: int = 0

    def fill(self, rate: Rate, now: float) -> None:
        """What came back since; half full, the next want is worth a word again."""
        self.left = min(rate.burst, self.left + max(0.0, now - self.at) * rate.a_second)
        self.at = now
        self.told = self.told and self.left < rate.burst / 2

    def take(self) -> Verdict:
        """Take one, if there is one."""
        if self.left >= 1.0:
            self.left -= 1.0
            self.taken += 1
            return Verdict.IN
        if self.told:
            return Verdict.OUT
        self.told = True
        return Verdict.TOLD


class OwnPaces:
    """The paces of one process; what is full again is forgotten."""

    FEW = 2000

    def __init__(self) -> None:
        self._places: dict[str, Places] = {}
        self._most = self.FEW

    def take(self, keys: Iterable[str], rate: Rate, now: float) -> list[Verdict]:
        """A verdict for each of these, in order."""
        return [self._of(key, rate, now).take() for key in keys]

    def _of(self, key: str, rate: Rate, now: float) -> Places:
        found = self._places.get(key)
        if found is None:
            if len(self._places) >= self._most:
                self._forget(rate, now)
            found = self._places[key] = Places(rate.burst, now)
        found.fill(rate, now)
        return found

    def _forget(self, rate: Rate, now: float) -> None:
        for places in self._places.values():
            places.fill(rate, now)
        self._places = {key: one for key, one in self._places.items() if one.left < rate.burst}
        self._most = max(self.FEW, 2 * len(self._places))


_NOW = "extract(epoch FROM clock_timestamp())"
_look = text(
    f"SELECT key, places, told, {_NOW} - at FROM paces WHERE key = ANY(CAST(:keys AS text[]))"  # noqa: S608
)
_note = text(
    f"""INSERT INTO paces (key, places, told, at) SELECT key, :burst - taken, told, {_NOW}
    FROM unnest(CAST(:keys AS text[]), CAST(:taken AS float8[]), CAST(:told AS int[])) AS n(key, taken, told)
    ON CONFLICT (key) DO UPDATE SET told = excluded.told, at = excluded.at, places = excluded.places - :burst
    + least(:burst, paces.places + greatest(0, excluded.at - paces.at) * :a_second)"""  # noqa: S608
)


def take(connection: Connection, keys: Sequence[str], rate: Rate) -> list[Verdict]:
    """A verdict for each of these, in order; others may take at the same time, and all is counted."""
    known = {
        key: Places(places, -float(age), bool(told))
        for key, places, told, age in connection.execute(_look, {"keys": list(dict.fromkeys(keys))})
    }
    for key in keys:
        known.setdefault(key, Places(rate.burst)).fill(rate, 0.0)
    verdicts = [known[key].take() for key in keys]
    order = sorted(known)  # two that want the same rows must not lock each other
    connection.execute(
        _note,
        {
            "keys": order,
            "taken": [float(known[key].taken) for key in order],
            "told": [int(known[key].told) for key in order],
            "burst": float(rate.burst),
            "a_second": float(rate.a_second),
        },
    )
    return verdicts


_write = Ready(
    text(
        f"""INSERT INTO paces (key, places, at) VALUES (:key, :places, {_NOW})
        ON CONFLICT (key) DO UPDATE SET places = excluded.places, at = excluded.at"""  # noqa: S608
    )
)


def write(connection: Connection, key: str, places: float) -> None:
    """Note what is left to somebody whom only this worker serves at the moment."""
    _write.run(connection, {"key": key, "places": places})
