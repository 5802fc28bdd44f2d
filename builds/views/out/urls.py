"""The addresses of what is out and what comes back."""

from __future__ import annotations

from django.urls import path

from builds.views.out import consignment_acts, consignments, goods_in, out, pieces
from builds.views.records import keys

assert keys.PlanKey.regex  # importing it makes <plan_key:...> known
TOGETHER = "out/<plan_key:consignment_key>/"
PIECE = "pieces/<plan_key:piece_key>/"

urlpatterns = [
    path("out/", out.out, name="out"),
    path("new/consignment/", consignments.consignment_new, name="consignment_new"),
    path(TOGETHER + "sheet/", consignments.consignment_sheet, name="consignment_sheet"),
    path(TOGETHER + "leave/", consignment_acts.leave, name="consignment_leave"),
    path(TOGETHER + "apart/", consignment_acts.apart, name="consignment_apart"),
    path(
        TOGETHER + "undo/<int:number>/",
        consignment_acts.take_back,
        name="consignment_undo",
    ),
    path(TOGETHER, consignments.consignment, name="consignment"),
    path("goods-in/", goods_in.goods_in, name="goods_in"),
    path(
        "goods-in/job/<plan_key:job_key>/", goods_in.goods_in_job, name="goods_in_job"
    ),
    path(
        "goods-in/together/<plan_key:consignment_key>/",
        goods_in.goods_in_consignment,
        name="goods_in_consignment",
    ),
    path("jobs/<plan_key:job_key>/pieces/", pieces.job_pieces, name="job_pieces"),
    path(PIECE + "strike/", pieces.piece_strike, name="piece_strike"),
    path(PIECE + "photo/<int:number>/", pieces.piece_photo, name="piece_photo"),
    path(PIECE, pieces.piece, name="piece"),
]
