"""What a vendor's word is worth, by the engine's own law."""

from __future__ import annotations

from statistics import median

from builds.models import Vendor
from builds.selectors.habit_words import Habit
from scheduling.habits import habit, ratio_of
from scheduling.plan import PastReturn

USUAL_QUOTE = 10.0


def habit_of(vendor: Vendor) -> Habit:
    """Give a vendor's habit: against their middle quote, or ten days before any."""
    rows = vendor.history.values_list("quoted_days", "actual_days", "waited_days")
    past = [PastReturn(*row) for row in rows]
    learned = habit(past)
    quote = median(one.quoted_days for one in past) if past else USUAL_QUOTE
    return Habit(
        quote=quote,
        usual=quote * float(learned.quantile(0.5)),
        late=quote * float(learned.quantile(0.9)),
        returns=len(past),
        kept=sum(ratio_of(one) <= 1.0 for one in past),
    )
