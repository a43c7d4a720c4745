"""The lathe drawn: what each part does, and the sheet to print."""

from __future__ import annotations

import ipywidgets as widgets

from ...design.drawn.arrangement import arrange
from ...design.evaluation import Evaluation
from ...units import InputProblem
from ..pictures import PICTURES
from ..pictures.lathe_parts import told_of
from ..pictures.style import Canvas
from ..printed.document import link_to
from ..session import Session
from ..sheets.general import GUARDS
from ..sheets.paper import PAPERS
from ..sheets.title_block import PROJECTIONS, usual_projection
from ..sheets.written import drawing_svg, write_drawing
from ..shown.panels import Page, Panel, Place, button, tabled
from ..text.values import Drawn, Fold, Part
from ..turns import in_turn
from .register import page, panel

DRAWING = "lathe_drawing"


@page
def parts_drawn(evaluation: Evaluation, about: str = "") -> Page:
    """The learner's lathe with the parts a chapter is about standing out, what each does, and what has no room."""
    central = evaluation.central
    arrangement = arrange(central)
    rows = [(str(part.number), part.part, part.does) for part in told_of(list(arrangement.parts), about)]
    head = ("no.", "part", "what it does")
    lines = [*arrangement.remarks, GUARDS]
    drawn = Canvas(key=f"parts {about}").draw(PICTURES["lathe_parts"], central, about=about)
    told = Fold("What each of these parts does", tabled(rows, head).blocks, told=True)  # the picture names them
    return Page(Part("lc-picture", (Drawn(drawn),)), told, *lines)


class DrawingPanel:
    """The sheet as it would be printed, and a button that writes it beside the design file."""

    def __init__(self, session: Session):
        self.session = session
        self.paper = widgets.Dropdown(options=list(PAPERS), value="A4", description="paper", layout=widgets.Layout(width="11em"))
        self.angle = widgets.Dropdown(
            options=[(f"{one} angle", one) for one in PROJECTIONS],
            value=usual_projection(session.design),
            description="projection",
            layout=widgets.Layout(width="15em"),
        )
        self.button = button("Write the drawing", "print", self.write, width="auto", primary=True)
        self.reply, self.sheet = Place(), widgets.HTML(layout=widgets.Layout(width="100%"))
        for one in (self.paper, self.angle):
            one.observe(lambda _: self.draw(), names="value")
        self.widget = widgets.VBox(
            [
                widgets.HBox([self.paper, self.angle, self.button], layout=widgets.Layout(flex_flow="row wrap")),
                self.reply,
                self.sheet,
            ]
        )
        session.when_changed(self.draw)
        self.draw()

    @in_turn
    def draw(self) -> None:
        """Draw the sheet of the design as it stands."""
        markup, made = drawing_svg(self.session.evaluation, self.paper.value, self.angle.value)
        self.words = made.words
        self.sheet.value = markup

    @in_turn
    def write(self) -> None:
        """Write it as PDF and as SVG beside the design file."""
        if self.session.path is None:
            self.reply.say(
                "There is no working folder here, so nothing was written: in a working folder the button writes "
                f"{DRAWING}.pdf and {DRAWING}.svg beside your design file."
            )
            return
        try:
            written = [
                write_drawing(
                    self.session.design, self.session.path.with_name(DRAWING + ending), self.paper.value, self.angle.value
                )
                for ending in (".pdf", ".svg")
            ]
        except InputProblem as problem:
            self.reply.say(str(problem))
            return
        links = [part for one in written for part in (" and ", link_to(one))][1:]
        self.reply.say((f"Written for {self.paper.value}: ", *links, ". Print them at full size (100 %)."))


@panel
def drawing(session: Session) -> Panel:
    """The general arrangement on paper: choose the paper, look, and write it."""
    made = DrawingPanel(session)
    shown = Panel(made.widget, f"[the drawing on paper, with a button that writes it]\n{made.words}")
    shown.drawing = made
    return shown
