"""What `import lathe_course` costs, against what anybody who works with units imports anyway."""

import os
import subprocess
import sys

import pytest
from clock import told

pytestmark = pytest.mark.benchmark

ROUNDS = 7


def test_importing_the_course_costs_little_more_than_pint_and_numpy(tmp_path, capsys):
    """Best of several runs in turns, each in a fresh interpreter, the start of Python itself included on both sides."""
    # with the compiled files that an installation brings, of ours as of others
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"} | {
        "PYTHONPYCACHEPREFIX": str(tmp_path)
    }

    def seconds(code: str) -> float:
        """Processor seconds of a fresh interpreter that runs this and ends, as it counts them itself."""
        said = subprocess.run(
            [sys.executable, "-c", f"{code}; import time; print(time.process_time())"],
            check=True,
            capture_output=True,
            text=True,
            env=environment,
        )
        return float(said.stdout)

    codes = {"plain": "import pint, numpy", "course": "import lathe_course", "chain": "import lathe_course.design.lathe"}
    for code in codes.values():
        seconds(code)  # files read once
    found = {
        name: min(times) for name, times in zip(codes, zip(*([seconds(code) for code in codes.values()] for _ in range(ROUNDS))))
    }
    told(
        capsys,
        f"import lathe_course: {found['course'] / found['plain']:.2f} times import pint, numpy ({1e3 * found['course']:.0f} ms against "
        f"{1e3 * found['plain']:.0f} ms); with the whole chain {found['chain'] / found['plain']:.2f} times",
    )
    assert found["course"] <= 1.3 * found["plain"]
    assert found["chain"] <= 1.75 * found["plain"]  # 1.45 on a quiet machine; two busy neighbours of a core make it more
