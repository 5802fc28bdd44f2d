"""Which weeks a page shows; what cannot be read in its address is not said."""

from __future__ import annotations

from datetime import date, timedelta

from django import forms

MOST = 52
FARTHEST = timedelta(days=3 * 366)


class WeeksForm(forms.Form):
    weeks = forms.IntegerField(min_value=1, max_value=MOST, required=False)
    first = forms.DateField(input_formats=["%Y-%m-%d"], required=False)

    def count(self, usual: int) -> int:
        """Give how many weeks to show."""
        self.is_valid()
        return self.cleaned_data.get("weeks") or usual

    def monday(self, now: date) -> date:
        """Give the Monday to begin with: this week's or a later one."""
        self.is_valid()
        asked = self.cleaned_data.get("first") or now
        day = min(max(asked, now), now + FARTHEST)
        return day - timedelta(days=day.weekday())
