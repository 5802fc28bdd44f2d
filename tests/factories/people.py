import factory
from factory.django import DjangoModelFactory

from builds.models import Person, PersonTrade, User


class PersonFactory(DjangoModelFactory):
    class Meta:
        model = Person
        skip_postgeneration_save = True

    key = factory.Sequence(lambda n: f"person-{n}")
    name = factory.Sequence(lambda n: f"Person {n}")

    @factory.post_generation
    def trades(person, create, names):
        for trade in names or ():
            PersonTrade.objects.create(person=person, trade=trade, level=3)


class UserFactory(DjangoModelFactory):
    class Meta:
        model = User
        skip_postgeneration_save = True

    username = factory.Sequence(lambda n: f"user-{n}")

    @factory.post_generation
    def cars(user, create, builds):
        user.cars.set(builds or ())
