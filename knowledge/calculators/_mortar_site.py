"""How mortar is mixed and kept: rules that are asked for without any wall."""

from __future__ import annotations

from collections.abc import Callable

from knowledge.answers import Range, quantity
from knowledge.bags import bag
from knowledge.gauging import damp_for
from knowledge.ledger import Ledger
from knowledge.mixes import classes


def _life(ledger: Ledger) -> None:
    life = ledger.rule("mortar.life")
    ledger.result("life", quantity(life.number(), life.unit))
    _retempering(ledger)


def _retempering(ledger: Ledger) -> None:
    ledger.result("retempering", ledger.rule("mortar.retempering").choice)
    ledger.note(ledger.rule("mortar.retempering", kind="retarded").statement)
    ledger.note(ledger.rule("mortar.retarded").statement)
    ledger.rule("mortar.life")


def _mixing_time(ledger: Ledger) -> None:
    time = ledger.rule("mortar.mixing_time")
    ledger.result("mixing_time", Range(min=time.min or 0, max=time.max or 0, unit=time.unit))
    ledger.rule("mortar.plasticiser_mixing")


def _mixing_order(ledger: Ledger) -> None:
    ledger.result("mixing_order", list(ledger.rule("mortar.mixing_order").items or ()))
    ledger.rule("mortar.measure")
    ledger.rule("mortar.shovel")


def _water(ledger: Ledger) -> None:
    one = bag(ledger)
    least, most = ledger.rule("mortar.water_least").number(), ledger.rule("mortar.water").number()
    ledger.rule("mortar.workable")
    ledger.step(
        "water to a bag of cement", f"{one:g} kg × {least:g} to {most:g} l/kg", [one * least, one * most]
    )
    ledger.result("water", Range(min=round(one * least, 3), max=round(one * most, 3), unit="l"))
    ledger.note("To one bag of cement; damp sand needs less. Stop when it is workable.")


def _plasticiser(ledger: Ledger) -> None:
    ledger.result("plasticiser", ledger.rule("mortar.plasticiser").choice)
    ledger.rule("mortar.plasticiser_mixing")
    ledger.note("No washing-up liquid: only a plasticiser made for mortar, dosed as its maker says.")


def _lime(ledger: Ledger) -> None:
    ledger.result("lime", ledger.rule("mortar.lime").choice)
    ledger.rule("mortar.no_lime_with_masonry_cement")
    ledger.rule("mortar.lime_bag")


def _bulking(ledger: Ledger) -> None:
    bulks = ledger.rule("mortar.bulking")
    most = bulks.max or 0.0
    ledger.result("bulking", Range(min=bulks.min or 0, max=most, unit="%"))
    basis = ledger.rule("mortar.dry_sand")
    ledger.note(ledger.rule("mortar.bulking_test").statement)
    mix = ledger.reading.mix
    if basis.choice == "damp":
        ledger.note(basis.statement)
    elif mix is not None and mix.sand > 0:
        damp = damp_for(mix.sand, most)
        ledger.step("damp sand for the same dry sand", f"{mix.sand:g} × (1 + {most:g} / 100)", round(damp, 3))
        ledger.result("damp_sand", round(damp, 3))
        ledger.note(f"{mix.sand:g} of dry sand is up to {damp:.3g} of damp sand.")


def _scratch(ledger: Ledger) -> None:
    ledger.result("scratch", ledger.rule("mortar.scratch").choice)


def _joint_thickness(ledger: Ledger) -> None:
    joint = ledger.rule("mortar.joint_thickness")
    ledger.result("joint_thickness", quantity(joint.number(), joint.unit))
    thin = ledger.rule("mortar.thin_joint")
    ledger.result("thin_joint", Range(min=thin.min or 0, max=thin.max or 0, unit=thin.unit))
    ledger.note(f"Thin-joint work: {thin.min:g} to {thin.max:g} {thin.unit}, with factory mortar.")


def _stronger(ledger: Ledger) -> None:
    ledger.result("stronger", "never stronger than the unit")
    ledger.note(ledger.rule("mortar.no_stronger").statement)


def _difference(ledger: Ledger) -> None:
    """The classes side by side, the strongest first."""
    book = ledger.book
    known = [
        rule
        for name in classes(book)
        if name != "v"
        and (
            rule := next(
                filter(None, (book.seek("mortar.mix", kind=name, use=u) for u in ("lime", "plain"))), None
            )
        )
    ]
    for rule in known:
        ledger.cite(rule)
    ledger.result("difference", [rule.statement for rule in known])
    number = book.seek("mortar.class_number")
    if number is not None:
        ledger.cite(number)
        ledger.note(number.statement)


SITE: dict[str, Callable[[Ledger], None]] = {
    "life": _life,
    "retempering": _retempering,
    "mixing_time": _mixing_time,
    "mixing_order": _mixing_order,
    "water": _water,
    "plasticiser": _plasticiser,
    "lime": _lime,
    "bulking": _bulking,
    "scratch": _scratch,
    "joint_thickness": _joint_thickness,
    "stronger": _stronger,
    "difference": _difference,
}


def tell(ledger: Ledger, wants: tuple[str, ...]) -> None:
    """Put what was asked about mixing and keeping into the ledger."""
    for want in wants:
        if want in SITE:
            SITE[want](ledger)
