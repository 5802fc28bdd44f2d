import factory
from factory.django import DjangoModelFactory

from builds.models import Vendor


class VendorFactory(DjangoModelFactory):
    class Meta:
        model = Vendor

    key = factory.Sequence(lambda n: f"vendor-{n}")
    name = factory.Sequence(lambda n: f"Vendor {n}")
