"""How fast the engine is: `python -m tests.scheduling.bench.bench`.

The simulation alone first (see `simulation`). Then the demo workshop's four answers by
`scheduling.answer`, against a plain Python loop over a networkx graph that works out
the same number of samples: random draws, order, start and finish on calendars, what
drove each date, and the reruns with a job ended today. The loop does none of the
engine's other work (critical path, shared plan, blocking). It is run on a few dozen
samples and scaled. The two take turns; medians of processor seconds, so that a busy
machine does not decide it.
"""

import os
import sys
import time
from random import Random
from statistics import median
from tempfile import TemporaryDirectory
from typing import Any

import django

SAMPLES = 10_000
TRIES = 4  # shared plans, as the site tries for each forecast
REPEATS = 3
EDITS = 9
FEW = 24  # plain samples per repeat


def main() -> None:
    repeats = int(sys.argv[1]) if len(sys.argv) > 1 else REPEATS
    with TemporaryDirectory() as folder:
        os.environ["DJANGO_SETTINGS_MODULE"] = "builds.settings"
        os.environ["DATABASE_URL"] = f"sqlite:///{folder}/bench.sqlite3"
        os.environ["DEBUG"] = os.environ["DEMO"] = "1"
        django.setup()
        from builds.demo.plan import demo_plan
        from scheduling.memory import keep_memory
        from tests.scheduling.bench.replanning import print_edit
        from tests.scheduling.bench.simulation import print_simulations

        keep_memory()  # as a web process or a worker does
        print_simulations(demo_plan(), max(repeats, 5))
        print_ratio(demo_plan(), repeats)
        print_edit(EDITS)


def print_ratio(rows: dict[str, Any], repeats: int) -> None:
    import scheduling
    from scheduling.flow import free_flow
    from scheduling.moves import SAMPLES as MOVED
    from scheduling.sampling.draws import BLOCK
    from scheduling.sampling.kernel import Kernel
    from tests.scheduling.bench.plain import PlainLoop

    plan = scheduling.read_plan(rows)
    scheduling.answer(plan, samples=SAMPLES, schedules=TRIES)  # loads what is compiled
    engine, whole, alone = [], [], []
    finishes: dict[Any, list[float]] = {}
    random = Random(1)
    loop = apart = None
    for _ in range(repeats):
        began = time.process_time()
        answer = scheduling.answer(plan, samples=SAMPLES, schedules=TRIES)
        told = answer.as_dict()
        engine.append(time.process_time() - began)
        found = answer.found
        kernel = found.odds.kernel
        if loop is None or apart is None:
            free = Kernel(found.network, found.shared, free_flow(found.network))
            loop, apart = PlainLoop(kernel, found.shared), PlainLoop(free, found.shared)
        goals = {
            (due.build, due.level): found.goals[due.build, due.level].ends
            for due in found.dues
        }
        began = time.process_time()
        for _ in range(FEW):
            times = loop.run(loop.sample(random))
            loop.traced(list(goals.values()), times)
            for key, ends in goals.items():
                finishes.setdefault(key, []).append(max(times[3][n] for n in ends))
        whole.append((time.process_time() - began) / FEW)
        began = time.process_time()
        for _ in range(FEW):
            apart.run(apart.sample(random))
        alone.append((time.process_time() - began) / FEW)
    moved = len({move["job"] for move in told["moves_show"]})
    clear = len(told["blocking"])
    one, other, least = median(whole), median(alone) * BLOCK, median(engine)
    print(f"Demo workshop: {len(plan.jobs)} jobs, {len(found.network.nodes)} not done.")
    print(f"Medians of {repeats} turns; the plain loop on {FEW} samples a turn, scaled")
    print(f"to {SAMPLES}, to {BLOCK} with nobody waiting for anybody, and to {MOVED}")
    print("for each job tried as ended today.")
    print(f"{'':52}{'processor s':>12}{'ratio':>8}")
    print(f"{'all four answers, the engine':52}{least:12.2f}")
    for count, words in (
        (moved, f"plain loop, the {moved} jobs the engine had to try"),
        (clear, f"plain loop, all {clear} jobs that do not wait"),
    ):
        plain = one * (SAMPLES + count * MOVED) + other
        print(f"{words:52}{plain:12.2f}{plain / least:8.1f}")
    print("Goal: at least 100. The first row is the same runs on both sides; the")
    print("second tries every job, as a loop does that leaves none out beforehand.")
    print_agreement(found, finishes)


def print_agreement(found: Any, finishes: dict[Any, list[float]]) -> None:
    """Print the share of plain samples done by the engine's P80, in standard errors.

    The draws are independent, so the share is 0.8 give or take its sampling error.
    """
    print(f"{'Done by the engine’s P80':34}{'share':>12}{'errors off':>12}")
    for key, ends in finishes.items():
        eighty = found.odds.percentile(key, 80)
        share = sum(end <= eighty for end in ends) / len(ends)
        off = (share - 0.8) / (0.16 / len(ends)) ** 0.5
        print(f"{key[0] + ', ' + key[1]:34}{share:12.3f}{off:12.1f}")


if __name__ == "__main__":
    main()
