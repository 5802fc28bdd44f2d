"""The engine: a workshop's plan in, its four answers out. Plain Python, no Django.

>>> import scheduling
>>> plan = scheduling.read_plan({"jobs": [
...     {"id": "weld", "estimate": {"likely": 8}},
...     {"id": "plate", "kind": "outside", "estimate": {"likely": 2},
...      "after": ["weld"]},
... ]})
>>> found = scheduling.answer(plan, samples=100).as_dict()
>>> found["critical_path"]
['weld', 'plate']
"""

from scheduling.advice import Advice as Advice
from scheduling.advice import advise as advise
from scheduling.errors import CycleError as CycleError
from scheduling.errors import Fault as Fault
from scheduling.errors import PlanError as PlanError
from scheduling.going import Going as Going
from scheduling.going import going_together as going_together
from scheduling.improving import improve as improve
from scheduling.judge import broken_rules as broken_rules
from scheduling.load import Hours as Hours
from scheduling.load import Load as Load
from scheduling.load import Stretch as Stretch
from scheduling.load import load_of as load_of
from scheduling.loops import find_loop as find_loop
from scheduling.morning_text import morning_text as morning_text
from scheduling.plan import Plan as Plan
from scheduling.plan_checks import check_plan as check_plan
from scheduling.plan_file import dump_plan as dump_plan
from scheduling.plan_file import plan_faults as plan_faults
from scheduling.plan_file import plan_text as plan_text
from scheduling.plan_file import read_plan as read_plan
from scheduling.plan_file import write_plan as write_plan
from scheduling.plan_shape import MOST_JOBS as MOST_JOBS
from scheduling.solve import Answer as Answer
from scheduling.solve import answer as answer
