"""Wrong answers written by another hand: somebody who saw the texts of the questions with the figures of one name, and nothing else.

Every computing question but those that ask for a figure of a table; up to three ways each, worked out from the figures as they stood then, in the unit asked for.
Nothing has been mended by them: 96 % of 223 were recognised when they were written.
"""

import math

NAME = "apprentice 7"

#: question -> the figures that stood in its text, and each wrong way with what it comes to
WAYS = {
    "01.1": (("some practice", "1"), [("hours of the skilled over hours of the learner, so below one", 1 / 1.5)]),
    "01.2": (
        ("480 h", "26 h/month", "0.65", "0 h"),
        [("promise taken in full", 480 / 26), ("share put on the hours needed", 480 * 0.65 / 26)],
    ),
    "01.3": (("600 EUR", "300 h", "16 EUR/h"), [("own hours not counted", 600), ("hours alone, money forgotten", 300 * 16)]),
    "01.4": (
        ("280 EUR", "4 h", "30 EUR", "30 h"),
        [("metal of the one made here not taken off", 280 / (30 - 4)), ("your 4 h not taken off", (280 - 30) / 30)],
    ),
    "01.5": (
        ("150 mm", "18 m/min"),
        [("radius put in where the formula wants the diameter", 1000 * 18 / (math.pi * 75)), ("pi left out", 1000 * 18 / 150)],
    ),
    "01.6": (
        ("3/8 in", "75 m/min"),
        [
            ("m/min put in the inch formula as if ft/min", 12 * 75 / (math.pi * 3 / 8)),
            ("radius put in for the diameter", 1000 * 75 / (math.pi * 25.4 * 3 / 16)),
        ],
    ),
    "02.2": (("middle", "62 kg"), [("weight in newtons given for a mass of some 100 kg", 100 * 9.81)]),
    "02.3": (("1.35", "2.5"), [("multiplied by the power", 1.35 * 2.5), ("cube, as for everything of the same shape", 1.35**3)]),
    "02.4": (
        ("1.4", "0.2"),
        [("everything grows with the length", 1.4), ("the share of 0.2 stays and the rest grows", 0.2 + 0.8 * 1.4)],
    ),
    "02.5": (
        ("2800 EUR", "580 h", "750 EUR", "20 h"),
        [("price of the used one not taken off", 2800 / (580 - 20)), ("hours added", (2800 - 750) / (580 + 20))],
    ),
    "02.6": (
        ("1.3", "2", "1.5", "0.5"),
        [
            ("height keeps the whole 1.5 and length comes on top", 1.3**1.5 * 2**0.5),
            ("powers of height and length exchanged", 1.3**0.5 * 2 ** (1.5 - 0.5)),
        ],
    ),
    "03.1": (
        ("grey cast iron", "22 m/min", "90 m/min"),
        [("some 20 m/min given in feet per minute", 20 / 0.3048), ("a figure for carbide instead of high-speed steel", 80)],
    ),
    "03.2": (("1.88",), [("increase over the lower step", 1.88 - 1), ("what is left given instead of what is lost", 1 / 1.88)]),
    "03.3": (
        ("44 mm", "27 m/min"),
        [("radius put in for the diameter", 1000 * 27 / (math.pi * 22)), ("pi left out", 1000 * 27 / 44)],
    ),
    "03.4": (
        ("30 mm", "430 rpm"),
        [("2 pi times the diameter", 2 * math.pi * 30 * 430 / 1000), ("left in metres per second", math.pi * 0.03 * 430 / 60)],
    ),
    "03.5": (
        ("7/16 in", "95 ft/min"),
        [("ft/min taken as m/min", 1000 * 95 / (math.pi * 25.4 * 7 / 16)), ("pi left out", 12 * 95 / (7 / 16))],
    ),
    "03.6": (
        ("7", "70 rpm", "2000 rpm"),
        [
            ("seventh root, speeds counted instead of gaps", (2000 / 70) ** (1 / 7)),
            ("the whole ratio divided by six", 2000 / 70 / 6),
        ],
    ),
    "03.7": (
        ("220 mm", "3", "0.1 mm/rev", "720 rpm"),
        [("one pass only", 220 / (0.1 * 720)), ("given in seconds", 60 * 3 * 220 / (0.1 * 720))],
    ),
    "03.8": (("1.25 mm", "145 rpm"), [("left per minute", 1.25 * 145), ("turns divided by the pitch", 145 / 60 / 1.25)]),
    "03.9": (
        ("80 mm", "50 mm", "0.1 mm/rev", "28 m/min"),
        [
            ("speed of the rim kept all the way, inverter forgotten", (80 - 50) / 2 / (0.1 * 1000 * 28 / (math.pi * 80))),
            ("bore forgotten, faced to the centre", math.pi / 4 * 80**2 / 0.1 / 28000),
        ],
    ),
    "03.11": (
        ("40 mm", "bronze", "32 m/min", "2", "160 rpm", "315 rpm"),
        [
            ("the faster step taken and its excess given", 315 / (1000 * 32 / (math.pi * 40)) - 1),
            ("loss reckoned between the two steps themselves", 1 - 160 / 315),
        ],
    ),
    "04.2": (
        ("1500 N/mm²", "0.25", "0.12 mm"),
        [
            ("sign of the exponent the wrong way, thin chip made easier", 1500 * 0.12**0.25),
            ("table figure taken as it stands", 1500),
        ],
    ),
    "04.3": (
        ("0.6 mm", "0.14 mm/rev", "2000 N/mm²", "1.35"),
        [
            ("depth doubled, as if it were to be on the diameter", 2000 * 1.2 * 0.14 * 1.35),
            ("the worn edge forgotten", 2000 * 0.6 * 0.14),
        ],
    ),
    "04.4": (
        ("250 N", "45 m/min", "0.7"),
        [("efficiency multiplied instead of divided", 250 * 45 / 60 * 0.7), ("minute not turned to seconds", 250 * 45 / 0.7)],
    ),
    "04.5": (("520 W", "700 rpm"), [("2 pi forgotten", 520 / (700 / 60)), ("pi instead of 2 pi", 520 / (math.pi * 700 / 60))]),
    "04.6": (("140 N", "60 mm"), [("force times the diameter", 140 * 0.06)]),
    "04.7": (
        ("10.5 mm", "0.1 mm/rev", "2200 N/mm²"),
        [
            ("whole feed reckoned for each of the two lips", 2200 * 0.1 * 10.5**2 / 4 / 1000),
            ("one lip only counted", 2200 * 0.1 * 10.5**2 / 16 / 1000),
        ],
    ),
    "04.8": (
        ("390 W", "230 V", "0.56", "0.85"),
        [
            ("power factor forgotten", 390 / (230 * 0.56)),
            ("efficiency forgotten, 390 W taken as what it draws", 390 / (230 * 0.85)),
        ],
    ),
    "05.2": (
        ("1380 rpm", "60 mm", "100 mm", "48 mm", "140 mm"),
        [("second step upside down", 1380 * 60 / 100 * 140 / 48), ("the countershaft's speed given", 1380 * 60 / 100)],
    ),
    "05.3": (
        ("120 mm", "900 rpm"),
        [("diameter taken for the radius with 2 pi", 2 * math.pi * 0.12 * 900 / 60), ("left per minute", math.pi * 0.12 * 900)],
    ),
    "05.4": (
        ("110 mm", "55 mm", "180 mm"),
        [
            (
                "whole circumference of both pulleys instead of half of each",
                2 * 180 + math.pi * (110 + 55) + (110 - 55) ** 2 / (4 * 180),
            ),
            ("distance of the shafts counted once", 180 + math.pi / 2 * (110 + 55) + (110 - 55) ** 2 / (4 * 180)),
        ],
    ),
    "05.5": (
        ("0.25", "38 deg"),
        [
            ("whole angle of the groove", 0.25 / math.sin(math.radians(38))),
            ("tangent instead of sine", 0.25 / math.tan(math.radians(38 / 2))),
        ],
    ),
    "05.6": (
        ("4", "75 Hz"),
        [("poles taken for pairs of poles", 60 * 75 / 4), ("the usual 50 Hz figure for four poles taken unworked", 120 * 50 / 4)],
    ),
    "05.7": (
        ("0.011 kg·m²", "1400 rpm", "0.9 N·m"),
        [
            ("rpm put in as if radians per second", 0.011 * 1400 / 0.9),
            ("turns per second, 2 pi forgotten", 0.011 * 1400 / 60 / 0.9),
        ],
    ),
    "06.2": (
        ("380 N", "35 mm", "30 mm", "140 mm"),
        [
            ("only the overhang of the nose counted, the 35 mm beyond it forgotten", 380 * (140 + 30) / 140),
            ("works out the pull on the rear bearing and calls it the front one", 380 * (30 + 35) / 140),
        ],
    ),
    "06.3": (
        ("34 mm", "22 mm"),
        [
            ("polar moment taken, pi/32", math.pi / 32 * (34**4 - 22**4)),
            ("difference of the diameters raised to the fourth", math.pi / 64 * (34 - 22) ** 4),
        ],
    ),
    "06.4": (
        ("18 mm", "43 mm"),
        [("square, as for the metal taken out", (18 / 43) ** 2), ("share that is left given", 1 - (18 / 43) ** 4)],
    ),
    "06.5": (
        ("0.25 kg", "35 mm", "2300 rpm"),
        [
            ("turns per second squared, 2 pi left out", 0.25 * 0.035 * (2300 / 60) ** 2),
            ("square of the speed forgotten", 0.25 * 0.035 * 2 * math.pi * 2300 / 60),
        ],
    ),
    "06.6": (
        ("16 m/s", "120 mm"),
        [
            ("diameter taken for the radius with 2 pi", 60 * 16 / (2 * math.pi * 0.12)),
            ("seconds not turned to minutes", 16 / (math.pi * 0.12)),
        ],
    ),
    "06.7": (("105 mm", "18 K", "12 µm/(m·K)"), [("half only, as if it grew from the middle to one side", 0.105 * 18 * 12 / 2)]),
    "06.8": (
        ("43 kN", "3 kN", "1100 rpm", "3.3333"),
        [
            ("exponent of ball bearings", 1000000.0 * (43 / 3) ** 3 / (60 * 1100)),
            ("sixty minutes forgotten", 1000000.0 * (43 / 3) ** (10 / 3) / 1100),
        ],
    ),
    "07.2": (
        ("130 mm", "80 mm", "8 mm"),
        [
            ("width and height exchanged", (80 * 130**3 - 64 * 114**3) / 12),
            ("wall taken off once only in each direction", (130 * 80**3 - 122 * 72**3) / 12),
        ],
    ),
    "07.3": (
        ("120 mm", "90 mm", "8 mm"),
        [
            ("outside measures instead of the middle of the walls", 4 * (120 * 90) ** 2 * 8 / (2 * (120 + 90))),
            ("the wall taken off twice, inside measures", 4 * ((120 - 16) * (90 - 16)) ** 2 * 8 / (2 * (120 - 16 + (90 - 16)))),
        ],
    ),
    "07.4": (("2100 mm²", "625 mm", "2700 kg/m³"), [("density of steel taken from habit", 2100 * 625 * 1e-09 * 7850)]),
    "07.5": (
        ("0.08 mm", "150 mm", "120 mm"),
        [("not doubled for the diameter", 1000 * 0.08 / 150 * 120), ("lever upside down", 2 * 1000 * 0.08 * 150 / 120)],
    ),
    "07.6": (
        ("6 mm", "22 kN", "0.2"),
        [
            ("half the thickness taken, as a lever arm to the thread", 0.2 * 0.003 * 22000),
            ("force times thickness, factor of tightening left out", 0.006 * 22000),
        ],
    ),
    "07.7": (
        ("650000 mm⁴", "15 N·m", "600 mm", "79 GPa"),
        [
            ("Young's modulus of the metal used instead of the shear modulus", 1000 * 15000 * 600 / (207000 * 650000)),
            ("the answer given in degrees", math.degrees(15000 * 600 / (79000 * 650000))),
        ],
    ),
    "08.2": (("90 N/µm", "50 N/µm"), [("added as side by side", 90 + 50), ("mean of the two", (90 + 50) / 2)]),
    "08.3": (
        ("20 mm", "70 mm", "60 N", "207 GPa"),
        [
            ("deflection not doubled for the diameter", 1000 * 60 * 70**3 / (3 * 207000 * math.pi * 20**4 / 64)),
            ("formula of a bar held between two supports", 2 * 1000 * 60 * 70**3 / (48 * 207000 * math.pi * 20**4 / 64)),
        ],
    ),
    "08.4": (("90 µm/kN", "40 N"), [("give on the radius, not doubled", 90 * 40 / 1000)]),
    "08.5": (
        ("11 kg", "22 N/µm"),
        [
            ("2 pi left out", math.sqrt(22000000.0 / 11)),
            ("N/µm turned to N/mm only, not N/m", math.sqrt(22000.0 / 11) / (2 * math.pi)),
            ("weight in newtons put in for mass", math.sqrt(22000000.0 / (11 * 9.81)) / (2 * math.pi)),
        ],
    ),
    "08.6": (
        ("6 N/µm", "0.03", "3200 N/mm²", "0.35"),
        [
            ("the two of the formula left out", 6000 * 0.03 * (1 + 0.03) / (3200 * 0.35)),
            ("the share that works back left out", 2 * 6000 * 0.03 * (1 + 0.03) / 3200),
        ],
    ),
    "08.7": (
        ("1.2 mm", "0.16 mm/rev"),
        [
            ("the peak to valley height given instead of Ra", 1000 * 0.16**2 / (8 * 1.2)),
            ("square of the feed forgotten", 1000 * 0.16 / (32 * 1.2)),
        ],
    ),
    "08.8": (
        ("8 mm", "14 mm", "40 mm", "207 GPa"),
        [
            ("width and height exchanged", 3 * 207000 * 14 * 8**3 / 12 / 40**3 / 1000),
            ("formula of a load spread along the shank", 8 * 207000 * 8 * 14**3 / 12 / 40**3 / 1000),
        ],
    ),
    "09.2": (("2.5 mm", "60"), [("travel of the tool given, not doubled for the diameter", 2.5 / 60)]),
    "09.3": (
        ("10 per inch", "125"),
        [("doubled for the diameter, though the tool is asked", 2 * 25.4 / 10 / 125), ("inches not converted", 1 / 10 / 125)],
    ),
    "09.4": (("0.8 mm", "3 mm", "1"), [("leadscrew over thread", 3 / 0.8)]),
    "09.5": (
        ("25", "40", "35", "65", "3 mm", "1"),
        [("drivers and driven exchanged", 3 * 40 / 25 * 65 / 35), ("middle wheels taken as idlers", 3 * 25 / 65)],
    ),
    "09.6": (
        ("300 N", "150 mm", "70 mm", "0.15"),
        [
            ("rubbing counted at one end of the guide only", 300 / (1 - 0.15 * 70 / 150)),
            ("only the extra push given, the resistance itself forgotten", 300 * 2 * 0.15 * 70 / 150),
        ],
    ),
    "09.7": (
        ("55 mm", "160 mm"),
        [
            ("pressure at the edge (6 e over l) taken for the give", 1 + 6 * 55 / 160),
            ("only the tilting counted, the plain sinking forgotten", 12 * (55 / 160) ** 2),
        ],
    ),
    "09.8": (
        ("9 mm", "3 mm"),
        [
            ("pi forgotten", math.degrees(math.atan(3 / 9))),
            ("radius for diameter with pi", math.degrees(math.atan(3 / (math.pi * 4.5)))),
        ],
    ),
    "09.9": (
        ("1.5 mm",),
        [("depth on the diameter", 2 * 0.6134 * 1.5), ("height of the sharp triangle", math.sqrt(3) / 2 * 1.5)],
    ),
    "09.10": (
        ("13 N·m", "10 mm", "0.2", "0.15", "95 mm", "85 mm"),
        [
            ("tipping about the base's edge taken, rubbing left out", 13 / (0.2 * 0.01) * 95 / 2 / 85),
            ("torque over thickness, factor of tightening left out", 0.15 * 13 / 0.01),
        ],
    ),
    "10.2": (
        ("46 h", "0.25", "0.6"),
        [
            ("a spoilt part done wholly anew", 46 * (1 + 0.25)),
            ("chance forgotten, share done again always added", 46 * (1 + 0.6)),
        ],
    ),
    "10.3": (
        ("280 EUR", "4 h", "120 EUR", "48 h"),
        [
            ("metal of the homemade one not taken off", 280 / (48 - 4)),
            ("your own 4 h of drawing not taken off", (280 - 120) / 48),
        ],
    ),
    "10.4": (("1.35", "2"), [("twice 1.35", 1.35 * 2), ("diameter to metal one to one", 1.35)]),
    "10.5": (
        ("100 EUR", "12 h", "10 EUR/h"),
        [("price alone, own hours as if free", 100), ("hours alone, price forgotten", 12 * 10)],
    ),
    "10.6": (
        ("18 µm", "-28 µm"),
        [
            ("the minus taken along, so the smaller from the larger", 28 - 18),
            ("half of it, play on one side only", (18 + 28) / 2),
        ],
    ),
    "10.7": (("25 EUR", "14 h", "15 EUR/h"), [("stock alone counted", 25), ("hours alone counted", 14 * 15)]),
    "11.2": (
        ("55 EUR", "85 EUR", "220 EUR"),
        [
            ("textbook formula with four times the likely figure", (55 + 4 * 85 + 220) / 6),
            ("middle of least and most", (55 + 220) / 2),
        ],
    ),
    "11.3": (
        ("55 EUR", "110 EUR", "300 EUR"),
        [
            ("a sixth of the range, the rule for three-point tasks", (300 - 55) / 6),
            ("spread of an even (rectangular) distribution", (300 - 55) / math.sqrt(12)),
        ],
    ),
    "11.4": (
        ("190 EUR", "800 EUR", "0.35"),
        [
            ("spreads themselves mixed by the share, no squares", (1 - 0.35) * 190 + 0.35 * 800),
            ("share set the wrong way round", math.sqrt(0.35 * 190**2 + (1 - 0.35) * 800**2)),
        ],
    ),
    "11.5": (
        ("3400 EUR", "500 EUR", "80 %"),
        [("two-sided figure for 80 %", 3400 + 1.2816 * 500), ("divided by 0.8", 3400 / 0.8)],
    ),
    "11.6": (
        ("45 EUR", "105 EUR", "220 EUR", "90 %"),
        [
            (
                "started from the likely price instead of the mean",
                105 + 1.2816 * math.sqrt((45**2 + 105**2 + 220**2 - 45 * 105 - 45 * 220 - 105 * 220) / 18),
            ),
            (
                "two-sided figure for 90 %",
                (45 + 105 + 220) / 3 + 1.6449 * math.sqrt((45**2 + 105**2 + 220**2 - 45 * 105 - 45 * 220 - 105 * 220) / 18),
            ),
        ],
    ),
    "11.7": (
        ("110 EUR", "180 EUR", "480 EUR"),
        [("sixth of the range", (480 - 110) / 6), ("spread of an even fall between least and most", (480 - 110) / math.sqrt(12))],
    ),
    "12.1": (
        ("28 months", "4 months", "24 months"),
        [
            ("chance of being later instead of earlier", 0.5 * (1 + math.erf((28 - 24) / 4 / math.sqrt(2)))),
            ("both tails counted", 1 - math.erf((28 - 24) / 4 / math.sqrt(2))),
        ],
    ),
    "12.2": (
        ("18 h", "28 h", "80 h"),
        [
            ("plain mean of three", (18 + 28 + 80) / 3),
            ("four before the likely one forgotten, still over six", (18 + 28 + 80) / 6),
        ],
    ),
    "12.3": (
        ("14 h", "112 h"),
        [("a half of the range", (112 - 14) / 2), ("a quarter of the range, two spreads either side", (112 - 14) / 4)],
    ),
    "12.4": (
        ("420 h", "100 h", "26 h/month", "0.75"),
        [("hours already done not taken off", 420 / (26 * 0.75)), ("promise taken in full", (420 - 100) / 26)],
    ),
    "12.5": (
        ("30 months", "5 months", "80 %"),
        [("two-sided figure for 80 %", 30 + 1.2816 * 5), ("spread taken off instead of put on", 30 - 0.8416 * 5)],
    ),
    "12.6": (
        ("30 months", "35 months", "3 months"),
        [
            ("the other side of the curve", 0.5 * (1 + math.erf((35 - 30) / 3 / math.sqrt(2)))),
            ("both tails counted", 1 + math.erf((30 - 35) / 3 / math.sqrt(2))),
        ],
    ),
    "13.1": (
        ("90 dBA", "90 dBA"),
        [("decibels added", 90 + 90), ("six decibels for twice as much, as for pressures", 90 + 20 * math.log10(2))],
    ),
    "13.2": (
        ("89 dBA", "85 dBA", "3 dBA"),
        [("halved for every 5 dB", 8 / 2 ** ((89 - 85) / 5)), ("only the full steps of 3 dB counted", 8 / 2)],
    ),
    "13.3": (
        ("79 dBA", "77 dBA"),
        [
            ("decibels added", 79 + 77),
            ("twenty instead of ten in front of the logarithm", 20 * math.log10(10 ** (79 / 20) + 10 ** (77 / 20))),
        ],
    ),
    "13.4": (
        ("280 kg", "0.9 m²"),
        [("kilogrammes taken as newtons", 280 / 1000 / 0.9), ("weight given, floor area forgotten", 280 * 9.81 / 1000)],
    ),
    "13.5": (
        ("19 kg", "3"),
        [("all lifts added up", 3 * 19), ("the two-person share of two thirds used for three", 3 * 19 * 2 / 3)],
    ),
    "13.6": (
        ("550 EUR", "70 h", "14 EUR/h", "4250 EUR"),
        [
            ("only the money counted", 550 / 4250),
            ("his own part added to the total once more", (550 + 70 * 14) / (4250 + 550 + 70 * 14)),
        ],
    ),
    "13.7": (
        ("25 %", "1200 EUR", "25 %"),
        [
            ("discount taken on the whole lathe, then only a quarter of that paid", 1200 * 0.25 * 0.25),
            ("divided by 1.25 instead of a quarter off", 1200 * 0.25 / 1.25),
        ],
    ),
    "13.8": (
        ("96 dBA", "0.75 h"),
        [
            ("the 5 dB rule of older books", 0.75 / (8 / 2 ** ((96 - 85) / 5))),
            ("allowed time over time spent", 8 / 2 ** ((96 - 85) / 3) / 0.75),
        ],
    ),
    "14.1": (("1.5 mm", "90"), [("tool's travel given, not doubled", 1.5 / 90)]),
    "14.2": (
        ("320 h", "580 h"),
        [("worked over planned", 580 / 320), ("the overrun as a share of the hours worked", (580 - 320) / 580)],
    ),
    "14.3": (("0.75", "420 h"), [("times the yield", 420 * 0.75), ("a quarter put on top of the plan", 420 * 1.25)]),
    "14.4": (
        ("200 µm/kN", "400 N/mm"),
        [
            ("give times stiffness of the cut taken as it is, nothing off for the shallower cut", 0.0002 * 400),
            ("what is cut off given instead of what is left", 1 / (1 + 0.0002 * 400)),
        ],
    ),
    "14.5": (("1.2", "3"), [("three times 1.2", 1.2 * 3), ("square taken instead of cube", 1.2**2)]),
    "14.6": (
        ("520 h", "150 h", "190 h"),
        [("yield so far taken for the yield needed", 150 / 190), ("earned hours not taken off", 520 / (520 - 190))],
    ),
    "15.1": (("7 N/µm",), [("micrometre per newton left as it comes, not per kilonewton", 1 / 7)]),
    "15.2": (("13 N/µm", "50 N/µm"), [("stiffnesses added as if side by side", 13 + 50), ("the mean of both", (13 + 50) / 2)]),
    "15.3": (
        ("80 N/µm", "1.2"),
        [("lever only once, square forgotten", 80 / 1.2), ("lever multiplied where it divides", 80 * 1.2**2)],
    ),
    "15.4": (
        ("4300 EUR", "380 h", "1200 EUR", "40 h"),
        [("the 40 h of the bought one not taken off", (4300 - 1200) / 380), ("building's money over all its hours", 4300 / 380)],
    ),
    "15.5": (
        ("110 µm/kN", "60 µm/kN", "30 deg"),
        [
            ("squares of cosine and sine forgotten", 110 * math.cos(math.radians(30)) + 60 * math.sin(math.radians(30))),
            ("sine and cosine exchanged", 110 * math.sin(math.radians(30)) ** 2 + 60 * math.cos(math.radians(30)) ** 2),
        ],
    ),
    "16.1": (("60 h", "100 h"), [("worked over earned", 100 / 60), ("the share that is lost given instead", 1 - 60 / 100)]),
    "16.2": (
        ("560 h", "0.8"),
        [("times the index instead of over it", 560 * 0.8), ("the missing 20 % put on the plan", 560 * (1 + 1 - 0.8))],
    ),
    "16.3": (
        ("480 h", "140 h", "0.65", "14 h/month"),
        [
            ("times the index instead of over it", (480 - 140) * 0.65 / 14),
            ("whole plan blown up by the index, then the earned hours off", (480 / 0.65 - 140) / 14),
        ],
    ),
    "16.4": (
        ("25 h", "30 h", "0.7", "80 h"),
        [
            ("plain mean of prior and own index", (0.7 + 25 / 30) / 2),
            ("weights exchanged", (0.7 * 30 + 25 / 30 * 80) / (80 + 30)),
        ],
    ),
    "16.5": (
        ("8 h", "85 %", "16"),
        [("every piece, not every doubling, down to 85 %", 8 * 0.85**15), ("one doubling only", 8 * 0.85)],
    ),
    "16.6": (
        ("2.5 h", "75 %", "5"),
        [
            ("every piece takes as long as the first", 5 * 2.5),
            ("every next piece, not every doubling, down to 75 %", 2.5 * sum(0.75**i for i in range(5))),
            ("time of the fifth piece taken for all five", 5 * 2.5 * 5 ** math.log2(0.75)),
        ],
    ),
    "16.7": (
        ("270 h", "150 h"),
        [("planned over earned", 270 / 150), ("the share behind given instead of the index", 1 - 150 / 270)],
    ),
    "17.1": (
        ("25.04 mm", "25.02 mm"),
        [
            ("whole difference of the diameters taken", 1000 * (25.04 - 25.02)),
            ("doubled, as on a diameter", 2 * 1000 * (25.04 - 25.02)),
        ],
    ),
    "17.2": (
        ("140 mm", "14 µm", "65 mm"),
        [("ratio of the lengths upside down", 14 * 140 / 65), ("doubled, as if a diameter were asked", 2 * 14 * 65 / 140)],
    ),
    "17.3": (
        ("0.06 mm/m", "95 mm"),
        [
            ("offset of the tool not doubled for the diameter", 1000 * 0.06 * 95 / 1000),
            ("level's figure taken as the offset itself, height above the bed left out", 2 * 0.06 * 1000),
        ],
    ),
    "17.4": (
        ("140 mm", "22 µm", "65 mm"),
        [("taper on the radius given", 22 * 65 / 140), ("whole offset of the long bar doubled", 2 * 22)],
    ),
    "17.5": (
        ("220 mm", "0.03 mm", "100 mm"),
        [("whole difference of the diameters moved", 0.03 * 220 / 100), ("measured length taken for the bar's length", 0.03 / 2)],
    ),
    "17.6": (
        ("18 µm", "12 µm", "5 µm", "3 µm"),
        [("half the swing, the eccentricity", (18 - 3) / 2), ("greatest reading taken", 18)],
    ),
    "17.7": (
        ("20 mm", "1.5 mm", "24 m/min"),
        [
            ("left per minute", 24000 / 1.5),
            ("turns of the spindle per second taken for marks", 24000 / (math.pi * 20) / 60),
            ("marks round the bar counted, not per second", math.pi * 20 / 1.5),
        ],
    ),
    "17.8": (
        ("0.05 mm", "500 mm", "160 mm", "0 mm"),
        [("taken over unchanged for the shorter length", 0.05), ("square root of the length ratio", 0.05 * math.sqrt(160 / 500))],
    ),
}
