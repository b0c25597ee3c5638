"""The shape of a rule record. It loads only when complete; a fault names the field."""

from functools import cached_property
from typing import Any, Literal, Self

from pydantic import Field, model_validator

from knowledge.answers import Standing
from knowledge.questions import Model
from knowledge.units import convert, kind

Grade = Literal[
    "read", "second-hand", "trade", "memory-high", "memory-medium", "memory-low", "derived", "practice"
]  # fmt: skip
_ALLOWED: dict[Standing, tuple[Grade, ...]] = {
    "published": ("read", "second-hand", "derived"),
    "common practice": ("practice", "trade", "derived"),
    "from memory": ("memory-high", "memory-medium", "memory-low", "derived"),
}


class Source(Model):
    """A document, listed once. `seen` says how it was read."""

    title: str
    publisher: str = ""
    edition: str = ""
    seen: str


class Span(Model):
    """A range of a fact: from `least` (included) up to `most` (included); `below` leaves the top out."""

    least: float | None = None
    most: float | None = None
    below: float | None = None

    def holds(self, value: float) -> bool:
        """Whether the value lies inside."""
        return (
            (self.least is None or value >= self.least)
            and (self.most is None or value <= self.most)
            and (self.below is None or value < self.below)
        )


class When(Model):
    """When a rule applies. Words are lists of what is allowed; numbers are spans in the unit named."""

    material: tuple[str, ...] | None = None
    place: tuple[str, ...] | None = None
    leaf: tuple[str, ...] | None = None
    finish: tuple[str, ...] | None = None
    use: tuple[str, ...] | None = None
    kind: tuple[str, ...] | None = None
    severe: bool | None = None
    bed_reinforcement: bool | None = None
    thin_joint: bool | None = None
    strength: Span | None = None  # N/mm²
    height: Span | None = None  # mm, of one unit
    thickness: Span | None = None  # mm
    cavity: Span | None = None  # mm
    length: Span | None = None  # m
    width: Span | None = None  # mm
    spacing: Span | None = None  # mm
    density: Span | None = None  # kg/m³
    mass: Span | None = None  # kg
    temperature: Span | None = None  # °C
    ratio: Span | None = None

    @cached_property
    def _tied(self) -> dict[str, Any]:
        return {key: value for key in type(self).model_fields if (value := getattr(self, key)) is not None}

    def conditions(self) -> dict[str, Any]:
        """The keys that this rule is tied to."""
        return self._tied

    def apart(self, other: "When") -> bool:
        """Whether no wall meets both: a key that both are tied to has no word in common."""
        for key, mine in self._tied.items():
            theirs = other.conditions().get(key)
            if isinstance(mine, tuple) and isinstance(theirs, tuple) and not set(mine) & set(theirs):
                return True
            if isinstance(mine, bool) and isinstance(theirs, bool) and mine is not theirs:
                return True
        return False

    def holds(self, facts: dict[str, Any]) -> bool:
        """Whether every condition is met by a fact; a fact that is not known meets none."""
        for key, wanted in self._tied.items():
            fact = facts.get(key)
            if fact is None:
                return False
            met = wanted.holds(fact) if isinstance(wanted, Span) else (
                fact in wanted if isinstance(wanted, tuple) else fact == wanted)  # fmt: skip
            if not met:
                return False
        return True


class Parts(Model):
    """A mix by volume: each part from least to most."""

    cement: tuple[float, float] = (0, 0)
    lime: tuple[float, float] = (0, 0)
    sand: tuple[float, float] = (0, 0)
    plasticiser: bool = False


class Table(Model):
    """A transcribed table; `sums` guards each numeric column against a slip of the pen."""

    columns: tuple[str, ...]
    rows: tuple[tuple[float | str, ...], ...]
    sums: dict[str, float] = Field(default_factory=dict)

    @model_validator(mode="after")
    def _square(self) -> Self:
        for row in self.rows:
            if len(row) != len(self.columns):
                raise ValueError(f"row {row!r} has {len(row)} cells, the table {len(self.columns)} columns")
        for name, total in self.sums.items():
            if name not in self.columns:
                raise ValueError(f"sums names no column: {name!r}; columns: {', '.join(self.columns)}")
            place = self.columns.index(name)
            got = sum(float(row[place]) for row in self.rows)
            if abs(got - total) > 1e-9 * max(1.0, abs(total)):
                raise ValueError(f"column {name!r} sums to {got:g}, not {total:g}")
        return self

    def column(self, name: str) -> tuple[float | str, ...]:
        """One column, top to bottom."""
        place = self.columns.index(name)
        return tuple(row[place] for row in self.rows)


class Rule(Model):
    """One figure or fact of the trade.

    `figure` is what it is a figure of; several records may be of one figure, from several documents or for
    several conditions. The default among them is used, the others can be shown.
    """

    id: str
    figure: str
    statement: str
    value: float | None = None
    min: float | None = None
    max: float | None = None
    unit: str = ""
    choice: str | None = None
    items: tuple[str, ...] | None = None
    mix: Parts | None = None
    table: Table | None = None
    when: When = Field(default_factory=When)
    default: bool = True
    why: str = ""  # why it is the default where sources disagree
    source: str | None = None
    via: str | None = None  # the publication that quotes the source
    clause: str = ""
    standing: Standing
    grade: Grade
    rows: tuple[str, ...] = ()  # rows of the reference that it rests on
    note: str = ""
    in_force: str = ""  # edition or date from which it holds

    @model_validator(mode="after")
    def _complete(self) -> Self:
        shapes = [
            self.value is not None,
            self.min is not None or self.max is not None,
            self.choice is not None,
            self.items is not None,
            self.mix is not None,
            self.table is not None,
        ]
        if sum(shapes) > 1:
            raise ValueError("give one of value, min/max, choice, items, mix, table")
        kind(self.unit)
        if self.grade not in _ALLOWED[self.standing]:
            raise ValueError(f"grade {self.grade!r} cannot stand as {self.standing!r}")
        if self.standing == "published" and not (self.source and self.clause):
            raise ValueError("a published rule names its source and clause")
        if self.standing == "common practice" and self.source:
            raise ValueError("common practice has no source")
        if self.via and not self.source:
            raise ValueError("via names who quotes a source; the source is missing")
        return self

    def stands_for(self, lent: "Rule") -> bool:
        """Whether it leaves no room for a record that is lent: as wide, and on some of the same walls."""
        closer = len(self.when.conditions()) > len(lent.when.conditions())
        return not closer and not self.when.apart(lent.when)

    def number(self) -> float:
        """The single value; raises where the record has none."""
        if self.value is None:
            raise ValueError(f"rule {self.id!r} has no single value")
        return self.value

    def span(self, unit: str) -> tuple[float, float]:
        """Least and most in another unit of their kind; 0 for an end that the record leaves open."""
        least, most = (round(convert(end or 0.0, self.unit, unit), 9) for end in (self.min, self.max))
        return least, most

    def to(self, unit: str) -> float:
        """The single value in another unit of its kind, freed of the dust of binary fractions."""
        return round(convert(self.number(), self.unit, unit), 9)
