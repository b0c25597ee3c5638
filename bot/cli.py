"""`perpend ask | chat | rules | bot`. Imports only what the command needs."""

from __future__ import annotations

import argparse
import gc
import os
import sys


def parser() -> argparse.ArgumentParser:
    """Every command with what it takes."""
    parser = argparse.ArgumentParser(
        prog="perpend", description="Answers questions about walls of lightweight blocks."
    )
    commands = parser.add_subparsers(dest="command", required=True)
    ask = commands.add_parser("ask", help="answer one question")
    ask.add_argument(
        "text", nargs="+", help="the question, or - with --json for one a line from standard input"
    )
    ask.add_argument("--json", action="store_true", help="print the machine-readable answer")
    ask.add_argument("--region", help="rule set, ISO 3166-1 (GB)")
    _units(ask)
    ask.add_argument("--working", action="store_true", help="show the arithmetic and all rules")
    chat = commands.add_parser("chat", help="hold a conversation")
    chat.add_argument("--json", action="store_true")
    chat.add_argument("--region")
    _units(chat)
    rules = commands.add_parser("rules", help="list the rules, or show one with its source and standing")
    rules.add_argument("name", nargs="?", help="a rule, a figure or a topic")
    rules.add_argument("--region", default="GB")
    rules.add_argument("--coverage", action="store_true", help="how far each region's rule book goes")
    for name, told, ending in (
        ("sheet", "write the wall sheet of one wall", "pdf"),
        ("draw", "write its elevation", "png"),
    ):
        paper = commands.add_parser(name, help=told)
        paper.add_argument("text", nargs="+", help="the wall, as it would be typed")
        paper.add_argument("-o", "--output", default=f"wall.{ending}", help=f"where to (wall.{ending})")
        paper.add_argument("--region", default="GB")
        _units(paper)
    bot = commands.add_parser("bot", help="run the chat front")
    bot.add_argument("--webhook", action="store_true", help="serve a web hook instead of polling")
    for name, told in (("backup", "copy the bot's database into a file"), ("restore", "put a copy back")):
        commands.add_parser(name, help=told).add_argument("file", help="the copy")
    commands.add_parser("ready", help="whether the bot that runs here is ready")
    return parser


def main(argv: list[str] | None = None) -> int:
    """Run one command; the exit status says how the answer came out."""
    given = parser().parse_args(argv)
    if given.command == "ask" and given.text != ["-"]:
        gc.disable()  # one answer is over before there is anything worth sweeping up
    try:
        return _run(given)
    except BrokenPipeError:  # whoever reads has read enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    finally:
        gc.enable()


def _units(command: argparse.ArgumentParser) -> None:
    command.add_argument("--units", choices=("metric", "feet"), help="units to answer in (as asked)")


def _run(given: argparse.Namespace) -> int:
    if getattr(given, "region", None) and (fault := _region_fault(given.region)):
        print(f"perpend: {fault}", file=sys.stderr)
        return 2
    if given.command == "ask":
        from bot.fronts.terminal import ask as front

        return front(" ".join(given.text), _code(given.region), given.json, given.working, given.units)
    if given.command in {"sheet", "draw"}:
        from bot.fronts import paper as papers

        write = papers.sheet if given.command == "sheet" else papers.draw
        return write(" ".join(given.text), given.region.upper(), given.output, given.units)
    if given.command == "chat":
        from bot.fronts.terminal import chat as talk

        return talk(_code(given.region), given.json, units=given.units)
    if given.command == "rules" and given.coverage:
        from bot.fronts.rules import coverage

        return coverage()
    if given.command == "rules":
        from bot.fronts.rules import show

        return show(given.name, given.region)
    if given.command in {"backup", "restore"}:
        from bot.fronts.copies import copy

        return copy(given.command, given.file)
    if given.command == "ready":
        from bot.fronts.ready import ready

        return ready()
    return _bot(given.webhook)


def _code(region: str | None) -> str | None:
    return region.upper() if region else None


def _region_fault(code: str) -> str | None:
    from knowledge.rulebook import NoRule, book

    try:
        book(code.upper())
    except NoRule as fault:
        return str(fault)
    return None


def _bot(webhook: bool) -> int:
    gc.set_threshold(100_000, 20, 20)  # what is loaded now stays: it is not walked over and over on the way
    from bot.fronts.telegram import run
    from bot.settings import SettingsFault, load

    try:
        settings = load("webhook_secret") if webhook else load()
    except SettingsFault as fault:
        for one in fault.faults:
            print(f"perpend: {one}", file=sys.stderr)
        return 2
    return run(settings, webhook)


if __name__ == "__main__":
    raise SystemExit(main())
