"""Chapter 08, second half: the give measured at the machine itself, beside the one worked out."""
from ...units import Force, Length
from ..readings import Field, Sheet

CHAPTER = "08"

SHEETS = [
    Sheet("stiffness", "stiffness at the tool", {
        "force": Field("what the spring balance shows", Force("N", at_least=0)),
        "dial": Field("what the dial indicator shows", Length("µm")),
        "going": Field("was load being put on or taken off?", options=("loading", "unloading")),
        "remark": Field("anything odd, such as a slip", optional=True)},
        "Pull the tool away from a short stout bar in the chuck with a spring balance, sideways and at centre height. "
        "The dial stands on the bar's side and touches the tool. Go up in five or more steps and down again, and read at each."),
]
DECISIONS, FIGURES, RESULTS, LIMITS = [], [], [], []
