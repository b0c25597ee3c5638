"""`perpend ready`: whether the bot that runs here with the same settings is ready; for a health check."""

import http.client
import sys

from bot.settings import SettingsFault, load


def ready() -> int:
    """Ask it; 0 if it says yes, 1 if not, 2 where the settings are wrong."""
    try:
        settings = load()
    except SettingsFault as fault:
        print(f"perpend: {fault}", file=sys.stderr)
        return 2
    host, _, port = (settings.watch or settings.listen).rpartition(":")
    host = {"0.0.0.0": "127.0.0.1", "[::]": "::1"}.get(host, host.strip("[]"))  # noqa: S104 - asks, binds nothing
    line = http.client.HTTPConnection(host, int(port), timeout=4)
    try:
        line.request("GET", "/ready")
        status = line.getresponse().status
    except (OSError, http.client.HTTPException):
        print("perpend: nothing answers there", file=sys.stderr)
        return 1
    finally:
        line.close()
    return 0 if status == 200 else 1
