"""Run the second programs and store what they found: ``python tests/store_evidence.py``.

The course shows it; the tests hold that the stored list is the true one and that no difference is above what is told.
"""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

import pytest

from lathe_course.evidence import second_programs

HERE = Path(__file__).parent
STORE = HERE.parent / "lathe_course" / "evidence" / "second_programs.toml"


def main() -> int:
    os.environ["STORE_EVIDENCE"] = "1"
    files = sorted(map(str, (HERE / "published").glob("test_second_*.py")))
    if pytest.main(["-q", "-p", "no:nbval", "-p", "no:xdist", "-o", "addopts=", *files]):
        print("A second program disagrees; nothing was stored.", file=sys.stderr)
        return 1
    import evidence  # the very module the tests have just filled

    held = {one.test: one.within for one in second_programs()}
    lines = [
        "# Written by tests/store_evidence.py: what each second program compares, and what we stay within, rounded up to what it means."
    ]
    for one in sorted(evidence.marked().values(), key=lambda one: one.test):
        difference, allowed = evidence.MEASURED.get(one.test, (0.0, 0.0))
        within = evidence.ceiling(difference, held.get(one.test)) if allowed else 0.0
        texts = {
            "test": one.test,
            "says": one.says,
            "formulas": list(one.formulas),
            "evidence": one.evidence,
            "source": one.source,
        }
        lines += ["", "[[second_program]]", *(f"{key} = {json.dumps(value, ensure_ascii=False)}" for key, value in texts.items())]
        if one.because:
            lines.append(f"because = {json.dumps(one.because, ensure_ascii=False)}")
        lines += [f"within = {within:.0e}", f"allowed = {allowed:.1e}"]
    STORE.write_text("\n".join(lines) + "\n", encoding="utf-8")
    print(f"{len(evidence.SECOND_PROGRAMS)} second programs stored.")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
