"""A reply as HTML messages of the chat: escaped once, measured as the platform measures."""

from collections.abc import Iterable, Mapping
from typing import Protocol

LIMIT = 4096
"""Most characters of one message after its markup is taken away, in UTF-16 units."""
BUDGET = 1500
"""What one look can take in; beyond it rules and notes fold away with the working."""
WORKING = 600
"""Most of the arithmetic; the whole of it, and the rules beyond the foremost, are for those who ask."""

_ORDER = ("danger", "number", "read", "assumed", "caution", "rule", "note", "care", "working", "ask")
_PLACE = {kind: place for place, kind in enumerate(_ORDER)}
_BOLD = frozenset({"danger", "number", "ask"})
_FOLDS = ("note", "rule")


class Said(Protocol):
    """A line of a reply: what kind it is, and its plain text."""

    @property
    def kind(self) -> str:
        """One of the kinds in the order above."""

    @property
    def text(self) -> str:
        """Plain text, not escaped."""


def units(text: str) -> int:
    """Length in UTF-16 units, as the platform counts."""
    return len(text) if text.isascii() else len(text.encode("utf-16-le", "surrogatepass")) // 2


def escape(text: str) -> str:
    """The three characters that HTML mode keeps for itself."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def whole(text: str) -> str:
    """Text without half characters, which no message may carry, and without NUL, which no database keeps."""
    if "\0" in text:
        text = text.replace("\0", "\ufffd")
    if text.isascii():
        return text
    try:
        text.encode()
    except UnicodeEncodeError:
        return text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")
    return text


def cut(text: str, most: int) -> str:
    """Text of at most so many units, with dots where there is more."""
    text = whole(text)
    return text if units(text) <= most else text[: _reach(text, most - 1)].rstrip() + "…"


def render(lines: Iterable[Said], marks: Mapping[str, str] | None = None) -> list[str]:
    """One message where it fits, more only past the platform's limit, cut where a block ends.

    `marks` are words that tell what kind of line it is, for who cannot see it.
    """
    told = [(x.kind, whole(x.text).strip()) for x in lines if x.kind != "further"]
    told.sort(key=lambda x: _PLACE[x[0]])
    ordered = [(kind, _marked(kind, text, marks or {})) for kind, text in told if text]
    folded = {"care", "working"}
    sizes = [(kind, units(text) + 1) for kind, text in ordered if kind not in folded]
    for kind in _FOLDS:
        if sum(size for k, size in sizes if k not in folded) > BUDGET:
            folded.add(kind)
    shown = [(kind in _BOLD, text) for kind, text in ordered if kind not in folded and kind != "ask"]
    quoted = [text for kind, text in ordered if kind in folded and kind != "working"]
    quoted += _first(text for kind, text in ordered if kind == "working")
    asked = [(True, text) for kind, text in ordered if kind == "ask"]
    return _pack([*_plain(shown), *_quote(quoted), *_plain(asked)])


def _marked(kind: str, text: str, marks: Mapping[str, str]) -> str:
    return f"{marks[kind]} {text}" if kind in marks else text


def pages(blocks: Iterable[tuple[bool, str]]) -> list[str]:
    """Plain blocks, the true ones bold, as few messages as hold them."""
    return _pack(_plain((bold, whole(text).strip()) for bold, text in blocks if text.strip()))


def _first(workings: Iterable[str]) -> list[str]:
    """As many whole lines of the arithmetic as there is room for; a dot line where there is more."""
    kept: list[str] = []
    room = WORKING
    for line in (line for text in workings for line in text.split("\n")):
        room -= units(line) + 1
        if room < 0:
            return [*kept, "…"]
        kept.append(line)
    return kept


def _plain(lines: Iterable[tuple[bool, str]]) -> list[tuple[int, str]]:
    return [
        (units(piece) + 1, f"<b>{escape(piece)}</b>" if bold else escape(piece))
        for bold, text in lines
        for piece in _cut(text, LIMIT - 1)
    ]


def _quote(lines: Iterable[str]) -> list[tuple[int, str]]:
    pieces: list[str] = []
    for line in (piece for text in lines for piece in _cut(text, LIMIT - 1)):
        if pieces and units(pieces[-1]) + 1 + units(line) < LIMIT:
            pieces[-1] += "\n" + line
        else:
            pieces.append(line)
    return [(units(x) + 1, f"<blockquote expandable>{escape(x)}</blockquote>") for x in pieces]


def _pack(blocks: Iterable[tuple[int, str]]) -> list[str]:
    messages: list[list[str]] = []
    room = 0
    for size, block in blocks:
        if size > room:
            messages.append([])
            room = LIMIT
        messages[-1].append(block)
        room -= size
    return ["\n".join(blocks) for blocks in messages]


def _cut(text: str, most: int) -> list[str]:
    """Pieces of at most so many units, cut at a line end or a space where there is one."""
    if 2 * len(text) <= most:
        return [text] if text else []
    pieces = []
    while units(text) > most:
        end = most if text.isascii() else _reach(text, most)
        at = max(text.rfind("\n", 1, end + 1), text.rfind(" ", 1, end + 1))
        at = at if at > end // 2 else end
        pieces.append(text[:at].rstrip())
        text = text[at:].lstrip()
    return [*pieces, text] if text else pieces


def _reach(text: str, most: int) -> int:
    """How many characters from the start fit into so many units."""
    used = 0
    for place, letter in enumerate(text):
        used += 2 if ord(letter) > 0xFFFF else 1
        if used > most:
            return place
    return len(text)
