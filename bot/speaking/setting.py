"""Words set on A4 pages: lines broken to a width, columns, headings, tables; as strokes, in points."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import lru_cache

from bot.speaking.fonts import length
from bot.speaking.strokes import Line, Paper, Shape, Stroke

WIDTH, HEIGHT, MARGIN = 595.0, 842.0, 34.0
ROOM = WIDTH - 2 * MARGIN
FOOT = HEIGHT - 40  # below it only the line at the foot of the page
_LEAD = 1.24  # line to line, of the size of the letters


@lru_cache(maxsize=4096)
def broken(words: str, size: float, width: float, bold: bool = False, head: str = "") -> tuple[str, ...]:
    """Words broken into lines no wider than `width`, after `head` in bold; a longer word stands alone."""
    lines: list[str] = []
    line, space = "", length(" ", size, bold)
    wide = -space
    if head:
        line, wide, words = head, length(f"{head} ", size, True) - space, words.removeprefix(head)
    for word in words.split():
        own = length(word, size, bold)
        if line and wide + space + own > width:
            lines.append(line)
            line, wide = word, own
        else:
            line, wide = (f"{line} {word}", wide + space + own) if line else (word, own)
    return (*lines, line) if line else tuple(lines)


@dataclass(frozen=True)
class Block:
    """A paragraph: its words after an optional head in bold, with a mark before it or a box to tick."""

    words: str
    head: str = ""
    tick: bool = False
    indent: float = 0

    def lines(self, size: float, width: float) -> tuple[str, ...]:
        """Lines, the head in the first of them."""
        return broken(f"{self.head} {self.words}".strip(), size, width - self.inset(size), head=self.head)

    def inset(self, size: float) -> float:
        """How far in the words stand."""
        return size * 1.5 if self.tick else self.indent

    def tall(self, size: float, width: float) -> float:
        """Height on the page."""
        return len(self.lines(size, width)) * size * _LEAD + size * 0.28


@dataclass
class Setter:
    """Lays blocks on page after page; `size` is that of the small print."""

    size: float
    pages: list[Paper] = field(default_factory=lambda: [Paper(WIDTH, HEIGHT)])
    y: float = MARGIN

    @property
    def page(self) -> Paper:
        return self.pages[-1]

    def room(self) -> float:
        """What is left of the page."""
        return FOOT - self.y

    def turn(self) -> None:
        """A new page."""
        self.pages.append(Paper(WIDTH, HEIGHT))
        self.y = MARGIN

    def heading(self, words: str, needs: float = 30) -> None:
        """A heading, never alone at the foot of a page."""
        if self.room() < needs + 16:
            self.turn()
        self.y += 5
        self.page.text((MARGIN, self.y + 7), words, 11, bold=True)
        self.page.line((MARGIN, self.y + 15), (WIDTH - MARGIN, self.y + 15), 0.7)
        self.y += 20

    def block(self, block: Block, left: float = MARGIN, width: float = ROOM) -> None:
        """One paragraph, on the next page where it does not fit."""
        if block.tall(self.size, width) > self.room():
            self.turn()
        self.y = self._put(block, left, width, self.y)

    def columns(self, blocks: list[Block], count: int = 2, gap: float = 14) -> None:
        """Paragraphs in columns of like height, page by page."""
        width = (ROOM - gap * (count - 1)) / count
        rest = list(blocks)
        while rest:
            talls = [block.tall(self.size, width) for block in rest]
            even = _even(talls, count)
            if even > self.room() and talls[0] > self.room():
                self.turn()
                continue
            limit = min(even, self.room())
            top, lowest, place = self.y, self.y, 0
            for column in range(count):
                y = top
                while place < len(rest) and y + talls[place] <= top + limit + 0.01:
                    y = self._put(rest[place], MARGIN + column * (width + gap), width, y)
                    place += 1
                lowest = max(lowest, y)
            rest, self.y = rest[place:], lowest
            if rest:
                self.turn()

    def table(
        self, rows: list[tuple[str, ...]], widths: tuple[float, ...], heads: tuple[str, ...] = ()
    ) -> None:
        """Rows of cells under bold heads, lightly ruled; the second cell in bold."""
        for place, row in enumerate([heads, *rows] if heads else rows):
            head = bool(heads) and place == 0
            cells = [
                broken(words, self.size, wide - 6, head or n == 1)
                for n, (words, wide) in enumerate(zip(row, widths, strict=True))
            ]
            tall = max(map(len, cells)) * self.size * _LEAD + 3.2
            if tall > self.room():
                self.turn()
            left = MARGIN
            for n, (cell, wide) in enumerate(zip(cells, widths, strict=True)):
                for line, words in enumerate(cell):
                    y = self.y + 1.6 + (line + 0.5) * self.size * _LEAD
                    self.page.text((left + 2, y), words, self.size, bold=head or n == 1)
                left += wide
            self.y += tall
            self.page.line(
                (MARGIN, self.y), (WIDTH - MARGIN, self.y), 0.6 if head else 0.3, 0 if head else 150
            )

    def _put(self, block: Block, left: float, width: float, y: float) -> float:
        inset = block.inset(self.size)
        if block.tick:
            box = self.size * 0.95
            self.page.box(left + 1, y + 1, left + 1 + box, y + 1 + box, 0.8)
        for place, words in enumerate(block.lines(self.size, width)):
            at = (left + inset, y + (place + 0.5) * self.size * _LEAD)
            if place == 0 and block.head and words.startswith(block.head):
                self.page.text(at, block.head, self.size, bold=True)
                rest = words[len(block.head) :].lstrip()
                self.page.text((at[0] + length(block.head + " ", self.size, True), at[1]), rest, self.size)
            else:
                self.page.text(at, words, self.size)
        return y + block.tall(self.size, width)

    def picture(self, drawing: Paper, left: float, top: float, scale: float) -> None:
        """A drawing as vectors, reduced."""
        for stroke in drawing.strokes:
            self.page.strokes.append(moved(stroke, left, top, scale))


def moved(stroke: Stroke, left: float, top: float, scale: float) -> Stroke:
    """A stroke at another place and size."""

    def at(point: tuple[float, float]) -> tuple[float, float]:
        return left + point[0] * scale, top + point[1] * scale

    if isinstance(stroke, Line):
        dash = tuple(part * scale for part in stroke.dash)
        return Line(at(stroke.start), at(stroke.end), stroke.width * scale, stroke.tone, dash)
    if isinstance(stroke, Shape):
        return Shape(tuple(map(at, stroke.points)), stroke.width * scale, stroke.tone, stroke.fill)
    return replace(stroke, at=at(stroke.at), size=stroke.size * scale, length=stroke.length * scale)


def _even(talls: list[float], count: int) -> float:
    """The least height at which the paragraphs fill no more than `count` columns."""
    low, high = max(talls), sum(talls)
    while high - low > 0.5:
        middle = (low + high) / 2
        columns, y = 1, 0.0
        for tall in talls:
            if y + tall > middle:
                columns, y = columns + 1, 0.0
            y += tall
        low, high = (low, middle) if columns <= count else (middle, high)
    return high
