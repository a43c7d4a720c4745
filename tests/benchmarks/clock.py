"""Times as ratios: two jobs taken in turns on one machine, each by its best run, so that a busy moment hurts neither."""
import gc
import time
from collections.abc import Callable
from typing import Any


def best(*jobs: Callable[[], Any], rounds: int = 15, seconds: float = 0.01) -> list[float]:
    """Seconds of one call of each job: the best of several rounds, the jobs taken in turns within a round."""
    counts = []
    for job in jobs:
        job()                                   # caches filled, before anybody looks at the clock
        started = time.perf_counter()
        job()
        counts.append(max(1, int(seconds / max(time.perf_counter() - started, 1e-9))))
    found = [float("inf")] * len(jobs)
    collecting = gc.isenabled()
    gc.disable()
    try:
        for _ in range(rounds):
            for place, (job, count) in enumerate(zip(jobs, counts)):
                started = time.perf_counter()
                for _ in range(count):
                    job()
                found[place] = min(found[place], (time.perf_counter() - started) / count)
    finally:
        if collecting:
            gc.enable()
    return found


def told(capsys: Any, sentence: str) -> None:
    """Print past pytest, so that the ratio is seen also where the test passes."""
    with capsys.disabled():
        print(f"\n  {sentence}")
