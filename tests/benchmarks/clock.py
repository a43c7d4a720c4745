"""Times as ratios: two jobs taken in turns on one machine, in processor time, so that busy neighbours hurt neither."""

import gc
import time
from collections.abc import Callable
from typing import Any


def seconds(job: Callable[[], Any], count: int = 1) -> float:
    """Seconds of processor that a count of calls takes; what others do meanwhile does not count."""
    started = time.process_time()
    for _ in range(count):
        job()
    return time.process_time() - started


def best(*jobs: Callable[[], Any], rounds: int = 15, least: float = 0.01) -> list[float]:
    """Seconds of one call of each job: the best of several rounds of ``least`` seconds, the jobs taken in turns within a round."""
    counts = []
    for job in jobs:
        job()  # caches filled, before anybody looks at the clock
        counts.append(max(1, int(least / max(seconds(job), 1e-9))))
    found = [float("inf")] * len(jobs)
    collecting = gc.isenabled()
    gc.disable()
    try:
        for _ in range(rounds):
            for place, (job, count) in enumerate(zip(jobs, counts)):
                found[place] = min(found[place], seconds(job, count) / count)
    finally:
        if collecting:
            gc.enable()
    return found


def told(capsys: Any, sentence: str) -> None:
    """Print past pytest, so that the ratio is seen also where the test passes."""
    with capsys.disabled():
        print(f"\n  {sentence}")
