"""Goods in, on a phone: counted line by line, compared, and only then signed for."""

from __future__ import annotations

from collections.abc import Sequence

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods, require_safe

from builds.access.gates import load_consignment, load_job, staff_only
from builds.access.roles import is_lead
from builds.actions.errors import Refused
from builds.actions.goods_in import Signature, take_in, take_in_consignment
from builds.forms.choice import WholeField
from builds.forms.goods_in import JobCountForm, SignatureForm, word_for
from builds.models import Consignment, Job
from builds.selectors.goods_in import (
    JobToCount,
    jobs_to_count,
    one_to_count,
    to_count_in,
)
from builds.selectors.last_act import last_act
from builds.views.out.consignment_acts import undo_of
from builds.views.phone.kept import kept_on_phone
from builds.views.records.answers import done, posted, reasons, who
from builds.views.records.answers import undo_of as undo_of_job

SIGN = "Sign and book in"
LOOK = "Look at this before you sign. If it is so, sign below."


@staff_only
@kept_on_phone
@require_safe
def goods_in(request: HttpRequest) -> HttpResponse:
    return render(request, "out/goods_in.html", {"page": to_count_in()})


@staff_only
@kept_on_phone
@load_job
@require_http_methods(["GET", "HEAD", "POST"])
def goods_in_job(request: HttpRequest, job: Job) -> HttpResponse:
    sheet = Sheet(request, one_to_count(job))
    seen = last_act(job)
    if sheet.may_sign():
        try:
            take_in(by=who(request), ret=sheet.forms[0].ret(), signature=sheet.signed())
        except Refused as refused:
            sheet.refused = reasons(refused)
        else:
            back = "job_undo" if is_lead(request.user) else "bench_undo"
            undo = undo_of_job(back, who(request), job, seen)
            return done(request, f"“{job}” is counted in.", "goods_in", undo=undo)
    return sheet.show(str(job))


@staff_only
@kept_on_phone
@load_consignment
@require_http_methods(["GET", "HEAD", "POST"])
def goods_in_consignment(
    request: HttpRequest, consignment: Consignment
) -> HttpResponse:
    sheet = Sheet(request, jobs_to_count(consignment), version=consignment.version)
    if sheet.may_sign():
        try:
            row = take_in_consignment(
                by=who(request),
                consignment=consignment,
                version=sheet.version_seen(),
                returns=[form.ret() for form in sheet.forms],
                signature=sheet.signed(),
            )
        except Refused as refused:
            sheet.refused = reasons(refused)
        else:
            words = f"“{row}” is counted in."
            if not is_lead(request.user):
                return done(request, words, "goods_in")
            return done(request, words, "consignment", row.key, undo=undo_of(row))
    return sheet.show(str(consignment))


class Sheet:
    """The forms of one counting in, and what they say against being signed."""

    def __init__(
        self, request: HttpRequest, jobs: Sequence[JobToCount], version: int = 0
    ) -> None:
        self.request = request
        self.version = version
        data = posted(request)
        self.forms = [
            JobCountForm(
                data, sheet=one, lead=is_lead(request.user), prefix=f"job{number}"
            )
            for number, one in enumerate(jobs)
        ]
        person = who(request).person
        self.signature = SignatureForm(
            data,
            files=request.FILES if data is not None else None,
            initial={"signed": str(person) if person else "", "place": "goods-in"},
        )
        self.refused: list[str] = []
        self.differences: tuple[str, ...] = ()

    def may_sign(self) -> bool:
        """Say whether all is sound, and every difference was on the page before."""
        if self.request.method != "POST" or not self.forms:
            return False
        sound = [form.is_valid() for form in (*self.forms, self.signature)]
        if not all(sound):
            return False
        self.differences = tuple(
            words for form in self.forms for words in form.differences()
        )
        seen = self.signature.cleaned_data["seen"]
        return not self.differences or seen == word_for(self.differences)

    def version_seen(self) -> int:
        """Give the version of the consignment that was on the page."""
        try:
            seen: int = WholeField(most=2**31 - 1).clean(
                self.request.POST.get("version", "")
            )
        except ValidationError:
            return 0
        return seen

    def signed(self) -> Signature:
        """Give the signature."""
        given = self.signature.cleaned_data
        return Signature(
            given["signed"], given["place"], given["words"], given["photo"]
        )

    def show(self, title: str) -> HttpResponse:
        """Show the page again, with what was counted still in it."""
        context = {
            "title": title,
            "forms": self.forms,
            "signature": self.signature,
            "differences": self.differences,
            "seen": word_for(self.differences) if self.differences else "",
            "refused": self.refused,
            "version": self.request.POST.get("version", self.version),
            "act": SIGN,
            "look": LOOK,
        }
        status = 409 if self.refused else 422 if self.request.method == "POST" else 200
        return render(self.request, "out/goods_in_sheet.html", context, status=status)
