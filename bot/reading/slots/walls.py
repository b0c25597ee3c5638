"""The sizes of the wall itself, and what is left over."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene, plain, show
from bot.reading.slots.alone import alone
from bot.reading.slots.dimensions import by_word
from bot.reading.slots.joint_places import by_joint
from bot.reading.slots.pairs import pairs


def take_walls(scene: Scene) -> None:
    """Length, height and thickness of the wall; positions of joints; then whatever is left over."""
    by_joint(scene)
    by_word(scene)
    pairs(scene)
    for i in scene.sizes():
        item = scene.items[i]
        if not item.used and item.kind in {"measure", "range"}:
            alone(scene, i, item)
    both_bare(scene)
    leftovers(scene)


def both_bare(scene: Scene) -> None:
    """'28 long and 9 high': where the height only makes sense in feet, the length is in doubt with it."""
    heard = scene.heard
    doubt = next(
        (
            d
            for d in heard.doubts
            if d.slot == "height" and any(c[1].get("height", {}).get("unit") == "ft" for c in d.choices)
        ),
        None,
    )
    length = heard.slots.get("length")
    twin = next(
        (
            d
            for d in heard.doubts
            if d.slot == "length"
            and {c[1]["length"]["unit"] for c in d.choices if "length" in c[1]} == {"m", "ft"}
        ),
        None,
    )
    if doubt is not None and twin is not None and not any("length" in c[1] for c in doubt.choices):
        pairs_ = [
            ({"length": a[1]["length"], "height": b[1]["height"]})
            for a in twin.choices
            for b in doubt.choices
            if a[1]["length"]["unit"] == b[1]["height"]["unit"]
        ]
        pairs_.sort(key=lambda p: p["length"]["unit"])
        doubt.choices = [(f"{show(p['length'])} × {show(p['height'])}", p) for p in pairs_]
        twin.choices, twin.ask = doubt.choices, doubt.ask
        return
    if doubt is None or length is None or length["unit"] != "m":
        return
    source = next(
        (
            x
            for x in scene.items
            if x.used == "length" and x.kind == "measure" and not x.size.unit and not x.size.decimal
        ),
        None,
    )
    if source is None:
        return
    del heard.slots["length"]
    heard.evidence.pop("length", None)
    heard.assumed = [a for a in heard.assumed if a["slot"] != "length"]
    doubt.choices = [
        (f"{show(plain(source.size, u))} × {show(h)}", {"length": plain(source.size, u), "height": h})
        for u in ("ft", "m")
        for h in [c[1]["height"] for c in doubt.choices if c[1]["height"]["unit"] == u]
    ]
    doubt.ask = f"Are {source.text} and the height in feet or metres?"
    scene.doubt("length", doubt.ask, doubt.choices)


def leftovers(scene: Scene) -> None:
    """No digit is dropped: what found no slot stops the answer."""
    for item in scene.items:
        if item.used:
            continue
        if item.kind == "bad":
            ask = f"I cannot read '{item.text}'. Please write the number and its unit apart."
            scene.doubt("number", ask, [], item)
        elif item.kind == "measure" and not item.size.unit and _says_no_size(item):
            continue
        elif item.kind in {"measure", "dims", "range", "ratio"}:
            scene.heard.bare.append(item)
            scene.doubt("number", f"What is {item.text} in this?", [], item)


def _says_no_size(item: Item) -> bool:
    """'a half', 'one': a word of number, or a plain 1, that counts nothing."""
    if item.size.spelt and item.size.values[0] in {0.0, 0.5, 1.0}:
        return True
    if item.size.value == 1 and not item.size.decimal:
        item.used = "one"
        return True
    return False
