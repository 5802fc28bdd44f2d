"""What the workshop does on its own: fetch, call, return."""

from builds.tasks.replan import drain as drain
from builds.tasks.replan import drain_queue as drain_queue
from builds.tasks.replan import replan_workshop as replan_workshop
from builds.tasks.replan import request_replan as request_replan
