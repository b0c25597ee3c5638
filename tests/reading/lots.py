"""How many lots a property draws: the same every time, or PERPEND_LOTS times as many drawn afresh."""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

MORE = int(os.environ.get("PERPEND_LOTS", "0"))


def lots(count: int) -> settings:
    """Settings for a property of this size."""
    return settings(
        max_examples=count * max(1, MORE),
        deadline=None,
        derandomize=not MORE,
        suppress_health_check=[HealthCheck.too_slow],
    )
