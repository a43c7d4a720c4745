"""A tiny chain with one decision of each sort, and a design file for it, to test what holds for any chain."""

from lathe_course.design.chain.entries import Decision, Figure, Limit, result
from lathe_course.design.chain.graph import Chain
from lathe_course.design.chain.readings import Field, Sheet
from lathe_course.design.files.file_format import FORMAT
from lathe_course.ranges import Range
from lathe_course.units import Force, Length, Power, Ratio


@result(Power("W"), "power at the tool", "04")
def tool_power(motor_power, efficiency):
    """Power that reaches the tool."""
    return motor_power * efficiency


SAG = Sheet(
    "sag",
    "sag under load",
    {
        "force": Field("what the spring balance showed", Force("N", at_least=0)),
        "dial": Field("what the dial showed", Length("µm")),
        "going": Field("was load put on or taken off?", options=("up", "down"), optional=True),
        "remark": Field("anything odd", optional=True),
    },
)

SMALL = Chain(
    decisions=[
        Decision("centre_height", "centre height", "How high do the centres stand?", "02", Length("mm", above=0), 40, 150, 5),
        Decision("motor_power", "motor power", "How strong is the motor?", "04", Power("kW", above=0), 0.1, 2, 0.01),
        Decision("bed_form", "bed form", "Which form has the bed?", "07", options=("filled box", "two bars")),
    ],
    figures=[Figure("efficiency", "efficiency of the drive", Ratio(above=0, at_most=1), "04", value=Range(0.7, 0.8, 0.9))],
    results=[tool_power],
    limits=[Limit("enough_power", "power", "04", "tool_power", "at least", 100.0, "{value} against {limit}")],
    given=("jobs",),
    sheets=[SAG],
)

#: the line of a file of today
FORMAT_LINE = f"format = {FORMAT}"
TEXT = (
    f"""\
# my lathe; this line is mine
{FORMAT_LINE}
"""
    + """\
name = "A small lathe"   # a name
system = "mm"
started_from = "small"

# what was settled
[decisions.centre_height]
value = "75 mm"          # measured twice
reason = "the largest disc"
decided = 2026-01-31
# older thoughts
earlier = [ { value = "80 mm", reason = "to be safe", decided = "2026-01-10" } ]

[decisions.motor_power]
value = { low = "0.3 kW", likely = "0.37 kW", high = "0.4 kW" }

[decisions.bed_form]
value = "filled box"

[[jobs]]
# the first part
name = "bush"
material = "bronze"
diameter = "40 mm"
length = "50 mm"
tolerance = "20 µm"
roughness = "1.6 µm"
share = 0.75             # most of the time

[[jobs]]
name = "pin"
material = "mild steel"
diameter = "12 mm"
smallest = "8 mm"
length = "60 mm"
tolerance = "40 µm"
roughness = "3.2 µm"
share = "25 %"

[guesses.03]
fastest = "400 rpm"

[notes]
floor = "stone, level"

[ways]
"bed plate" = "made outside"     # the shop by the mill

[[readings.sag]]
force = "0 N"
dial = "0 µm"            # set to zero
[[readings.sag]]
# the second
force = "50 N"
dial = "0.4 thou"
going = "up"
"""
)

WRITTEN = {
    "name": "A small lathe",
    "system": "mm",
    "started_from": "small",
    "decisions": {
        "centre_height": {
            "value": "75 mm",
            "reason": "the largest disc",
            "decided": "2026-01-31",
            "earlier": [{"value": "80 mm", "reason": "to be safe", "decided": "2026-01-10"}],
        },
        "motor_power": {"value": {"low": "0.3 kW", "likely": "0.37 kW", "high": "0.4 kW"}},
        "bed_form": {"value": "filled box"},
    },
    "figures": {},
    "jobs": [
        {
            "name": "bush",
            "material": "bronze",
            "diameter": "40 mm",
            "length": "50 mm",
            "tolerance": "20 µm",
            "roughness": "1.6 µm",
            "share": 0.75,
        },
        {
            "name": "pin",
            "material": "mild steel",
            "diameter": "12 mm",
            "smallest": "8 mm",
            "length": "60 mm",
            "tolerance": "40 µm",
            "roughness": "3.2 µm",
            "share": "25 %",
        },
    ],
    "guesses": {"03": {"fastest": "400 rpm"}},
    "notes": {"floor": "stone, level"},
    "ways": {"bed plate": "made outside"},
    "readings": {"sag": [{"force": "0 N", "dial": "0 µm"}, {"force": "50 N", "dial": "0.4 thou", "going": "up"}]},
}
