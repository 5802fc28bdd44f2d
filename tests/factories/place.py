import factory
from factory.django import DjangoModelFactory

from builds.models import Place


class PlaceFactory(DjangoModelFactory):
    class Meta:
        model = Place

    key = factory.Sequence(lambda n: f"place-{n}")
    name = factory.Sequence(lambda n: f"Place {n}")
