import factory
from factory.django import DjangoModelFactory

from builds.models import Show


class ShowFactory(DjangoModelFactory):
    class Meta:
        model = Show

    key = factory.Sequence(lambda n: f"show-{n}")
    name = factory.Sequence(lambda n: f"Show {n}")
    move_in = "2027-06-11T16:00"
