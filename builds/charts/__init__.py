"""Pictures worked out on the server: plain geometry, no web framework."""

from builds.charts.axis import Closed as Closed
from builds.charts.bars import RunInJob as RunInJob
from builds.charts.knock_on import HeldJob as HeldJob
from builds.charts.knock_on import knock_on as knock_on
from builds.charts.ladder import Rung as Rung
from builds.charts.ladder import ladder as ladder
from builds.charts.run_in import run_in as run_in
from builds.charts.smear import Finish as Finish
from builds.charts.smear import smear_strip as smear_strip
