import factory
from factory.django import DjangoModelFactory

from builds.models import Piece
from tests.factories.job import OutsideJobFactory


class PieceFactory(DjangoModelFactory):
    """A piece on the shelf; whoever makes one writes the job's count themselves."""

    class Meta:
        model = Piece

    key = factory.Sequence(lambda n: f"piece-{n}")
    position = factory.Sequence(lambda n: n)
    name = factory.Sequence(lambda n: f"Iron {n}")
    job = factory.SubFactory(OutsideJobFactory)
    holder = "Test workshop"
    place = "stores"
