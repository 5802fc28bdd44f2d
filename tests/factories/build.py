import factory
from factory.django import DjangoModelFactory

from builds.models import Build


class BuildFactory(DjangoModelFactory):
    class Meta:
        model = Build

    key = factory.Sequence(lambda n: f"build-{n}")
    name = factory.Sequence(lambda n: f"Car {n}")
