"""Coats outside with their mixes and thicknesses, and waiting times."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from knowledge import coats as table
from knowledge import shown
from knowledge.answers import Range, quantity
from knowledge.ledger import Ledger
from knowledge.questions import Mix, Quantity
from knowledge.records import Rule

_NAMES = {
    1: ("single coat",),
    2: ("undercoat", "final coat"),
    3: ("first undercoat", "second undercoat", "final coat"),
}
Laid = list[tuple[Mix | None, float]]  # mix, or none where it is bought in bags, and thickness in m


@dataclass(frozen=True)
class Job:
    """What is rendered: material, its class of background, and how hard the weather is on it."""

    material: str
    background: str
    severe: bool
    inside: bool


def lay(ledger: Ledger, job: Job) -> Laid:
    """Coats, their mixes and thicknesses outside; what comes back is mixes and thicknesses in m."""
    book, mix = ledger.book, ledger.reading.mix
    rule = ledger.rule("render.table", kind=job.background)
    assert rule.table is not None
    under, final = table.allowed(rule.table, job.background, job.severe)
    usual = ledger.rule("render.usual", kind=job.background).items or ()
    ledger.rule("render.order")
    parts = _thickness(ledger, job)
    use = "plain" if ledger.reading.plasticiser else "lime"
    mixes = [table.lean_mix(book, usual[0], use)] * (len(parts) - 1) + [table.lean_mix(book, usual[-1], use)]
    for name in dict.fromkeys(usual):
        ledger.rule("render.designation", kind=name, use=use)
    if mix is not None and table.judge(book, mix, under) == "suitable":
        mixes = [mix] * (len(parts) - 1) + [mix if table.judge(book, mix, final) == "suitable" else mixes[-1]]
    elif mix is not None and len(parts) > 1 and table.judge(book, mix, final) == "suitable":
        mixes[-1] = mix
    ledger.result("coats", [
        {"name": name, "mix": one, "thickness": thick(ledger, thickness)}
        for name, one, thickness in zip(_NAMES[len(parts)], mixes, parts, strict=True)
    ])  # fmt: skip
    ledger.result("mix", mixes[0])
    ledger.result("thickness", thick(ledger, sum(parts)))
    ledger.rule("render.comb")
    on_site(ledger)
    return [(mix or one, thickness / 1000) for one, thickness in zip(mixes, parts, strict=True)]


def on_site(ledger: Ledger) -> None:
    """What the region asks before and after: a damp wall, stuff used in time, lime soaked, coats kept wet."""
    for name in ("prewet", "life", "lime", "cure"):
        rule = ledger.book.seek(f"render.{name}")
        if rule is not None:
            ledger.cite(rule)
            ledger.note(rule.statement)


def _thickness(ledger: Ledger, job: Job) -> list[float]:
    """Thickness of each coat in mm."""
    facts: dict[str, Any] = {"use": "external", "severe": job.severe or None, "kind": job.background}
    least = ledger.rule("render.total", **facts)
    count = ledger.rule("render.coat_count", **facts)
    under, final = (ledger.rule(f"render.{name}", **facts) for name in ("undercoat", "final"))
    if "thickness" in ledger.question.wants or "coats" in ledger.question.wants:
        for rule in (least, count, under, final):
            show_others(ledger, rule, facts)
    said = ledger.reading.coat_thickness
    total = least.to("mm") if said is None else said.to("mm")
    parts = table.split(total, _span(under), _span(final), count.number() > 2)
    if len(parts) > 2:
        show_others(ledger, under, facts)
    if said is not None:
        ledger.result("thickness_verdict", "enough")
        if total < least.to("mm") - 1e-6:
            ledger.result("thickness_verdict", "too thin")
            ledger.note(f"{_say_mm(total)} is thin: {least.statement[0].lower()}{least.statement[1:]}")
        limit = ledger.book.find("render.dubbing")
        if total > limit.to("mm") + 1e-6:
            ledger.cite(limit)
            ledger.result("thickness_verdict", "too thick")
            ledger.note(f"{_say_mm(total)} is thick. {limit.statement}")
    return parts


def waiting(ledger: Ledger, job: Job, wants: set[str]) -> None:
    """How long before each coat."""
    waits: list[dict[str, Any]] = []
    age = ledger.book.seek("render.wall_age", material=job.material)
    if age is not None:
        ledger.cite(age)
        waits.append({"before": "any render", "time": quantity(age.number(), age.unit)})
    key = ledger.rule("render.wait_key")
    waits.append(
        {
            "before": "undercoat on a key coat",
            "time": Range(min=key.min or 0, max=key.max or 0, unit=key.unit),
        }
    )
    for use in ("warm", "cold"):
        rule = ledger.rule("render.wait_coat", use=use)
        waits.append({"before": f"next coat, {use} weather", "time": quantity(rule.number(), rule.unit)})
    if "waiting" in wants:
        for other in ledger.book.others("render.wait_coat", use="warm"):
            ledger.cite(other)
    ledger.result("waiting", waits)


def show_others(ledger: Ledger, rule: Rule, facts: dict[str, Any]) -> None:
    for other in ledger.book.others(rule.figure, **facts):
        ledger.cite(other)


def _span(rule: Rule) -> tuple[float, float]:
    return rule.span("mm")


def thick(ledger: Ledger, mm: float) -> Quantity:
    """A thickness of a coat, in the unit that one was said in, else in inches for whoever reckons in feet."""
    said = ledger.reading.coat_thickness
    return shown.thickness(mm / 1000, ledger.feet if said is None else said.unit in ("in", "ft"))


def _say_mm(mm: float) -> str:
    return f"{mm:.4g} mm"
