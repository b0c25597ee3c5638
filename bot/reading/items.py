"""What a message is made of once it is read: measures, pairs, mixes, phrases, and what is set aside."""

from __future__ import annotations

from dataclasses import dataclass, field

from knowledge.units import convert

Tag = tuple[str, ...]


@dataclass(slots=True)
class Measure:
    """A number with the unit that stands at it, if any. `values` are candidates."""

    values: tuple[float, ...]
    unit: str
    start: int
    end: int
    decimal: bool = False
    comma: bool = False
    spelt: bool = False
    grouped: bool = False
    negative: bool = False
    bound: str | None = None
    lent: bool = False  # the unit was lent by a neighbour

    @property
    def value(self) -> float:
        """The first candidate, with its sign."""
        return -self.values[0] if self.negative else self.values[0]

    def to_mm(self) -> float:
        """A length in millimetres."""
        return convert(self.value, self.unit or "mm", "mm")

    @property
    def whole(self) -> bool:
        """A plain count could be meant."""
        return not self.unit and not self.negative and any(v == int(v) for v in self.values)


@dataclass(slots=True)
class Item:
    """One thing in a message, with its place. `used` names the slot that took it."""

    kind: str  # measure, dims, ratio, range, phrase, word, mark, aside, code, bad
    text: str
    start: int
    end: int
    sizes: list[Measure] = field(default_factory=list)
    tags: tuple[Tag, ...] = ()
    why: str = ""
    used: str = ""
    weak: bool = False
    before: bool = False  # a comma, dash or stop stands before it

    def tag(self, *head: str) -> Tag | None:
        """The first tag that begins so."""
        n = len(head)
        for tag in self.tags:
            if tag[:n] == head:
                return tag
        return None

    def tagged(self, *head: str) -> bool:
        """Whether a tag begins so."""
        return self.tag(*head) is not None

    @property
    def size(self) -> Measure:
        """The only, or first, measure."""
        return self.sizes[0]
