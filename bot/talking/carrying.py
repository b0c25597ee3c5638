"""What a message is in its conversation: its sizes put where they belong, and all in force after it."""

from __future__ import annotations

from bot.following.by_area import by_area
from bot.following.coats import coats
from bot.following.for_the_opening import for_the_opening
from bot.following.in_feet import in_feet, opening_as_before
from bot.following.joint_moved import joint_moved
from bot.following.lone import lone
from bot.following.merging import merge
from bot.following.of_the_piece import of_the_piece
from bot.following.of_the_wall import of_the_wall
from bot.following.one_of_them import one_of_them
from bot.following.other_block import other_block
from bot.following.other_parts import other_parts
from bot.following.relative import relative
from bot.following.spacing_again import spacing_again
from bot.reading.heard import Heard
from bot.reading.words import words
from bot.talking.in_force import topics_in_force
from bot.talking.state import Plain, State, Topics
from knowledge.rulebook import book


def placed(state: State, heard: Heard, before: Plain, last: list[str], asked: str | None) -> Topics:
    """Sizes that no word explains go where the conversation says; the topics in force after it."""
    region = book(state.region).region
    on = tuple(topic for topic, _ in state.topics)
    in_feet(heard, before)
    opening_as_before(heard, before)
    for_the_opening(heard, before, region.sense, last)
    of_the_piece(heard, before, last)
    one_of_them(heard, before)
    joint_moved(heard, before, last)
    by_area(heard, before)
    relative(heard, before, region.sense)
    other_parts(heard, before)
    other_block(heard, before, on, words(state.language).cue["block.block"])
    lone(heard, before, on, last, asked, region)
    spacing_again(heard, before, last)
    coats(heard, before)
    of_the_wall(heard, before, on, region.sense)
    return topics_in_force(state, heard)


def carried(before: Plain, heard: Heard, topics: Topics) -> Plain:
    """The slots in force after it."""
    return merge(before, heard, [topic for topic, _ in topics])
