"""Heights that can be read in two ways, and are asked about."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from bot.reading.scene import Scene, show
from knowledge.units import convert


def _feet_and_a_few(scene: Scene) -> None:
    """'8 foot 4 blocks': four blocks, or 8 ft 4 in?"""
    slots, evidence = scene.heard.slots, scene.heard.evidence
    height, few = slots.get("height"), slots.get("block_count", scene.sense.blocks_fewest)
    if height is None or height["unit"] != "ft" or not 0 < few < min(12, scene.sense.blocks_fewest):
        return
    for before, item in pairwise(scene.items):
        spans = [(item.start, item.end)]
        if evidence.get("block_count") == spans and item.start - before.end <= 1 and before.used:
            inches = {**height, "value": round(height["value"] + few / 12, 6)}
            choices = [
                (f"{inches['value']:g} ft high", {"height": inches}),
                (f"{show(height)} high, {few} blocks", {"height": height, "block_count": few}),
            ]
            scene.doubt("height", f"Is {few} in of the height, or {few} blocks?", choices, before, item)
            slots.pop("block_count")
            return


def _higher_than_long(scene: Scene) -> None:
    """'wall 6 m high 2.4': 6 m high, or 6 m long and 2.4 m high?"""
    slots, evidence = scene.heard.slots, scene.heard.evidence
    length, height = slots.get("length"), slots.get("height")
    if length is None or height is None or length.get("unit") not in {"m", "ft", "mm"}:
        return
    if convert(height["value"], height["unit"], "m") <= convert(length["value"], length["unit"], "m"):
        return
    for n, (before, word, after) in enumerate(
        zip(scene.items, scene.items[1:], scene.items[2:], strict=False)
    ):
        own = scene.at(n + 3)
        if own is not None and own.tagged("dim"):
            continue
        told = [(x.start, x.end) for x in (before, after)]
        if word.tagged("dim", "height") and [evidence.get("height"), evidence.get("length")] == [
            [told[0]],
            [told[1]],
        ]:
            turned = {"length": height, "height": length}
            as_told = {"length": length, "height": height}
            choices = [(f"{show(x['length'])} long, {show(x['height'])} high", x) for x in (turned, as_told)]
            for slot in ("length", "height"):
                scene.doubt(slot, "Which is the length, and which the height?", choices, before, after)
            return


def _inches_of_blocks(scene: Scene) -> None:
    """'8 foot 9 inch hollow blocks': 8 ft 9 in high, or blocks of 9 in?"""
    height = scene.heard.slots.get("height")
    block = scene.heard.slots.get("block") or {}
    if height is None or height["unit"] != "ft" or "thickness" in block or "thickness" in scene.heard.slots:
        return
    inches = round((height["value"] % 1) * 12, 6)
    if inches not in scene.region.sense.block_inches_common:
        return
    for i, item in enumerate(scene.items[:-1]):
        if "'" in item.text and '"' in item.text:
            continue  # 22'6" x 7'4": written as feet and inches
        named = item.kind == "dims" and item.low.endswith(scene.words.cue["block.inches_end"])
        if named and scene.items[i + 1].tagged("noun", "block") and item.used:
            low = {**height, "value": float(int(height["value"]))}
            thick = {**block, "thickness": {"value": inches, "unit": "in"}}
            choices = [
                (f"{height['value']:g} ft high", {"height": height}),
                (f"{low['value']:g} ft high, {inches:g} in blocks", {"height": low, "block": thick}),
            ]
            scene.doubt("height", f"Is {inches:g} in of the height, or of the block?", choices, item)


OF_HEIGHTS: tuple[Callable[[Scene], None], ...] = (_feet_and_a_few, _higher_than_long, _inches_of_blocks)
