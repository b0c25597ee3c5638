"""Gauging: parts of a mix into the bags or buckets that the asker named."""

from __future__ import annotations

from math import ceil

from knowledge import yields
from knowledge.answers import Need, quantity
from knowledge.bags import bag as one_bag
from knowledge.calculators._mortar_amounts import AMOUNTS
from knowledge.gauging import bag_volume, damp_for, gauge
from knowledge.ledger import Ledger
from knowledge.questions import Mix
from knowledge.stuff import sand_share

_PARTS = ("cement", "lime", "sand")


def batch(ledger: Ledger, mix: Mix, wants: set[str]) -> Need | None:
    """Put the batch into the ledger where bags, buckets or a batch were spoken of."""
    reading = ledger.reading
    counted, unit = reading.buckets, "bucket"
    if reading.bags is not None and reading.bags.of != "adhesive":
        counted, unit = reading.bags, "bag"
    if counted is None and "batch" not in wants:
        return None
    if counted is not None and getattr(mix, counted.of, 0) <= 0:
        return ledger.need(
            "mix", f"There is no {counted.of} in {mix.cement:g} : {mix.sand:g}. Which mix is it?"
        )
    density = {name: ledger.rule("mortar.density", kind=name).to("kg/m³") for name in _PARTS}
    bag = {name: one_bag(ledger, name) for name in ("cement", "lime") if getattr(mix, name) > 0}
    bucket = reading.bucket_size.to("l") if reading.bucket_size else ledger.taken("bucket_size").to("l")
    share = sand_share(ledger, mix)
    if counted is None and reading.mortar_volume is not None:
        litres = yields.by_sand(reading.mortar_volume.to("l"), share, mix.cement, mix.lime, mix.sand)
        litres = {name: value for name, value in litres.items() if value > 0}
        measures, unit = litres, "l"
    else:
        of, count = (counted.of, counted.count) if counted is not None else ("cement", 1.0)
        if counted is None:
            ledger.assume(
                "buckets",
                {"count": count, "of": of},
                "One bucket of cement to start from; scale every part alike.",
            )
        measures = gauge(mix.cement, mix.lime, mix.sand, of, count)
        size = bag_volume(bag.get(of, 0.0), density[of]) if unit == "bag" else bucket
        litres = {name: value * size for name, value in measures.items()}
        ledger.step(
            f"one {unit}",
            f"{bag.get(of, 0.0):g} kg / {density[of]:g} kg/m³" if unit == "bag" else "by volume",
            f"{size:.4g} l",
        )
    _say(ledger, mix, measures, litres, unit=unit, bag=bag, bucket=bucket, density=density, share=share)
    return None


def _say(
    ledger: Ledger, mix: Mix, measures: dict[str, float], litres: dict[str, float], *, unit: str,
    bag: dict[str, float], bucket: float, density: dict[str, float], share: float,
) -> None:  # fmt: skip
    ledger.result("batch", {name: quantity(value, unit, 3) for name, value in measures.items()})
    ledger.result("batch_litres", {name: quantity(value, "l", 2) for name, value in litres.items()})
    if unit != "bucket":
        ledger.result("batch_buckets", {n: quantity(v / bucket, "bucket", 2) for n, v in litres.items()})
    mass = {name: value * density[name] / 1000 for name, value in litres.items()}
    ledger.result("batch_yield", quantity(litres["sand"] / share, "l", 1))
    ledger.step(
        "mortar from the batch",
        f"{litres['sand']:.4g} l of sand / {share:g}",
        f"{litres['sand'] / share:.4g} l",
    )
    if "mortar_volume" not in ledger.results and ledger.reading.mortar_volume is None:
        makes = ledger.reading.bags is not None or ledger.reading.buckets is not None
        if makes:
            ledger.result("mortar_volume", quantity(litres["sand"] / share / 1000, "m³", 4))
            ledger.note(f"Makes about {litres['sand'] / share:.3g} l of mortar, nothing wasted.")
    if not set(AMOUNTS) & (set(ledger.results) - {"mortar_volume"}):
        for name, value in mass.items():
            ledger.result(f"{name}_mass", quantity(value, "kg", 2))
            if name != "sand":
                ledger.result(f"{name}_bags", ceil(value / bag[name] - 1e-9))
    for name, value in measures.items():
        ledger.step(
            name,
            f"{getattr(mix, name):g} parts = {value:.4g} {unit}",
            f"{litres[name]:.4g} l, {mass[name]:.4g} kg",
        )
    ledger.rule("mortar.measure")
    ledger.rule("mortar.shovel")
    if unit == "bag":
        bags = {n: quantity(mass[n] / bag[n], "bag", 2) for n in ("cement", "lime") if n in mass}
        ledger.result("batch_bags", bags)
        real = [f"{count.value:g} of {n} ({bag[n]:g} kg)" for n, count in bags.items()]
        ledger.note(f"By volume, a bagful as the measure for every part: in bags, {' and '.join(real)}.")
    if mix.lime > 0:
        ledger.rule("mortar.lime_bag")
    basis = ledger.rule("mortar.dry_sand")
    if basis.choice == "damp":
        ledger.note(basis.statement)
        return
    bulks = ledger.rule("mortar.bulking")
    damp = damp_for(measures["sand"], bulks.max or 0)
    ledger.result("damp_sand", quantity(damp, unit, 2))
    ledger.note(f"Sand measured dry. Damp sand bulks: heap it, up to {damp:.3g} for {measures['sand']:.3g}.")
