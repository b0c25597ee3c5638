"""The tokens of a message and the items found in them so far."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.cues import NONE
from bot.reading.items import Item, Measure, Tag
from bot.reading.letters import cut, fold
from bot.reading.walk.dates import find_asides
from bot.reading.words import Words


class Walk:
    """Walks the tokens once; `items` is what it has found, in order."""

    def __init__(self, text: str, words: Words) -> None:
        folded = fold(text)
        self.text = text
        self.words = words
        self.t = cut(folded)
        self.items: list[Item] = []
        self.repaired: list[tuple[str, str]] = []
        self.asides = find_asides(folded)

    def add(
        self,
        kind: str,
        first: int,
        last: int,
        tags: tuple[Tag, ...] = (),
        sizes: Sequence[Measure] = (),
        why: str = "",
        weak: bool = False,
    ) -> int:
        """Put the tokens from `first` up to `last` down as one item; `last` again, for the next step."""
        start, end = self.t[first].start, self.t[last - 1].end
        text = self.text[start:end]
        low = text.lower()
        cues = self.words.cues.get(low, NONE)
        self.items.append(Item(kind, text, start, end, list(sizes), tags, why, "", weak, False, low, cues))
        return last

    def phrase(self, i: int) -> tuple[int, tuple[Tag, ...]] | None:
        """The longest phrase at token i: (index after it, tags)."""
        return self.words.phrase(self.t, i) if i < len(self.t) else None

    def tags(self, i: int) -> tuple[Tag, ...]:
        """The tags of the longest phrase at token i."""
        found = self.phrase(i)
        return found[1] if found else ()

    def unit(self, i: int) -> tuple[str, int] | None:
        """The longest unit at token i: (unit, index after it)."""
        return self.words.unit(self.t, i)

    def says(self, word: str, cue: str) -> bool:
        """Whether a word is one of a cue."""
        return self.words.says(word, cue)
