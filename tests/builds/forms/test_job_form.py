"""Whatever is sent to a job's form, it is sound or says what is wrong."""

from datetime import datetime

from hypothesis import given
from hypothesis import strategies as st

from builds.forms.jobs import JobForm
from builds.models import Kind, Person, Place, Vendor
from builds.selectors.job_form import JobChoices

CHOICES = JobChoices(
    now=datetime(2027, 1, 11, 8),
    day_hours=8.0,
    levels=("running", "complete"),
    trades=("weld",),
    areas=(),
    phases=(),
    people=(Person(key="tom", name="Tom"),),
    vendors=(Vendor(key="plater", name="Plater"),),
    places=(Place(key="booth"),),
)
TYPED = st.one_of(
    st.text(max_size=30),
    st.sampled_from(
        ["2h30", "1.5d", "3", "fri", "15 may", "tom", "plater", "on", "9" * 40]
    ),
    st.text("0123456789.,hdwm -/", max_size=12),
)


@given(
    st.dictionaries(st.sampled_from(JobForm.ROW), TYPED), st.sampled_from(Kind.values)
)
def test_anything_sent_is_sound_or_refused_in_words(typed, kind):
    form = JobForm({"kind": kind, **typed}, choices=CHOICES)
    if form.is_valid():
        facts = form.fields_of_row()
        assert set(facts) == set(JobForm.ROW)
        assert facts["likely"] is None or 0 <= facts["likely"] <= 1e9
    else:
        assert all(words for found in form.errors.values() for words in found)
    assert all(field.label for field in form)


def test_a_working_day_is_the_workshops_own():
    choices = JobForm(
        {"title": "Weld", "kind": "bench", "likely": "1d", "people": "1"},
        choices=CHOICES,
    )
    assert choices.is_valid()
    assert choices.fields_of_row()["likely"] == 8.0
