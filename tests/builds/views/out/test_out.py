"""Out and back: where everything is, what goes together, what is ready."""

from builds.models import Job, Kind
from builds.selectors.out_and_back import out_page
from builds.views.out.consignments import read_sheet
from tests.factories.job import JobFactory, OutsideJobFactory


def test_everything_out_has_its_count_its_holder_and_its_promise(look, away):
    Job.objects.filter(pk=away.pk).update(promised="2027-01-08")
    page = look("out")
    assert "1 thing is out, 14 pieces in all" in page
    assert "Wrenfold Anodic" in page
    assert "Fri 8 Jan, overdue" in page


def test_a_count_that_does_not_agree_is_raised(look, away):
    page = look("out")
    assert "1 count does not agree with the note" in page
    assert "14 went, their note says 12." in page


def test_what_is_ready_is_offered_together_across_cars(look, pedals, caps):
    page = look("out")
    assert "2 jobs of 2 cars could go together." in page
    assert "Anodise the caps, 2 pieces" in page


def test_what_waits_is_named_and_not_offered(look, car, pedals, caps):
    fit = JobFactory(key="fit", title="Trial fit", build=car, kind=Kind.CHECK)
    OutsideJobFactory(
        key="gate", title="Anodise the gate", build=car, vendor=pedals.vendor,
        after=[fit],
    )  # fmt: skip
    page = look("out")
    assert "may not go before Trial fit is passed" in " ".join(page.split())
    (way,) = out_page().ready
    assert [one.job.key for one in way.ready] == ["pedals", "caps"]


def test_what_is_being_made_up_says_what_it_waits_for(look, batch, caps):
    caps.links.create(before=JobFactory(title="Deburr the caps", build=caps.build))
    page = look("out")
    assert "Black batch" in page
    assert "waits for Deburr the caps" in " ".join(page.split())


def test_an_empty_page_says_what_it_is_for(look, shop):
    page = look("out")
    assert "Nothing is out." in page
    assert "When something leaves, it stands here" in page


def test_a_label_for_every_line_and_no_customer_on_it(look, batch):
    page = look("consignment_sheet", batch.key)
    assert page.count('class="label-tag"') == 2
    assert "9 pieces" in page
    for customer in ("Carla", "Otto"):
        assert customer not in page


def test_the_code_leads_to_the_page_of_the_piece(batch):
    """Read back with the matrix of an independent encoding of the same address."""
    import segno

    from builds.charts.labels_qr import QUIET, square_code

    where = "https://workshop.example/pieces/pedals-piece/"
    code = square_code(where)
    dark = {
        (x + QUIET, y + QUIET)
        for y, row in enumerate(segno.make(where, error="q").matrix)
        for x, one in enumerate(row)
        if one
    }
    drawn = {
        tuple(map(int, one.split("h")[0].split())) for one in code.path.split("M")[1:]
    }
    assert drawn == dark
    labels = read_sheet(batch, site="https://workshop.example/").labels
    assert [one.count for one in labels] == [7, 2]


def test_what_a_firm_does_not_run_in_one_batch_is_offered_apart(look, pedals, caps):
    vendor = pedals.vendor
    vendor.batch = {"same": ["colour"], "kilos": None, "days": {}}
    vendor.save()
    Job.objects.filter(pk=pedals.pk).update(colour="black")
    Job.objects.filter(pk=caps.pk).update(colour="bronze")
    ways = {way.alike: [one.job.key for one in way.ready] for way in out_page().ready}
    assert ways == {("black",): ["pedals"], ("bronze",): ["caps"]}
    page = look("out")
    assert "Wrenfold Anodic, bronze" in page
    assert "could go together" not in page


def test_a_batch_is_named_only_where_it_takes_what_is_ready(look, batch, caps):
    vendor = caps.vendor
    vendor.batch = {"same": ["colour"], "kilos": None, "days": {}}
    vendor.save()
    Job.objects.exclude(pk=caps.pk).update(colour="black")
    other = OutsideJobFactory(vendor=vendor, build=caps.build, colour="bronze")
    named = {
        one.job.pk: [str(batch) for batch in way.batches]
        for way in out_page().ready
        for one in way.ready
    }
    assert named[other.pk] == []
