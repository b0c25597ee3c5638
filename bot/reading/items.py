"""What a message is made of once it is read: measures, pairs, mixes, phrases, and what is set aside."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import lru_cache

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


@lru_cache(maxsize=4096)
def _by_head(tags: tuple[Tag, ...]) -> dict[Tag, Tag]:
    """The first tag of each beginning: readers ask some hundreds of times a message."""
    found: dict[Tag, Tag] = {}
    for tag in tags:
        for n in range(len(tag) + 1):
            found.setdefault(tag[:n], tag)
    return found


@dataclass(slots=True, eq=False)
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
    low: str = field(default="", repr=False)  # the text in lower case
    cues: frozenset[str] = field(default=frozenset(), repr=False)  # the cues that it is a word of
    _heads: dict[Tag, Tag] = field(init=False, repr=False, compare=False)
    _of: tuple[Tag, ...] | None = field(default=None, init=False, repr=False, compare=False)

    def heads(self) -> Iterable[Tag]:
        """The beginnings of all its tags."""
        return _by_head(self.tags)

    def tag(self, *head: str) -> Tag | None:
        """The first tag that begins so."""
        if self._of is not self.tags:  # tags are given anew, never changed in place
            self._heads, self._of = _by_head(self.tags), self.tags
        return self._heads.get(head)

    def tagged(self, *head: str) -> bool:
        """Whether a tag begins so."""
        if self._of is not self.tags:
            self._heads, self._of = _by_head(self.tags), self.tags
        return head in self._heads

    def says(self, cue: str) -> bool:
        """Whether the whole of it is one of the words of a cue."""
        return cue in self.cues

    @property
    def size(self) -> Measure:
        """The only, or first, measure."""
        return self.sizes[0]
