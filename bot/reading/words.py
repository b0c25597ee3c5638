"""The words of a language: phrases to tags, unit words, and the repair of a slip of the thumb."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache, cached_property
from operator import itemgetter
from pathlib import Path

import rtoml

from bot import languages
from bot.reading.cues import NONE, ByName, ByWord, read_cues
from bot.reading.items import Tag
from bot.reading.letters import Token
from bot.reading.phrases import ByLength, Phrases, Shape, flatten, inherit, laid, shape_of

LANGUAGES = languages.FOLDER
NEAR_FROM = 75  # likeness of a word that could be meant for one of ours
REPAIR_FROM, SHORT_FROM, REPAIR_AHEAD, REPAIR_LETTERS, UNIT_LETTERS = 80, 84, 5, 4, 5
REMEMBERED = 2_000  # words that were looked for; then all begins anew, and memory stays flat


@dataclass
class Words:
    """Everything that people type in one language."""

    phrases: Phrases = field(default_factory=dict)
    wishes: Phrases = field(default_factory=dict)
    units: dict[str, list[tuple[Shape, str]]] = field(default_factory=dict)
    glued_units: frozenset[str] = frozenset()
    written: dict[Shape, list[Tag]] = field(default_factory=dict)  # phrases in the order of the file
    wished: dict[Shape, list[Tag]] = field(default_factory=dict)
    cue: ByName = field(default_factory=dict)
    cues: ByWord = field(default_factory=dict)
    folder: Path = LANGUAGES / "en"

    @cached_property
    def vocabulary(self) -> dict[str, tuple[Tag, ...]]:
        """Every word of the trade with what it means alone; made when a word is first to be repaired."""
        found: dict[str, tuple[Tag, ...]] = {}
        spoken = [
            shape
            for shape, tags in self.written.items()
            if not any(tag[0] in {"filler", "chatter", "off", "aside"} for tag in tags)
        ]
        for shape in (*self.wished, *spoken):
            for word in shape:
                if len(word) >= REPAIR_LETTERS and word.isalpha():
                    found[word] = tuple(self.written.get((word,), ())) or (("part", word),)
        for shape in (shape for pairs in self.units.values() for shape, _ in pairs if len(shape) == 1):
            if len(shape[0]) >= UNIT_LETTERS and shape[0].isalpha():
                found.setdefault(shape[0], (("unit",),))
        return found

    @cached_property
    def relative(self) -> dict[str, str]:
        """Cues of words that move a size by as much as they say, and the mark that each leaves."""
        return {cue: f"by {cue.partition('.')[2]}" for cue in self.cue if cue.startswith("relative.")}

    @cached_property
    def changes(self) -> dict[str, list[tuple[str, str]]]:
        """Turns of speech that change what a conversation holds, by their first word: words, and the turn.

        Blanks stand around the words.
        """
        found: dict[str, list[tuple[str, str]]] = {}
        for name, said in self.cue.items():
            if name.startswith("change."):
                for words in said:
                    turn = (f" {words} ", name.partition(".")[2])
                    found.setdefault(words.split()[0], []).append(turn)
        return found

    def phrase(self, t: list[Token], i: int) -> tuple[int, tuple[Tag, ...]] | None:
        """The longest phrase at token i: (index after it, tags)."""
        by_length = self.phrases.get(t[i].text)
        if by_length is None:
            return None
        ahead = _ahead(by_length, t, i)
        for n, shapes in by_length.items():
            tags = shapes.get(ahead[:n])
            if tags is not None:
                return i + n, tags
        return None

    def wish(self, t: list[Token], i: int) -> list[tuple[int, tuple[Tag, ...]]]:
        """Every wish that begins at token i, the longest first, as phrase has it. Wishes lie over phrases."""
        by_length = self.wishes.get(t[i].text)
        if by_length is None:
            return []
        ahead = _ahead(by_length, t, i)
        return [(i + n, shapes[ahead[:n]]) for n, shapes in by_length.items() if ahead[:n] in shapes]

    def unit(self, t: list[Token], i: int) -> tuple[str, int] | None:
        """The longest unit at token i: (unit, index after it)."""
        if i >= len(t):
            return None
        for shape, unit in self.units.get(t[i].text, ()):
            n = len(shape)
            if n == 1:
                if not (t[i].spaced and shape[0] in self.glued_units):
                    return unit, i + 1
            elif i + n <= len(t) and all(
                t[i + k].text == shape[k] and (not t[i + k].spaced or t[i + k].kind == "word")
                for k in range(1, n)
            ):
                return unit, i + n
        return None

    def names(self, text: str) -> frozenset[str]:
        """The cues that a word, in lower case, is one of."""
        return self.cues.get(text, NONE)

    def says(self, text: str, cue: str) -> bool:
        """Whether a word is one of a cue."""
        return cue in self.cues.get(text, NONE)

    def starts(self, *cues: str) -> frozenset[str]:
        """The words, and their first words, of these cues."""
        return _starts(self.folder, cues)

    def strange(self, word: str) -> bool:
        """Whether a word is neither of ours nor an ordinary one."""
        unknown = word.isalpha() and len(word) >= REPAIR_LETTERS
        return unknown and word not in _known(self.folder) and word not in self.vocabulary

    def like_ours(self, word: str) -> bool:
        """Whether a word that is no ordinary one comes near one of ours, or has just its letters."""
        return self.strange(word) and _near(self, word)

    def slip_of(self, word: str, name: str) -> bool:
        """Whether a short word is one letter from a name of ours."""
        if word in self.vocabulary or len(word) != len(name) - 1:
            return False
        return any(name[:k] + name[k + 1 :] == word for k in range(len(name)))

    def repair(self, word: str) -> str | None:
        """The word of our trade that was meant, if one stands clearly ahead and the word is no other word."""
        if len(word) < REPAIR_LETTERS or not word.isalpha():
            return None
        return _repair(self, word)


def _ahead(by_length: ByLength, t: list[Token], i: int) -> Shape:
    """The words from token i on, as many as the longest of these phrases has."""
    if next(iter(by_length)) == 1:
        return (t[i].text,)
    return tuple(map(_text, t[i : i + next(iter(by_length))]))


_text = itemgetter(Token._fields.index("text"))


@cache
def _known(folder: Path) -> frozenset[str]:
    """Ordinary words that are never repaired."""
    lines = (folder / "known.txt").read_text(encoding="utf-8").splitlines()
    return frozenset(line for line in lines if line and not line.startswith("#"))


@cache
def _starts(folder: Path, cues: tuple[str, ...]) -> frozenset[str]:
    said = read_cues(folder)[0]
    return frozenset(start for cue in cues for words in said[cue] for start in (words, words.split()[0]))


_REPAIRS: dict[tuple[Path, str], str | None] = {}


def _repair(words: Words, word: str) -> str | None:
    key = (words.folder, word)
    if key not in _REPAIRS:
        if len(_REPAIRS) >= REMEMBERED:
            _REPAIRS.clear()
        _REPAIRS[key] = None if word in _known(words.folder) else _nearest(word, words.vocabulary)
    return _REPAIRS[key]


_NEAR: dict[tuple[Path, str], bool] = {}


def _near(words: Words, word: str) -> bool:
    from rapidfuzz import fuzz, process

    key = (words.folder, word)
    if key not in _NEAR:
        if len(_NEAR) >= REMEMBERED:
            _NEAR.clear()
        best = process.extractOne(word, list(words.vocabulary), scorer=fuzz.ratio, score_cutoff=NEAR_FROM)
        letters = sorted(word)
        _NEAR[key] = best is not None or any(
            len(one) == len(word) and sorted(one) == letters for one in words.vocabulary
        )
    return _NEAR[key]


def _nearest(word: str, vocabulary: dict[str, tuple[Tag, ...]]) -> str | None:
    """The nearest word, well ahead of every word of another meaning; a short word needs more likeness."""
    from rapidfuzz import fuzz, process

    best = process.extract(word, list(vocabulary), scorer=fuzz.ratio, limit=6, score_cutoff=REPAIR_FROM)
    if not best:
        return None
    first, score = best[0][0], best[0][1]
    if len(word) < 6 and score < SHORT_FROM and sorted(word) != sorted(first):
        return None
    for other, near, _ in best[1:]:
        if (
            score - near < REPAIR_AHEAD
            and vocabulary[other] != vocabulary[first]
            and other.rstrip("s") != first.rstrip("s")
            and not _a_slip_of(other, first, vocabulary)
        ):
            return None
    return first


def _a_slip_of(other: str, first: str, vocabulary: dict[str, tuple[Tag, ...]]) -> bool:
    """Whether one of ours is another way to type the same word: near it, and of the same thing."""
    from rapidfuzz import fuzz

    alike = not set(vocabulary[other]).isdisjoint(vocabulary[first])
    return alike and fuzz.ratio(other, first) >= REPAIR_FROM


@cache
def words(language: str = "en") -> Words:
    """The words of a language, read once from words.toml."""
    folder = languages.folder(language)
    table = rtoml.loads((folder / "words.toml").read_text(encoding="utf-8"))
    result = Words(folder=folder)
    result.cue, result.cues = read_cues(folder)
    units = table.pop("unit")
    result.glued_units = frozenset(units.pop("glued"))
    for unit, spellings in units.items():
        for spelling in spellings:
            shape = shape_of(spelling)
            result.units.setdefault(shape[0], []).append((shape, unit))
    merged: dict[Shape, list[Tag]] = {}
    wishes: dict[Shape, list[Tag]] = {}
    for tag, phrase in flatten(table, ()):
        (wishes if tag[0] == "wants" else merged).setdefault(shape_of(phrase), []).append(tag)
    inherit(merged)
    result.wished, result.written = wishes, merged
    result.wishes, result.phrases = laid(wishes), laid(merged)
    for pairs in result.units.values():
        pairs.sort(key=lambda entry: -len(entry[0]))
    return result
