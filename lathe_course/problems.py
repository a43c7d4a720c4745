"""What was put in and cannot be used, in sentences."""
from __future__ import annotations

__all__ = ["InputProblem"]


class InputProblem(ValueError):
    """One or more things wrong with what was put in, each as a sentence.

    ``problems`` is a list of ``(name, sentence)``.  In a notebook the sentences are
    shown alone, without the lines of code that led to them.
    """

    def __init__(self, problems: list[tuple[str, str]], heading: str = ""):
        self.problems = list(problems)
        self.heading = heading
        lines = [sentence for _, sentence in self.problems]
        if heading:
            lines = [heading, *("- " + line for line in lines)] if len(lines) > 1 else [f"{heading} {lines[0]}"]
        super().__init__("\n".join(lines))

    def _render_traceback_(self) -> list[str]:          # IPython shows these lines in place of a traceback
        return str(self).split("\n")
