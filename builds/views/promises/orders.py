"""Bought-in parts: the list, and what is done to one order."""

from __future__ import annotations

from collections.abc import Callable

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST, require_safe

from builds.access.gates import lead_only, load_job
from builds.actions import orders as act
from builds.actions.robbing import rob_part
from builds.forms.orders import AcknowledgedForm, BackOrderForm, ReceivedForm, RobForm
from builds.forms.record import RecordForm
from builds.models import Job, Kind, State, Workshop
from builds.selectors.orders import donors, open_jobs_of, order_words, orders_page
from builds.selectors.promises import slips
from builds.views.records.answers import attempt, done, who

Forms = dict[str, RecordForm]


@lead_only
@require_safe
def orders(request: HttpRequest) -> HttpResponse:
    page = orders_page(Workshop.current().clock().date())
    return render(request, "promises/orders.html", {"page": page})


@lead_only
@load_job
@require_safe
def order(request: HttpRequest, job: Job) -> HttpResponse:
    return _show(request, _order(job))


@lead_only
@load_job
@require_POST
def order_acknowledged(request: HttpRequest, job: Job) -> HttpResponse:
    def acknowledge(form: RecordForm) -> str:
        act.acknowledge_order(by=who(request), job=job, **form.cleaned_data)
        return f"“{job}” is acknowledged."

    return _do(request, _order(job), "acknowledged", acknowledge)


@lead_only
@load_job
@require_POST
def order_back_order(request: HttpRequest, job: Job) -> HttpResponse:
    def put(form: RecordForm) -> str:
        act.put_on_back_order(by=who(request), job=job, **form.cleaned_data)
        return f"“{job}” is on back-order. It stands on the list of who to ring."

    return _do(request, _order(job), "back_order", put)


@lead_only
@load_job
@require_POST
def order_received(request: HttpRequest, job: Job) -> HttpResponse:
    def receive(form: RecordForm) -> str:
        held = act.receive_order(by=who(request), job=job, **form.cleaned_data)
        if held.state == State.DONE:
            return f"“{job}” is in, all of it."
        return f"“{job}”: {order_words(held).lower()}. It stays open for the rest."

    return _do(request, _order(job), "received", receive)


@lead_only
@load_job
@require_POST
def order_rob(request: HttpRequest, job: Job) -> HttpResponse:
    def rob(form: RecordForm) -> str:
        made = rob_part(by=who(request), order=job, **form.cleaned_data)
        return f"“{made}” is on the list of {made.build}: the order is theirs now."

    return _do(request, _order(job), "rob", rob)


def _order(job: Job) -> Job:
    if job.kind != Kind.ORDER:
        raise Http404
    return job


def _do(
    request: HttpRequest, job: Job, name: str, act: Callable[[RecordForm], str]
) -> HttpResponse:
    forms = _forms(job, request, name)
    words = attempt(forms[name], lambda: act(forms[name]))
    if words is None:
        job.refresh_from_db()
        return _show(request, job, forms, name)
    return done(request, words, "order", job.key)


def _forms(job: Job, request: HttpRequest, sent: str = "") -> Forms:
    """Give the four forms; only the one that was sent holds what was typed."""
    now, cars = Workshop.current().clock(), donors(job)
    typed = dict.fromkeys((sent,), request.POST) if sent else {}
    return {
        "acknowledged": AcknowledgedForm(
            typed.get("acknowledged"), now=now, auto_id="ack-%s"
        ),
        "back_order": BackOrderForm(
            typed.get("back_order"), now=now, auto_id="back-%s"
        ),
        "received": ReceivedForm(typed.get("received"), now=now, auto_id="in-%s"),
        "rob": RobForm(
            typed.get("rob"),
            donors=cars,
            jobs=open_jobs_of(cars),
            now=now,
            auto_id="rob-%s",
        ),
    }


def _show(
    request: HttpRequest, job: Job, forms: Forms | None = None, asked: str = ""
) -> HttpResponse:
    context = {
        "job": job,
        "state": order_words(job),
        "slips": slips(job.promises.all()),
        "forms": forms or _forms(job, request),
        "asked": asked,
        "on_order": job.sent is not None and job.state in act.STILL_OPEN,
        "open": job.state in act.STILL_OPEN,
    }
    status = 422 if asked else 200
    return render(request, "promises/order.html", context, status=status)
