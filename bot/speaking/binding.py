"""Pages of strokes bound as PDF, the font embedded in them."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING

from bot.speaking.fonts import path
from bot.speaking.setting import HEIGHT, WIDTH
from bot.speaking.strokes import Line, Paper, Shape, Text

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas


def bind(pages: list[Paper], name: str) -> bytes:
    """Pages as PDF, the font embedded."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    known = pdfmetrics.getRegisteredFontNames()
    for face, bold in (("Words", False), ("WordsBold", True)):
        if face not in known:
            pdfmetrics.registerFont(TTFont(face, str(path(bold))))
    out = BytesIO()
    # invariant: the same answer makes the same bytes, so that a sheet can be compared
    canvas = Canvas(out, pagesize=(WIDTH, HEIGHT), pageCompression=1, invariant=1)
    canvas.setTitle(name)
    for page in pages:
        for stroke in page.strokes:
            _copy(canvas, stroke)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _copy(canvas: Canvas, stroke: Line | Shape | Text) -> None:
    """One stroke; PDF counts upwards."""
    if isinstance(stroke, Text):
        canvas.setFillGray(stroke.tone / 255)
        canvas.setFont("WordsBold" if stroke.bold else "Words", stroke.size)
        back = {"left": 0.0, "middle": stroke.length / 2, "right": stroke.length}[stroke.anchor]
        x, y, drop = stroke.at[0], HEIGHT - stroke.at[1], stroke.size * 0.32
        if stroke.upright:
            canvas.saveState()
            canvas.translate(x, y)
            canvas.rotate(90)
            canvas.drawString(-back, -drop, stroke.words)
            canvas.restoreState()
        else:
            canvas.drawString(x - back, y - drop, stroke.words)
        return
    canvas.setStrokeGray(stroke.tone / 255)
    canvas.setLineWidth(stroke.width)
    if isinstance(stroke, Line):
        canvas.setDash(list(stroke.dash) or [])
        canvas.line(stroke.start[0], HEIGHT - stroke.start[1], stroke.end[0], HEIGHT - stroke.end[1])
        return
    canvas.setDash([])
    outline = canvas.beginPath()
    outline.moveTo(stroke.points[0][0], HEIGHT - stroke.points[0][1])
    for px, py in stroke.points[1:]:
        outline.lineTo(px, HEIGHT - py)
    outline.close()
    if stroke.fill is not None:
        canvas.setFillGray(stroke.fill / 255)
    canvas.drawPath(outline, stroke=int(stroke.width > 0), fill=int(stroke.fill is not None))
