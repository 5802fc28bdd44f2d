import factory
from factory.django import DjangoModelFactory

from builds.models import WorkCalendar, Workshop

EIGHT_TO_FOUR = ["08:00-12:00", "12:30-16:30"]


class WorkshopFactory(DjangoModelFactory):
    class Meta:
        model = Workshop
        django_get_or_create = ("pk",)

    pk = 1
    name = "Test workshop"
    now = "2027-01-11T08:00"  # a Monday
    samples = 50


class CalendarFactory(DjangoModelFactory):
    class Meta:
        model = WorkCalendar

    key = factory.Sequence(lambda n: f"calendar-{n}")
    week = factory.LazyFunction(
        lambda: dict.fromkeys(("mon", "tue", "wed", "thu", "fri"), EIGHT_TO_FOUR)
    )
