"""A piece's own page, which the code on its label leads to, and a job's list."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.cache import cache_control
from django.views.decorators.http import (
    require_http_methods,
    require_POST,
    require_safe,
)

from builds.access.gates import lead_only, load_job, load_piece, staff_only
from builds.actions import pieces as act
from builds.forms.pieces import ListPieceForm, MovePieceForm
from builds.models import Job, Piece
from builds.selectors.piece import job_pieces as read_list
from builds.selectors.piece import photo_of, piece_page
from builds.views.records.answers import attempt, done, posted, press, who


@staff_only
@load_piece
@require_http_methods(["GET", "HEAD", "POST"])
def piece(request: HttpRequest, piece: Piece) -> HttpResponse:
    initial = {"holder": piece.holder, "place": piece.place}
    files = request.FILES if request.method == "POST" else None
    form = MovePieceForm(posted(request), files=files, initial=initial)
    moved = attempt(
        form,
        lambda: act.move_piece(by=who(request), piece=piece, **form.cleaned_data),
    )
    if moved:
        words = f"“{moved}” is with {moved.holder}, {moved.place}."
        return done(request, words, "piece", piece.key)
    context = {"page": piece_page(piece), "form": form}
    status = 422 if form.is_bound else 200
    return render(request, "out/piece.html", context, status=status)


@staff_only
@load_piece
@require_safe
@cache_control(private=True, max_age=3600)
def piece_photo(request: HttpRequest, piece: Piece, number: int) -> HttpResponse:
    move = photo_of(piece, number)
    if move is None:
        raise Http404
    try:
        with move.photo.open("rb") as file:
            answer = HttpResponse(file.read(), content_type="image/jpeg")
    except FileNotFoundError:
        raise Http404 from None
    answer["Content-Security-Policy"] = (
        "default-src 'none'; base-uri 'none'; frame-ancestors 'none'; sandbox"
    )
    return answer


@lead_only
@load_piece
@require_POST
def piece_strike(request: HttpRequest, piece: Piece) -> HttpResponse:
    return press(
        request,
        lambda: act.strike_piece(by=who(request), piece=piece),
        f"“{piece}” is off the list.",
        "job_pieces",
        piece.job.key,
    )


@lead_only
@load_job
@require_http_methods(["GET", "HEAD", "POST"])
def job_pieces(request: HttpRequest, job: Job) -> HttpResponse:
    form = ListPieceForm(posted(request))
    row = attempt(
        form, lambda: act.list_piece(by=who(request), job=job, **form.cleaned_data)
    )
    if row:
        return done(request, f"“{row}” is on the list.", "job_pieces", job.key)
    context = {"page": read_list(job), "form": form}
    status = 422 if form.is_bound else 200
    return render(request, "out/job_pieces.html", context, status=status)
