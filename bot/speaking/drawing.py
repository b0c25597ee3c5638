"""The elevation of a wall as a picture (PNG) or as vectors (SVG), from one list of strokes.

Imported only where a drawing is asked for: it brings Pillow with it.
"""

from __future__ import annotations

from io import BytesIO
from xml.sax.saxutils import escape

from bot.speaking.elevation import draw
from bot.speaking.fonts import FAMILY, face
from bot.speaking.numerals import quantity
from bot.speaking.strokes import Line, Paper, Shape, Text, dashes
from knowledge.answers import Answer
from knowledge.figure import figure
from knowledge.questions import Question

_TWICE = 2  # drawn at double size and reduced, which smooths the edges


class NoDrawing(ValueError):
    """An answer that has no wall to draw: without a length there is none."""


def elevation(question: Question, answer: Answer) -> Paper:
    """The strokes. Raises NoDrawing where the wall has no length."""
    wall = figure(question, answer)
    if wall is None:
        raise NoDrawing("a drawing needs the length of the wall")
    return draw(wall, title(question))


def title(question: Question, name: str = "") -> str:
    """'Wall A, 10.2 m × 2.6 m'; `name` for another first word."""
    reading = question.reading
    sizes = " × ".join(
        quantity(size.plain()) for size in (reading.length, reading.height) if size is not None
    )
    name = name or ("Gable" if reading.shape == "triangle" else "Wall")
    return f"{name} {question.wall}, {sizes}" if question.wall else f"{name}, {sizes}"


def png(question: Question, answer: Answer) -> bytes:
    """A greyscale picture 1200 pixels wide. Raises NoDrawing where the wall has no length."""
    return paint(elevation(question, answer))


def svg(question: Question, answer: Answer) -> str:
    """The same as vectors. Raises NoDrawing where the wall has no length."""
    return trace(elevation(question, answer))


def paint(paper: Paper) -> bytes:
    """Strokes as PNG."""
    from PIL import Image, ImageDraw

    k = _TWICE
    picture = Image.new("L", (round(paper.width) * k, round(paper.height) * k), 255)
    pen = ImageDraw.Draw(picture)
    for stroke in paper.strokes:
        if isinstance(stroke, Line):
            for start, end in dashes(stroke.start, stroke.end, stroke.dash):
                ends = (start[0] * k, start[1] * k, end[0] * k, end[1] * k)
                pen.line(ends, stroke.tone, max(1, round(stroke.width * k)))
        elif isinstance(stroke, Shape):
            points = [(x * k, y * k) for x, y in stroke.points]
            if stroke.fill is not None:
                pen.polygon(points, stroke.fill)
            if stroke.width:
                pen.line(
                    [*points, points[0], points[1]], stroke.tone, max(1, round(stroke.width * k)), "curve"
                )
        elif stroke.upright:
            _turned(picture, stroke)
        else:
            anchor = {"left": "lm", "middle": "mm", "right": "rm"}[stroke.anchor]
            at = (stroke.at[0] * k, stroke.at[1] * k)
            pen.text(at, stroke.words, stroke.tone, face(stroke.size * k, stroke.bold), anchor)
    out = BytesIO()
    picture.reduce(k).save(out, "PNG", compress_level=2)  # a third of the time of 6, a fifth larger
    return out.getvalue()


def _turned(picture: object, stroke: Text) -> None:
    """Words that read from the bottom up, about their middle."""
    from PIL import Image, ImageDraw

    k = _TWICE
    long, high = round((stroke.length + 8) * k), round(stroke.size * 1.4 * k)
    strip = Image.new("L", (long, high), 0)
    ImageDraw.Draw(strip).text(
        (long / 2, high / 2), stroke.words, 255, face(stroke.size * k, stroke.bold), "mm"
    )
    turned = strip.transpose(Image.Transpose.ROTATE_90)
    assert isinstance(picture, Image.Image)
    place = (round(stroke.at[0] * k - high / 2), round(stroke.at[1] * k - long / 2))
    picture.paste(stroke.tone, (*place, place[0] + high, place[1] + long), turned)


def trace(paper: Paper) -> str:
    """Strokes as SVG."""
    wide, high = round(paper.width), round(paper.height)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {wide} {high}" width="{wide}" height="{high}" '
        f"font-family=\"'{FAMILY}', sans-serif\">"
    )
    parts = [
        head,
        f'<rect width="{wide}" height="{high}" fill="#fff"/>',
    ]
    parts += [_traced(stroke) for stroke in paper.strokes]
    return "\n".join([*parts, "</svg>", ""])


def _traced(stroke: Line | Shape | Text) -> str:
    ink = f"#{stroke.tone:02x}{stroke.tone:02x}{stroke.tone:02x}"
    if isinstance(stroke, Line):
        (a, b), (c, d) = stroke.start, stroke.end
        broken = f' stroke-dasharray="{" ".join(f"{n:g}" for n in stroke.dash)}"' if stroke.dash else ""
        return (
            f'<line x1="{a:.1f}" y1="{b:.1f}" x2="{c:.1f}" y2="{d:.1f}" stroke="{ink}" '
            f'stroke-width="{stroke.width:g}"{broken}/>'
        )
    if isinstance(stroke, Shape):
        points = " ".join(f"{x:.1f},{y:.1f}" for x, y in stroke.points)
        fill = "none" if stroke.fill is None else f"#{stroke.fill:02x}{stroke.fill:02x}{stroke.fill:02x}"
        edge = f' stroke="{ink}" stroke-width="{stroke.width:g}"' if stroke.width else ""
        return f'<polygon points="{points}" fill="{fill}"{edge}/>'
    x, y = stroke.at
    anchor = {"left": "start", "middle": "middle", "right": "end"}[stroke.anchor]
    weight = ' font-weight="600"' if stroke.bold else ""
    turn = f' transform="rotate(-90 {x:.1f} {y:.1f})"' if stroke.upright else ""
    # textLength keeps words inside their room where another font stands in.
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{stroke.size:g}" text-anchor="{anchor}" '
        f'dominant-baseline="central" textLength="{stroke.length:.1f}" lengthAdjust="spacingAndGlyphs" '
        f'fill="{ink}"{weight}{turn}>{escape(stroke.words)}</text>'
    )
