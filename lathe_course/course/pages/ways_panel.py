"""Chapter 10: the way of each part settled, with the sums at hand; and the picture of money against hours, worked out finer on asking."""

from __future__ import annotations

import functools
from collections.abc import Mapping

import ipywidgets as widgets

from ...design.asked.mixes import WISHES, choices_here, choose_ways, compared, frontier_here
from ...design.evaluation import Evaluation, evaluate
from ...planning.feasible import OpenWay
from ...planning.mix import NONE, Choice
from ...units import InputProblem
from ..pictures import PICTURES
from ..pictures.style import Canvas
from ..session import Session
from ..shown.money import euros, whole
from ..shown.panels import Panel, Place, broad, button, not_kept, tabled
from ..shown.views import change_of, findings_table, results_rows, ripple_page
from ..text.markup import GRID
from ..text.values import strong
from ..turns import in_turn
from .parts import SHORT, told_way
from .register import panel

_SUMS = (
    "cash_total",
    "cash_in_the_end",
    "own_hours",
    "longest_wait",
    "months_to_first_chips",
    "months_to_finish",
    "parts_on_the_lathe",
    "borrowed_hours",
    "size_error",
    "set_taper",
)
_FINDINGS = ("every_part_can_be_had", "finished_in_time", "finished_in_balance")
_BESIDE = "tools, accessories and machines for the build"
_FINE = 2.0  # hours between the mixes of the finer picture


class WaysPanel:
    """A row for each part with the ways that are open; sums follow every move; nothing is kept before the button is pressed."""

    def __init__(self, session: Session):
        self.session = session
        self._quiet = False
        self.boxes: dict[str, widgets.Dropdown] = {}
        self.grid = widgets.Accordion()
        self.sums, self.reply = Place(), Place()
        self.takers = {wish: button(wish, "", functools.partial(self.take, wish), width="auto") for wish in WISHES}
        back = button("Back to my ways", "undo", self.show, width="12em")
        self.reason = widgets.Textarea(
            description="your reason",
            placeholder="because … (in your own words; may stay empty)",
            layout=widgets.Layout(width="95%", height="3.5em"),
        ).add_class("lc-unseen")
        self.button = button("Keep these ways", "check", self.keep, width="14em", primary=True)
        take = widgets.HBox(
            [Place("Take the best mix for:"), *self.takers.values(), back], layout=widgets.Layout(flex_flow="row wrap")
        )
        self.widget = widgets.VBox([widgets.HTML(GRID), take, self.sums, self.grid, self.reason, self.button, self.reply])
        self.show()
        session.when_changed(self._changed)

    # --- the boxes --------------------------------------------------------------------------------
    def _offers(self) -> dict[str, list[tuple[str, str]]]:
        """For each part, group by group, the open ways and the one it has now: what is told of each, and its name."""
        e = self.session.evaluation
        now = {one.way.part: one for one in e["ways_chosen"]}
        try:
            figures = {(one.part, one.how): one for one in reversed(choices_here(e).choices)}
        except InputProblem:
            figures = {}
        # a way that a machine for sale would open may be chosen with it
        could = {
            (one.way.part, one.way.how): " and ".join(f"a {' or a '.join(sorted(call))}" for call in one.buys)
            for one in e["ways_open"].buyable
        }
        parts = {
            part: [
                (_told(one, figures.get((part, one.way.how)), e, could.get((part, one.way.how), "")), one.way.how)
                for one in e["ways_open"].of(part)
                if one.open or one is now[part] or (part, one.way.how) in could or (one.spare and one.borrowed)
            ]
            for names in e["parts_list"].groups.values()
            for part in names
        }
        return parts | {
            thing: [(_told_thing(how, figures.get((thing, how)), e), how) for how in hows]
            for thing, hows in e["building"].things.items()
            if len(hows) > 1
        }

    @in_turn
    def show(self) -> None:
        """Lay the boxes as the design stands."""
        e = self.session.evaluation
        self._quiet = True
        things = e["building"].things
        self.shown = {one.way.part: one.way.how for one in e["ways_chosen"]} | {
            thing: e["building"].how_of(thing) for thing in things
        }
        self.boxes, groups = {}, {}
        for part, ways in self._offers().items():
            of = _BESIDE if part in things else e["parts_list"][part].group
            box = widgets.Dropdown(
                options=ways,
                value=self.shown[part],
                description=part,
                disabled=len(ways) < 2,
                layout=widgets.Layout(width="100%"),
            )
            box.observe(self._moved, names="value")
            self.boxes[part] = box
            groups.setdefault(of, []).append(box)
        opened = self.grid.selected_index
        self.grid.children = tuple(widgets.VBox(boxes).add_class("lc-control") for boxes in groups.values())
        self.grid.titles = tuple(f"{group}: {len(boxes)}" for group, boxes in groups.items())
        self.grid.selected_index = opened if opened is not None and opened < len(groups) else None
        self._quiet = False
        self._tell()

    def chosen(self) -> dict[str, str]:
        """The ways as they stand in the boxes, where they differ from the design."""
        return {part: box.value for part, box in self.boxes.items() if box.value != self.shown[part]}

    def _moved(self, _: object) -> None:
        if not self._quiet:
            self._tell()

    @in_turn
    def take(self, wish: str) -> None:
        """Put the best mix for a wish into the boxes, the one of the pages above it; nothing is kept by it."""
        try:
            self._put(compared(self.session.evaluation)[wish].hows)
        except InputProblem as problem:
            self.reply.say(str(problem))

    def _put(self, hows: Mapping[str, str]) -> None:
        self._quiet = True
        for part, how in hows.items():
            if part in self.boxes:
                self.boxes[part].value = how
        self._quiet = False
        self._tell()

    # --- telling ----------------------------------------------------------------------------------
    @in_turn
    def _tell(self) -> None:
        base = self.session.evaluation
        changed = self.chosen()
        now = evaluate(self.session.design.with_ways(**changed), earlier=base) if changed else base
        rows = [(*row, change_of(now, base, name)) for name, row in zip(_SUMS, results_rows(now, _SUMS, base))]
        others = "part or thing comes" if len(changed) == 1 else "parts and things come"
        self.sums.say(
            tabled(rows, ("", "now", "kept", ""), (1, 2, 3)),
            f"{len(changed)} {others} by another way than in your design." if changed else "",
            findings_table([now.findings[name] for name in _FINDINGS], cautions=False),
        )

    @in_turn
    def keep(self) -> None:
        """Keep the ways that differ, with the reason, and tell what that moved."""
        before, changed, stood = self.session.evaluation, self.chosen(), self.shown
        if not changed:
            self.reply.say("Nothing is changed: the ways stand as they are kept.")
            return
        reason = self.reason.value.strip()
        try:
            self.session.change(lambda design: choose_ways(design, changed, reason))
        except InputProblem as problem:
            self.reply.say(not_kept(problem))
            return
        self.reply.say(
            strong(f"{self.session.kept_where}: {len(changed)} way{'' if len(changed) == 1 else 's'}."),
            tabled([(part, f"{SHORT.get(stood[part], stood[part])} → {SHORT.get(how, how)}") for part, how in changed.items()]),
            ripple_page(before, self.session.evaluation),
        )

    def _changed(self) -> None:
        """After a kept change anywhere; what the learner has moved here and not kept stays as far as it is still open."""
        wanted = self.chosen()
        self.show()
        still = {
            part: how
            for part, how in wanted.items()
            if part in self.boxes and how in [value for _, value in self.boxes[part].options]
        }
        if still:
            self._put(still)

    @property
    def plain(self) -> str:
        e = self.session.evaluation
        said = "\n".join(f"  {label}: {now}" for label, now, _ in results_rows(e, _SUMS, e))
        return f"[a way for each of {len(self.boxes)} parts, to settle with a reason; or take the best mix for: {', '.join(WISHES)}]\n{said}"


def _told(one: OpenWay, figures: Choice | None, e: Evaluation, machine: str = "") -> str:
    """'outside: 1.5 h, 75 EUR, 4 weeks', at the figures of the design; a closed way says so, or which machine for sale would open it."""
    closed = "" if one.open or (one.spare and not one.missing) else f" (once you buy {machine})" if machine else " (not open)"
    return f"{told_way(one)}{closed}{_figures(figures, e)}"


def _told_thing(how: str, figures: Choice | None, e: Evaluation) -> str:
    """The same of a tool, or of a machine that is for sale."""
    back = f", {whole(e, figures.back)} back" if figures and figures.back else ""
    return f"{SHORT.get(how, how)}{_figures(figures, e) if how != NONE else ''}{back}"


def _figures(figures: Choice | None, e: Evaluation) -> str:
    if figures is None:
        return ""
    weeks = f"{figures.weeks:.1g}" if figures.weeks < 1 else f"{figures.weeks:.0f}"
    wait = f", {weeks} week{'' if weeks == '1' else 's'}" if figures.weeks else ""
    return f": {figures.hours:.1f} h, {euros(e, figures.money)}{wait}"


@panel
def ways_of_your_parts(session: Session) -> Panel:
    """The way of each part, settled with the sums in view."""
    made = WaysPanel(session)
    shown = Panel(made.widget, made.plain)
    shown.ways = made
    return shown


# --- the frontier ---------------------------------------------------------------------------------------------
class FrontierPanel:
    """Money against hours, drawn at once with wide steps; on a button every step, with the share that is done."""

    def __init__(self, session: Session):
        self.session, self.fine = session, False
        self.picture = broad()
        self.bar = widgets.FloatProgress(min=0.0, max=1.0, layout=widgets.Layout(width="14em", visibility="hidden"))
        self.button = button("Work it out finer", "search-plus", self.refine, width="14em")
        self._canvas = Canvas(key="mixes")
        self.widget = widgets.VBox([self.picture, widgets.HBox([self.button, self.bar])])
        self._draw()
        session.when_changed(self._changed)

    def _draw(self) -> None:
        extra = {"step": _FINE} if self.fine else {}
        self.picture.value = self._canvas.draw(PICTURES["money_against_hours"], self.session.evaluation, **extra)

    def _changed(self) -> None:
        self.fine = False
        self._draw()

    @in_turn
    def refine(self) -> None:
        """Every mix that is two hours or more from its neighbour; takes a few seconds, and is kept for the same figures."""
        self.bar.layout.visibility = "visible"
        try:
            frontier_here(self.session.evaluation, _FINE, lambda done: setattr(self.bar, "value", done))
            self.fine = True
        except InputProblem:
            pass  # the picture says what is missing
        self.bar.layout.visibility = "hidden"
        self._draw()

    @property
    def plain(self) -> str:
        return f"[picture] {PICTURES['money_against_hours'].describe(self.session.evaluation)}"


@panel
def mixes_in_a_picture(session: Session) -> Panel:
    """Money against hours over the best mixes, with yours among them."""
    made = FrontierPanel(session)
    shown = Panel(made.widget, made.plain)
    shown.frontier = made
    return shown
