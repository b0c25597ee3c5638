"""The commands for back-up and restore."""

import sys
from pathlib import Path

from sqlalchemy.exc import SQLAlchemyError

from bot.settings import SettingsFault, load
from bot.store.copying import back_up, restore
from bot.store.opening import StoreFault


def copy(command: str, file: str) -> int:
    """Make a copy or put one back; the exit status."""
    try:
        url = load().database
        if command == "backup":
            back_up(url, Path(file))
        else:
            restore(url, Path(file))
    except (SettingsFault, StoreFault, OSError) as fault:
        print(f"perpend: {fault}", file=sys.stderr)
        return 2 if isinstance(fault, SettingsFault) else 1
    except SQLAlchemyError as fault:  # its words may hold the database's password
        print(f"perpend: the database does not answer: {type(fault).__name__}", file=sys.stderr)
        return 1
    return 0
