"""Key coat, coats with their mixes and thicknesses, waiting times; plaster inside."""

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


def lay(ledger: Ledger, job: Job, wants: set[str]) -> Laid:
    """Key coat, coats, thickness and waiting outside; what comes back is mixes and thicknesses in m."""
    book, mix = ledger.book, ledger.reading.mix
    rule = ledger.rule("render.table")
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
        {"name": name, "mix": one, "thickness": _thick(ledger, thickness)}
        for name, one, thickness in zip(_NAMES[len(parts)], mixes, parts, strict=True)
    ])  # fmt: skip
    ledger.result("mix", mixes[0])
    ledger.result("thickness", _thick(ledger, sum(parts)))
    ledger.rule("render.comb")
    _key_coat(ledger, job, wants)
    _waiting(ledger, job, wants)
    return [(mix or one, thickness / 1000) for one, thickness in zip(mixes, parts, strict=True)]


def _thickness(ledger: Ledger, job: Job) -> list[float]:
    """Thickness of each coat in mm."""
    facts: dict[str, Any] = {"use": "external", "severe": job.severe or None, "kind": job.background}
    least = ledger.rule("render.total", **facts)
    count = ledger.rule("render.coat_count", **facts)
    under, final = (ledger.rule(f"render.{name}", **facts) for name in ("undercoat", "final"))
    if "thickness" in ledger.question.wants or "coats" in ledger.question.wants:
        for rule in (least, count, under, final):
            _show_others(ledger, rule, facts)
    said = ledger.reading.coat_thickness
    total = least.number() if said is None else said.to("mm")
    parts = table.split(total, _span(under), _span(final), count.number() > 2)
    if len(parts) > 2:
        _show_others(ledger, under, facts)
    if said is not None:
        ledger.result("thickness_verdict", "enough")
        if total < least.number():
            ledger.result("thickness_verdict", "too thin")
            ledger.note(f"{_say_mm(total)} is thin: {least.statement[0].lower()}{least.statement[1:]}")
        limit = ledger.book.find("render.dubbing")
        if total > limit.number():
            ledger.cite(limit)
            ledger.result("thickness_verdict", "too thick")
            ledger.note(f"{_say_mm(total)} is thick. {limit.statement}")
    return parts


def _key_coat(ledger: Ledger, job: Job, wants: set[str]) -> None:
    """Which key coat, its mix, and the brushed slurry as its standing allows."""
    rule = ledger.rule("render.key_coat", kind=job.background)
    coat: dict[str, Any] = {"name": rule.choice}
    mixed = ledger.book.seek("render.key_mix", use=rule.choice)
    if mixed is not None and mixed.mix is not None:
        ledger.cite(mixed)
        coat["mix"] = Mix(cement=mixed.mix.cement[1], sand=mixed.mix.sand[1])
        if mixed.mix.sand[0] != mixed.mix.sand[1]:
            coat["sand"] = Range(min=mixed.mix.sand[0], max=mixed.mix.sand[1])
    thick = ledger.book.seek("render.key_thickness", use=rule.choice)
    if thick is not None and thick.min is not None and thick.max is not None:
        ledger.cite(thick)
        coat["thickness"] = Range(min=thick.min, max=thick.max, unit=thick.unit)
    ledger.result("key_coat", coat)
    if wants and not wants & {"key_coat", "coats"}:
        return
    ledger.note(mixed.statement if mixed is not None else rule.statement)
    if "key_coat" in wants:
        ledger.rule("render.joints_raked")
        for figure, facts in (("render.key_coat", {"kind": job.background}), ("render.joints_raked", {}),
                              ("render.key_mix", {"use": rule.choice})):  # fmt: skip
            for other in ledger.book.others(figure, **facts):
                ledger.cite(other)
        slurry = next(iter(ledger.book.others("render.key_coat", kind=job.background)), None)
        if slurry is not None and slurry.standing == "common practice":
            ledger.note(slurry.statement)


def _waiting(ledger: Ledger, job: Job, wants: set[str]) -> None:
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


def plaster(ledger: Ledger, wants: set[str]) -> Laid:
    """Undercoat and finish inside; the finish comes in bags and is not reckoned."""
    reading = ledger.reading
    rule = ledger.rule("render.plaster")
    finish = ledger.rule("render.plaster_finish").number()
    if not wants or wants & {"coats", "thickness"}:
        for other in (*ledger.book.others("render.plaster"), ledger.book.find("render.plaster_flatness")):
            ledger.cite(other)
    mix = reading.mix or table.lean_mix(ledger.book, "iii")
    ledger.rule("render.gypsum")
    if reading.coat_thickness is not None:
        total = reading.coat_thickness.to("mm")
        ledger.result("coats", [{"name": "plaster", "mix": mix, "thickness": _thick(ledger, total)}])
        ledger.result("thickness", _thick(ledger, total))
        return [(mix, total / 1000)]
    total = rule.number()
    ledger.result("coats", [
        {"name": "undercoat", "mix": mix, "thickness": _thick(ledger, total - finish)},
        {"name": "finish plaster from the bag", "thickness": _thick(ledger, finish)},
    ])  # fmt: skip
    ledger.result("thickness", _thick(ledger, total))
    ledger.note(
        "Thicknesses inside are from memory. Bagged plaster covers what its bag says; cement and sand are "
        "for the undercoat only."
    )
    return [(mix, (total - finish) / 1000), (None, finish / 1000)]


def _show_others(ledger: Ledger, rule: Rule, facts: dict[str, Any]) -> None:
    for other in ledger.book.others(rule.figure, **facts):
        ledger.cite(other)


def _span(rule: Rule) -> tuple[float, float]:
    return rule.min or 0.0, rule.max or 0.0


def _thick(ledger: Ledger, mm: float) -> Quantity:
    """A thickness of a coat, in inches for whoever reckons in feet."""
    return shown.thickness(mm / 1000, shown.in_feet(ledger.reading))


def _say_mm(mm: float) -> str:
    return f"{mm:.4g} mm"
