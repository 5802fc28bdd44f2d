"""What the workshop does on its own: fetch, call, return."""

from builds.tasks.copies import copy_everything as copy_everything
from builds.tasks.files import answer_plan_file as answer_plan_file
from builds.tasks.replan import replan_workshop as replan_workshop
from builds.tasks.replan import request_replan as request_replan
from builds.tasks.search import look_for_a_turn as look_for_a_turn
from builds.tasks.undone import drain as drain
from builds.tasks.undone import drain_queue as drain_queue
