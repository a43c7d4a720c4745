"""A short check: which of some changes does most for a result, worked out on the learner's own design."""

from __future__ import annotations

from typing import Any

import ipywidgets as widgets
import numpy as np

from ...design.evaluation import evaluate
from ...units import shown
from ..session import Session
from ..text.values import strong
from ..turns import in_turn
from .panels import Panel, Place, tabled
from .relative import from_here


class WhichCheck:
    """``options`` maps plain words to changes of the design, best told from where it stands ("10 mm less"); there is no answer key."""

    def __init__(self, session: Session, question: str, result: str, options: dict[str, dict[str, Any]], most: bool = True):
        self.session, self.question, self.result, self.options, self.most = session, question, result, options, most
        self.choice = widgets.RadioButtons(options=list(options), value=None, layout=widgets.Layout(width="95%"))
        self.reply = Place()
        self.choice.observe(lambda _: self._answer(), names="value")
        self.widget = widgets.VBox([Place(question), self.choice, self.reply])
        session.when_changed(self._answer)
        self.outcomes()  # a change that cannot be read is found when the cell is written, not when it is answered

    def outcomes(self) -> dict[str, float]:
        """The result under each option, SI."""
        here = self.session.evaluation
        return {
            words: evaluate(
                self.session.design.with_(decided="", **from_here(self.session.design, changes)), earlier=here
            ).middle(self.result)
            for words, changes in self.options.items()
        }

    def best(self) -> set[str]:
        """The option that does most, with all that tie with it."""
        found = self.outcomes()
        told = [value for value in found.values() if not np.isnan(value)]  # a change that cannot stand is never best
        top = (max if self.most else min)(told, default=np.nan)
        return {
            words for words, value in found.items() if np.isclose(value, top, rtol=1e-6, atol=0)
        }  # give is a hundred-millionth in SI

    @in_turn
    def _answer(self) -> None:
        if self.choice.value is None:
            return
        found, best = self.outcomes(), self.best()
        kind, system = self.session.evaluation.kind(self.result), self.session.design.system
        order = sorted(found, key=lambda words: np.nan_to_num(-found[words] if self.most else found[words], nan=np.inf))
        rows = [("as it is", self.session.evaluation.shown(self.result))] + [
            (words, shown(found[words], kind, system)) for words in order
        ]
        word = "✓ Yes." if self.choice.value in best else "✗ Not quite."
        label = self.session.evaluation.chain.part(self.result).label
        self.reply.say((strong(word), f" On your design, {label}:"), tabled(rows, numeric=(1,)))

    def panel(self) -> Panel:
        said = "\n".join(f"  ( ) {words}" for words in self.options)
        return Panel(self.widget, f"[a short check] {self.question}\n{said}")
