"""What goes to a vendor together: by when, and all at once or not."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from builds.access.gates import lead_only, load_vendor
from builds.forms.sending import SendingForm
from builds.models import Vendor
from builds.planning.exchange import PlanError
from builds.planning.sending import advice_on, loads_to
from builds.selectors.sending import advice_page, going_lines

ADVICE = "#advice"


@lead_only
@load_vendor
@require_safe
def sending(request: HttpRequest, vendor: Vendor) -> HttpResponse:
    loads = going_lines(loads_to(vendor))
    asked = set(request.GET.getlist("jobs"))
    forms: list[SendingForm] = []
    context: dict[str, object] = {"vendor": vendor, "forms": forms}
    for number, load in enumerate(loads):
        mine = bool(asked & {one.key for one in load})
        form = SendingForm(
            request.GET if mine else None,
            listed=[(one.key, one.words) for one in load],
            initial={"jobs": [one.key for one in load if one.near]},
            auto_id=f"load-{number}-%s",
        )
        forms.append(form)
        if mine:
            context |= _advice(form)
    part = ADVICE if request.headers.get("HX-Target") == "advice" else ""
    return render(request, "promises/sending.html" + part, context)


def _advice(form: SendingForm) -> dict[str, object]:
    if not form.is_valid():
        return {
            "refused": " ".join(
                str(one) for many in form.errors.values() for one in many
            )
        }
    jobs = tuple(form.cleaned_data["jobs"])
    try:
        found = advice_on(jobs, wanted=form.cleaned_data["wanted"] / 100)
    except PlanError as error:
        return {"refused": str(error)}
    return {"advice": advice_page(found)}
