"""How many random examples a test draws: the same ones in every run, however slow."""

from __future__ import annotations

from hypothesis import HealthCheck, Phase, settings

SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]


def examples(count: int) -> settings:
    """Return settings for so many, not made smaller: they are small as they come."""
    return settings(
        max_examples=count,
        deadline=None,
        derandomize=True,
        suppress_health_check=SLOW,
        phases=(Phase.explicit, Phase.generate),
    )
