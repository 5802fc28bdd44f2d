"""The whole plan as one file, out and in."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET, require_http_methods

from builds.access.gates import lead_only
from builds.actions.exchange import replace_plan
from builds.forms.exchange import PlanFileForm
from builds.planning.exchange import export_plan
from builds.selectors.exchange import exchange_page
from builds.views.records.answers import attempt_plan, done, show, who


@lead_only
@require_http_methods(["GET", "POST"])
def exchange(request: HttpRequest) -> HttpResponse:
    sent = request.method == "POST"
    form = PlanFileForm(request.POST, files=request.FILES) if sent else PlanFileForm()
    faults = attempt_plan(
        form,
        lambda: replace_plan(
            by=who(request),
            text=form.cleaned_data["file"].read(),
            pin_clock=form.cleaned_data["pin_clock"],
        ),
    )
    if sent and not form.errors and not faults:
        return done(request, "The plan is replaced by the file.", "cars")
    return show(request, "exchange.html", form, page=exchange_page(), faults=faults)


@lead_only
@require_GET
def plan_download(request: HttpRequest) -> HttpResponse:
    now = exchange_page().now
    answer = HttpResponse(export_plan(), content_type="application/json")
    name = f"workshop-plan-{now:%Y-%m-%d}.json"
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer
