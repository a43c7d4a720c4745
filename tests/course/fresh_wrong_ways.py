"""Wrong ways written from the texts of the questions alone, with nothing of what the course knows of wrong ways open.

Which questions: a seeded draw with repeats among those that ask for something worked out (``random.Random(SEED).choices``), so that a question drawn three times has
three ways.  Each way is told in words, and as a plain calculation on the bare figures that stand in the text, in their order, with the answer in the unit
asked for.  A list was committed with the rate at which it was recognised before anything was mended by it; see ``FIRST_SEEN``.
"""

import math

PI = math.pi


def normal(z: float) -> float:
    return 0.5 * (1 + math.erf(z / math.sqrt(2)))


#: name of the list -> seed, number of draws, and the share recognised when it was written
FIRST_SEEN = {"FIRST": (1741, 200, 0.816), "SECOND": (2903, 150, 0.767)}

FIRST = {
    "01.2": [
        ("multiplied by the share instead of divided", lambda b, h, i, e: b / h * i),
        ("the share left out", lambda b, h, i, e: b / h),
        ("divided by what was not kept", lambda b, h, i, e: b / (h * (1 - i))),
        ("what was not kept put on top", lambda b, h, i, e: b / h * (2 - i)),
        ("told in years", lambda b, h, i, e: b / (h * i) / 12),
    ],
    "01.3": [("hours added as if they were money", lambda m, h, v: m + h), ("the hours alone", lambda m, h, v: h * v)],
    "01.4": [
        ("price outside over its own hours", lambda mo, ho, mh, hh: mo / ho),
        ("over all hours here", lambda mo, ho, mh, hh: (mo - mh) / hh),
        ("both prices added", lambda mo, ho, mh, hh: (mo + mh) / (hh - ho)),
    ],
    "01.5": [("radius for diameter", lambda d, v: 1000 * v / (PI * d / 2)), ("pi left out", lambda d, v: 1000 * v / d)],
    "01.6": [("inch read as mm", lambda d, v: 1000 * v / (PI * d))],
    "02.3": [("times the exponent", lambda s, n: s * n), ("as the height itself", lambda s, n: s)],
    "02.4": [("all of it grows", lambda r, p: r), ("only what grows is counted", lambda r, p: r * p)],
    "02.5": [("building alone", lambda bm, bh, um, uh: bm / bh), ("hours added", lambda bm, bh, um, uh: (bm - um) / (bh + uh))],
    "02.6": [
        ("length left out, all by the height", lambda s, r, n, p: s**n),
        ("the length's power put on top", lambda s, r, n, p: s**n * r**p),
    ],
    "03.2": [("share of the lower speed", lambda r: r - 1), ("what is left, not what is lost", lambda r: 1 / r)],
    "03.3": [("pi left out", lambda d, v: 1000 * v / d), ("metres not made millimetres", lambda d, v: v / (PI * d))],
    "03.4": [
        ("pi left out", lambda d, n: d * n / 1000),
        ("radius for diameter", lambda d, n: PI * d / 2 * n / 1000),
        ("per second", lambda d, n: PI * d * n / 1000 / 60),
    ],
    "03.6": [
        ("root of the number of speeds, not of gaps", lambda k, lo, hi: (hi / lo) ** (1 / k)),
        ("whole ratio over the gaps", lambda k, lo, hi: hi / lo / (k - 1)),
        ("whole ratio over the speeds", lambda k, lo, hi: hi / lo / k),
        ("equal in difference", lambda k, lo, hi: (hi - lo) / (k - 1)),
        ("square root", lambda k, lo, hi: (hi / lo) ** 0.5),
    ],
    "03.7": [
        ("one pass only", lambda s, k, f, n: s / (f * n)),
        ("seconds", lambda s, k, f, n: s * k / (f * n) * 60),
        ("feed left out", lambda s, k, f, n: s * k / n),
    ],
    "03.9": [
        ("spindle speed of the rim all the way", lambda D, d, f, v: (D - d) / 2 / f / (1000 * v / (PI * D))),
        (
            "diameters' difference for the way of the tool, speed in the middle",
            lambda D, d, f, v: (D - d) / f / (1000 * v / (PI * (D + d) / 2)),
        ),
        ("bore forgotten", lambda D, d, f, v: PI * D**2 / 4 / (1000 * f * v)),
        ("diameters as radii", lambda D, d, f, v: PI * (D**2 - d**2) / (1000 * f * v)),
    ],
    "03.11": [("gap between the two speeds", lambda d, v, k, lo, hi: 1 - lo / hi)],
    "04.3": [("wear left out", lambda a, f, k, c: a * f * k)],
    "04.4": [("times the efficiency", lambda F, v, e: F * v / 60 * e), ("minutes as seconds", lambda F, v, e: F * v / e)],
    "04.5": [("power over rpm", lambda P, n: P / n), ("2 pi left out", lambda P, n: P / (n / 60))],
    "04.6": [("diameter for radius", lambda F, d: F * d / 1000), ("mm as metres", lambda F, d: F * d / 2)],
    "04.8": [
        ("efficiency and power factor multiplied", lambda P, U, e, c: P * e * c / U),
        ("power factor left out", lambda P, U, e, c: P / (U * e)),
    ],
    "05.2": [("second pair turned over", lambda n, a, b, c, d: n * a / b * d / c)],
    "05.3": [("radius for diameter", lambda d, n: PI * d / 2000 * n / 60), ("per minute", lambda d, n: PI * d / 1000 * n)],
    "05.4": [("one straight run only", lambda D, d, C: C + PI * (D + d) / 2 + (D - d) ** 2 / (4 * C))],
    "05.5": [
        ("whole angle", lambda m, a: m / math.sin(math.radians(a))),
        ("multiplied by the sine", lambda m, a: m * math.sin(math.radians(a / 2))),
        ("cosine for sine", lambda m, a: m / math.cos(math.radians(a / 2))),
        ("tangent for sine", lambda m, a: m / math.tan(math.radians(a / 2))),
    ],
    "05.7": [
        ("rpm as if radians a second", lambda J, n, T: J * n / T),
        ("turns a second", lambda J, n, T: J * n / 60 / T),
        ("energy over torque", lambda J, n, T: J * (2 * PI * n / 60) ** 2 / 2 / T),
    ],
    "06.4": [("as the diameters", lambda b, D: b / D), ("as the areas", lambda b, D: (b / D) ** 2)],
    "06.5": [
        ("turns a second squared", lambda m, r, n: m * r / 1000 * (n / 60) ** 2),
        ("speed not squared", lambda m, r, n: m * r / 1000 * 2 * PI * n / 60),
        ("mm as metres", lambda m, r, n: m * r * (2 * PI * n / 60) ** 2),
    ],
    "06.6": [("metres a second as metres a minute", lambda v, d: 1000 * v / (PI * d))],
    "06.7": [
        ("mm as metres", lambda L, t, a: L * t * a),
        ("one kelvin", lambda L, t, a: L / 1000 * a),
        ("one metre", lambda L, t, a: t * a),
    ],
    "06.8": [("cubed, as for balls", lambda C, P, n, p: (C / P) ** 3 * 1e6 / (60 * n))],
    "07.2": [
        ("solid", lambda w, h, t: w * h**3 / 12),
        ("one wall taken off, not two", lambda w, h, t: (w * h**3 - (w - t) * (h - t) ** 3) / 12),
    ],
    "07.3": [
        ("outer sizes for the middle line", lambda w, h, t: 2 * t * w**2 * h**2 / (w + h)),
        ("half of the way round", lambda w, h, t: 4 * ((w - t) * (h - t)) ** 2 * t / (w + h - 2 * t)),
    ],
    "07.4": [("a thousand too many", lambda A, L, r: A * L * r * 1e-6)],
    "07.5": [("on the radius", lambda z, b, h: 1000 * z * h / b), ("ratio upside down", lambda z, b, h: 2000 * z * b / h)],
    "07.6": [("radius for diameter", lambda d, F, k: k * F * d / 2)],
    "07.7": [
        ("degrees", lambda J, T, L, G: math.degrees(T * 1000 * L / (G * 1000 * J))),
        ("radians", lambda J, T, L, G: T * 1000 * L / (G * 1000 * J)),
    ],
    "07.8": [("one screw", lambda n, F, A: 1000 * F / A)],
    "08.2": [("added", lambda a, b: a + b)],
    "08.4": [
        ("on the radius", lambda c, F: c * F / 1000),
        ("newtons as kilonewtons", lambda c, F: 2 * c * F),
        ("halved instead of doubled", lambda c, F: c * F / 2000),
    ],
    "08.5": [("2 pi left out", lambda m, k: math.sqrt(k * 1e6 / m)), ("root left out", lambda m, k: k * 1e6 / m / (2 * PI))],
    "08.6": [("two left out", lambda k, z, c, u: 1000 * k * z * (1 + z) / (c * u))],
    "08.7": [("whole depth of the ridges", lambda r, f: 1000 * f**2 / (8 * r))],
    "08.8": [("width and height exchanged", lambda w, h, L, E: 3 * E * h * w**3 / 12 / L**3)],
    "09.2": [("on the radius", lambda p, n: p / n), ("halved instead of doubled", lambda p, n: p / n / 2)],
    "09.3": [
        ("threads per inch as mm", lambda t, n: t / n),
        ("doubled for a diameter", lambda t, n: 2 * 25.4 / t / n),
        ("inch told as mm", lambda t, n: 1 / t / n),
        ("one turn", lambda t, n: 25.4 / t),
        ("one inch a turn", lambda t, n: 25.4 / n),
    ],
    "09.4": [("upside down", lambda p, s, r: s / p)],
    "09.5": [("upside down", lambda a, b, c, d, s, r: s * b * d / (a * c))],
    "09.6": [
        ("friction on one side only", lambda R, L, e, m: R / (1 - m * e / L)),
        ("put on top instead of divided", lambda R, L, e, m: R * (1 + 2 * m * e / L)),
    ],
    "09.7": [("offset not squared", lambda e, L: 1 + e / L), ("factor left out", lambda e, L: 1 + (e / L) ** 2)],
    "09.9": [("the whole sharp triangle", lambda p: 0.866 * p)],
    "09.10": [
        ("friction left out: what the screw pulls", lambda T, d, k, m, b, h: 1000 * T / (k * d)),
        ("radius of the screw", lambda T, d, k, m, b, h: m * 1000 * T / (k * d / 2)),
    ],
    "10.2": [("all of it done again", lambda h, p, s: h * (1 + p))],
    "10.3": [
        ("over all hours here", lambda mo, ho, mh, hh: (mo - mh) / hh),
        ("whole price outside", lambda mo, ho, mh, hh: mo / (hh - ho)),
        ("hours added", lambda mo, ho, mh, hh: (mo - mh) / (hh + ho)),
        ("upside down", lambda mo, ho, mh, hh: (hh - ho) / (mo - mh)),
    ],
    "10.4": [
        ("times the exponent", lambda r, n: r * n),
        ("as the thickness itself", lambda r, n: r),
        ("cubed as a volume", lambda r, n: r**3),
    ],
    "10.5": [("hours added as money", lambda m, h, v: m + h), ("hours taken off", lambda m, h, v: m - h * v)],
    "10.6": [("the minus overlooked", lambda a, b: a + b), ("the hole alone", lambda a, b: a)],
    "10.7": [("hours alone", lambda m, h, v: h * v), ("stock taken off", lambda m, h, v: h * v - m)],
    "11.2": [
        ("the likely counted four times", lambda a, b, c: (a + 4 * b + c) / 6),
        ("middle of least and most", lambda a, b, c: (a + c) / 2),
    ],
    "11.3": [
        ("a sixth of the width", lambda a, b, c: (c - a) / 6),
        ("root left out", lambda a, b, c: (a * a + b * b + c * c - a * b - a * c - b * c) / 18),
        ("half of the width", lambda a, b, c: (c - a) / 2),
    ],
    "11.5": [("one spread on top", lambda m, s, q: m + s), ("the factor of both sides", lambda m, s, q: m + 1.6449 * s)],
    "11.6": [
        (
            "from the likely, not from the mean",
            lambda a, b, c, q: b + 1.2816 * math.sqrt((a * a + b * b + c * c - a * b - a * c - b * c) / 18),
        ),
        ("nine tenths of the most", lambda a, b, c, q: 0.9 * c),
    ],
    "11.7": [("a sixth of the width", lambda a, b, c: (c - a) / 6)],
    "12.1": [
        ("the other side", lambda m, s, d: 1 - normal((d - m) / s)),
        ("how many spreads", lambda m, s, d: (d - m) / s),
        ("ratio of the months", lambda m, s, d: m / d),
    ],
    "12.2": [
        ("plain mean of three", lambda a, b, c: (a + b + c) / 3),
        ("the likely alone", lambda a, b, c: b),
        ("middle of best and worst", lambda a, b, c: (a + c) / 2),
    ],
    "12.3": [("half of the width", lambda a, c: (c - a) / 2)],
    "12.4": [("what is done not taken off", lambda b, e, h, i: b / (h * i))],
    "12.6": [("the other side", lambda d, m, s: 1 - normal((d - m) / s)), ("ratio of the months", lambda d, m, s: d / m)],
    "13.1": [("doubled", lambda a, b: a + b)],
    "13.2": [
        ("divided by the steps instead of halved", lambda L, e, q: 8 / ((L - e) / q)),
        ("one hour for eight", lambda L, e, q: 1 / 2 ** ((L - e) / q)),
    ],
    "13.3": [
        ("added", lambda a, b: a + b),
        ("mean", lambda a, b: (a + b) / 2),
        ("three more than the louder", lambda a, b: max(a, b) + 3),
    ],
    "13.4": [("mass as if kilonewtons", lambda m, A: m / A)],
    "13.5": [
        ("the plain sum", lambda m, n: m * n),
        ("one person's", lambda m, n: m),
        ("two thirds, as for two", lambda m, n: m * n * 2 / 3),
        ("half of the sum, as for three", lambda m, n: m * n / 2),
    ],
    "13.6": [("money alone", lambda m, h, r, t: m / t)],
    "13.7": [
        ("nothing taken off", lambda s, v, d: s / 100 * v),
        ("what is taken off", lambda s, v, d: s / 100 * v * d / 100),
        ("taken off the share", lambda s, v, d: (s - d) / 100 * v),
    ],
    "13.8": [("hours over eight", lambda L, h: h / 8)],
    "14.1": [
        ("on the radius", lambda p, n: p / n),
        ("halved instead of doubled", lambda p, n: p / n / 2),
        ("a whole turn", lambda p, n: 2 * p),
    ],
    "14.2": [("upside down", lambda e, w: w / e)],
    "14.3": [("times the index", lambda i, b: b * i)],
    "15.1": [("for each newton", lambda k: 1 / k)],
    "15.2": [("added", lambda a, b: a + b), ("mean", lambda a, b: (a + b) / 2)],
    "15.3": [("ratio not squared", lambda k, r: k / r), ("multiplied", lambda k, r: k * r**2)],
    "15.4": [
        ("building alone", lambda bm, bh, um, uh: bm / bh),
        ("over all hours of building", lambda bm, bh, um, uh: (bm - um) / bh),
        ("hours added", lambda bm, bh, um, uh: (bm - um) / (bh + uh)),
        ("all money of building", lambda bm, bh, um, uh: bm / (bh - uh)),
    ],
    "15.5": [("cosine and sine not squared", lambda s, u, a: s * math.cos(math.radians(a)) + u * math.sin(math.radians(a)))],
    "16.1": [("upside down", lambda e, w: w / e), ("difference", lambda e, w: e - w)],
    "16.2": [("times the index", lambda b, i: b * i)],
    "16.3": [
        ("what is earned not taken off", lambda b, e, i, h: b / i / h),
        ("times the index", lambda b, e, i, h: (b - e) * i / h),
    ],
    "16.4": [("plain mean of both", lambda e, w, p, k: (e / w + p) / 2)],
    "16.5": [
        ("once for each piece", lambda t, q, n: t * (q / 100) ** (n - 1)),
        ("once", lambda t, q, n: t * q / 100),
        ("one doubling short", lambda t, q, n: t * (q / 100) ** (math.log2(n) - 1)),
    ],
    "16.6": [("no learning", lambda t, q, n: t * n)],
    "16.7": [("upside down", lambda p, e: p / e)],
    "17.1": [("whole difference of the diameters", lambda a, b: 1000 * (a - b))],
    "17.3": [
        ("on the radius", lambda f, h: f * h),
        ("height left out", lambda f, h: 2000 * f),
        ("halved instead of doubled", lambda f, h: f * h / 2),
        ("told in millimetres", lambda f, h: 2 * f * h / 1000),
    ],
    "17.4": [("on the radius", lambda L, e, k: e * k / L), ("ratio upside down", lambda L, e, k: 2 * e * L / k)],
    "17.5": [("not halved", lambda L, D, k: D * L / k)],
    "17.6": [
        ("most less least", lambda a, b, c, d: max(a, b, c, d) - min(a, b, c, d)),
        ("one pair alone", lambda a, b, c, d: a - c),
        ("half of it, the eccentricity", lambda a, b, c, d: math.hypot(a - c, b - d) / 2),
    ],
    "17.7": [
        ("per minute", lambda d, p, v: 1000 * v / p),
        ("metres not made millimetres", lambda d, p, v: v / 60 / p),
        ("marks round the bar", lambda d, p, v: PI * d / p),
        ("turns a second of the bar", lambda d, p, v: 1000 * v / (PI * d) / 60),
        ("turns a minute of the bar", lambda d, p, v: 1000 * v / (PI * d)),
        ("times the pitch", lambda d, p, v: v / 60 * p),
    ],
}

SECOND = {
    "01.3": [("an hour's value added once", lambda m, h, v: m + v), ("hours taken off", lambda m, h, v: m - h * v)],
    "01.4": [
        ("what an hour costs there less what it costs here", lambda mo, ho, mh, hh: mo / ho - mh / hh),
        ("over the hours outside", lambda mo, ho, mh, hh: (mo - mh) / ho),
        ("price here over its own hours", lambda mo, ho, mh, hh: mh / hh),
        ("all money over all hours", lambda mo, ho, mh, hh: (mo + mh) / (ho + hh)),
        ("upside down", lambda mo, ho, mh, hh: (hh - ho) / (mo - mh)),
    ],
    "01.5": [("turns a second", lambda d, v: 1000 * v / (PI * d) / 60)],
    "01.6": [
        ("radius for diameter", lambda d, v: 1000 * v / (PI * d * 25.4 / 2)),
        ("pi left out", lambda d, v: 1000 * v / (d * 25.4)),
        ("centimetres: 2.54 for an inch", lambda d, v: 1000 * v / (PI * d * 2.54)),
    ],
    "02.3": [("root for power", lambda s, n: s ** (1 / n))],
    "02.4": [("the share put on top of one", lambda r, p: 1 + p), ("the share as a power", lambda r, p: r**p)],
    "02.5": [
        ("all money over all hours", lambda bm, bh, um, uh: (bm + um) / (bh + uh)),
        ("over all hours of building", lambda bm, bh, um, uh: (bm - um) / bh),
        ("the used one alone", lambda bm, bh, um, uh: um / uh),
    ],
    "02.6": [
        ("both by the whole power", lambda s, r, n, p: (s * r) ** n),
        ("length in plain proportion", lambda s, r, n, p: s ** (n - p) * r),
        ("the two powers exchanged", lambda s, r, n, p: s**p * r ** (n - p)),
    ],
    "03.3": [
        ("radius for diameter", lambda d, v: 1000 * v / (PI * d / 2)),
        ("turns a second", lambda d, v: 1000 * v / (PI * d) / 60),
        ("multiplied by pi", lambda d, v: 1000 * v / d * PI),
    ],
    "03.4": [("millimetres a minute", lambda d, n: PI * d * n)],
    "03.5": [("feet read as metres", lambda d, v: 1000 * v / (PI * d * 25.4))],
    "03.6": [
        ("root of one more than the speeds", lambda k, lo, hi: (hi / lo) ** (1 / (k + 1))),
        ("difference over the speeds", lambda k, lo, hi: (hi - lo) / k),
    ],
    "03.7": [
        ("turns a minute as turns a second", lambda s, k, f, n: s * k / (f * n) / 60),
        ("divided by the passes", lambda s, k, f, n: s / (f * n * k)),
    ],
    "03.8": [("per minute", lambda p, n: p * n), ("a turn as 2 pi", lambda p, n: p * n * 2 * PI / 60)],
    "04.2": [("thinner chip, less force: the power turned round", lambda kc, m, h: kc * h**m)],
    "04.4": [("efficiency left out", lambda F, v, e: F * v / 60)],
    "04.6": [("diameter for radius", lambda F, d: F * d / 1000)],
    "04.7": [
        ("force of both lips at the whole radius, all chip at one lip", lambda d, f, kc: kc * f * d**2 / 4000),
        ("diameter not squared", lambda d, f, kc: kc * f * d / 8000),
    ],
    "05.2": [("first pair only", lambda n, a, b, c, d: n * a / b)],
    "05.4": [("whole circles for halves", lambda D, d, C: 2 * C + PI * (D + d) + (D - d) ** 2 / (4 * C))],
    "05.5": [("sine of the whole angle", lambda m, a: m / math.sin(math.radians(a)))],
    "05.6": [
        ("poles as pairs of poles", lambda p, f: 60 * f / p),
        ("per second", lambda p, f: 2 * f / p),
        ("poles left out", lambda p, f: 60 * f),
    ],
    "06.2": [
        ("overhang forgotten", lambda F, r, o, s: F * (r + s) / s),
        ("the rear bearing", lambda F, r, o, s: F * (r + o) / s),
    ],
    "06.3": [
        ("polar", lambda D, d: PI / 32 * (D**4 - d**4)),
        ("the power of the difference", lambda D, d: PI / 64 * (D - d) ** 4),
    ],
    "06.4": [("what is left", lambda b, D: 1 - (b / D) ** 4), ("cubed", lambda b, D: (b / D) ** 3)],
    "06.5": [("rpm put in as it stands", lambda m, r, n: m * r / 1000 * n**2)],
    "06.6": [("diameter as radius", lambda v, d: 60000 * v / (2 * PI * d))],
    "06.7": [("told in millimetres", lambda L, t, a: L / 1000 * t * a / 1000), ("one kelvin", lambda L, t, a: L / 1000 * a)],
    "06.8": [
        ("minutes for hours", lambda C, P, n, p: (C / P) ** p * 1e6 / n),
        ("the million forgotten", lambda C, P, n, p: (C / P) ** p / (60 * n)),
    ],
    "07.2": [
        ("inner width not made less", lambda w, h, t: w * (h**3 - (h - 2 * t) ** 3) / 12),
        ("width and height exchanged", lambda w, h, t: (h * w**3 - (h - 2 * t) * (w - 2 * t) ** 3) / 12),
    ],
    "07.3": [("an open strip bent round", lambda w, h, t: 2 * (w + h - 2 * t) * t**3 / 3)],
    "07.5": [
        ("the lift itself", lambda z, b, h: 1000 * z),
        ("on the radius", lambda z, b, h: 1000 * z * h / b),
        ("told in millimetres", lambda z, b, h: 2 * z * h / b),
    ],
    "07.6": [("kilonewtons as newtons", lambda d, F, k: k * F * d / 1000)],
    "07.8": [("kilonewtons as newtons", lambda n, F, A: n * F / A)],
    "08.2": [("mean", lambda a, b: (a + b) / 2)],
    "08.3": [
        ("on the radius", lambda d, L, F, E: 1000 * F * L**3 / (3 * E * 1000 * PI * d**4 / 64)),
        ("diameter as radius", lambda d, L, F, E: 2000 * F * L**3 / (3 * E * 1000 * PI * (2 * d) ** 4 / 64)),
    ],
    "08.4": [("on the radius", lambda c, F: c * F / 1000)],
    "08.5": [
        ("newtons per micrometre as per metre", lambda m, k: math.sqrt(k / m) / (2 * PI)),
        ("per minute", lambda m, k: 60 * math.sqrt(k * 1e6 / m) / (2 * PI)),
    ],
    "08.8": [
        ("held at both ends", lambda w, h, L, E: 12 * E * w * h**3 / 12 / L**3),
        ("the twelfth forgotten", lambda w, h, L, E: 3 * E * w * h**3 / L**3),
    ],
    "09.2": [
        ("on the radius", lambda p, n: p / n),
        ("divisions over pitch", lambda p, n: n / p),
        ("pitch left out", lambda p, n: 2 / n),
    ],
    "09.3": [("divided by 25.4", lambda t, n: 1 / t / n / 25.4), ("halved", lambda t, n: 25.4 / t / n / 2)],
    "09.4": [("multiplied", lambda p, s, r: p * s), ("difference", lambda p, s, r: p - s)],
    "09.5": [("first pair only", lambda a, b, c, d, s, r: s * a / b)],
    "09.6": [("a plain share of friction on top", lambda R, L, e, m: R * (1 + m))],
    "09.7": [
        ("the bare ratio", lambda e, L: e / L),
        ("over half of the guide, not squared", lambda e, L: 1 + 2 * e / L),
        ("without the load in the middle", lambda e, L: 12 * (e / L) ** 2),
        ("not squared", lambda e, L: 1 + 12 * e / L),
    ],
    "09.8": [
        ("pi left out", lambda d, s: math.degrees(math.atan(s / d))),
        ("upside down", lambda d, s: math.degrees(math.atan(PI * d / s))),
        ("radians", lambda d, s: math.atan(s / (PI * d))),
    ],
    "09.9": [
        ("half of the pitch", lambda p: p / 2),
        ("the nut's", lambda p: 0.5413 * p),
        ("on the diameter", lambda p: 2 * 0.6134 * p),
        ("the pitch itself", lambda p: p),
    ],
    "09.10": [
        ("factor of tightening left out", lambda T, d, k, m, b, h: m * 1000 * T / d),
        ("millimetres as metres", lambda T, d, k, m, b, h: m * T / (k * d)),
    ],
    "10.3": [("what an hour costs there less what it costs here", lambda mo, ho, mh, hh: mo / ho - mh / hh)],
    "10.4": [
        ("what comes on top times the power", lambda r, n: 1 + n * (r - 1)),
        ("only what comes on top", lambda r, n: r**n - 1),
    ],
    "10.5": [("the hours alone", lambda m, h, v: h * v)],
    "10.7": [("hours added as money", lambda m, h, v: m + h)],
    "11.2": [("the likely", lambda a, b, c: b)],
    "11.3": [
        ("a quarter of the range", lambda a, b, c: (c - a) / 4),
        ("the eighteenth forgotten", lambda a, b, c: math.sqrt(a * a + b * b + c * c - a * b - a * c - b * c)),
    ],
    "11.5": [("nine tenths of the spread on top", lambda m, s, q: m + q / 100 * s)],
    "11.6": [
        ("the mean alone", lambda a, b, c, q: (a + b + c) / 3),
        (
            "one spread on top",
            lambda a, b, c, q: (a + b + c) / 3 + math.sqrt((a * a + b * b + c * c - a * b - a * c - b * c) / 18),
        ),
    ],
    "12.2": [
        ("the likely counted twice", lambda a, b, c: (a + 2 * b + c) / 4),
        ("only the last divided by six", lambda a, b, c: a + 4 * b + c / 6),
        ("the four forgotten", lambda a, b, c: (a + b + c) / 6),
        ("the likely alone", lambda a, b, c: b),
    ],
    "12.3": [("only the best divided by six", lambda a, c: c - a / 6)],
    "12.4": [("the share kept left out", lambda b, e, h, i: (b - e) / h)],
    "12.5": [("one spread on top", lambda m, s, q: m + s)],
    "13.1": [("no louder than one", lambda a, b: a)],
    "13.3": [
        ("the louder alone", lambda a, b: max(a, b)),
        ("three more than the louder", lambda a, b: max(a, b) + 3),
        ("six more than the louder", lambda a, b: max(a, b) + 6),
    ],
    "13.5": [("half of the sum", lambda m, n: m * n / 2)],
    "13.6": [("the hours alone", lambda m, h, r, t: h * r / t), ("hours added as money", lambda m, h, r, t: (m + h) / t)],
    "13.7": [
        ("nothing taken off", lambda s, v, d: s / 100 * v),
        ("the share of the others", lambda s, v, d: (1 - s / 100) * v * (1 - d / 100)),
    ],
    "13.8": [
        ("upside down", lambda L, h: 8 / 2 ** ((L - 85) / 3) / h),
        ("hours allowed, not the share", lambda L, h: 8 / 2 ** ((L - 85) / 3)),
        ("steps counted, not halved", lambda L, h: h / (8 / ((L - 85) / 3))),
        ("five decibels for each half", lambda L, h: h / (8 / 2 ** ((L - 85) / 5))),
    ],
    "14.3": [("what is lost put on top", lambda i, b: b * (2 - i))],
    "14.4": [
        ("give times force, plain", lambda c, k: c * k / 1e6),
        ("what is not copied", lambda c, k: 1 - c * k / 1e6 / (1 + c * k / 1e6)),
    ],
    "14.5": [("times the power", lambda r, n: r * n)],
    "14.6": [
        ("so far", lambda b, e, w: e / w),
        ("what is left over what was worked", lambda b, e, w: (b - e) / w),
        ("the whole plan over the hours left", lambda b, e, w: b / (b - w)),
        ("upside down", lambda b, e, w: (b - w) / (b - e)),
    ],
    "15.1": [("a thousand too many", lambda k: 1e6 / k)],
    "15.2": [("the softer alone", lambda a, b: min(a, b)), ("added", lambda a, b: a + b)],
    "15.4": [("what an hour costs building less what it costs buying", lambda bm, bh, um, uh: bm / bh - um / uh)],
    "16.1": [
        ("upside down", lambda e, w: w / e),
        ("how much more than one", lambda e, w: e / w - 1),
        ("difference", lambda e, w: e - w),
    ],
    "16.2": [("what is lost put on top", lambda b, i: b * (2 - i))],
    "16.3": [("index left out", lambda b, e, i, h: (b - e) / h)],
    "16.4": [
        ("prior added bare", lambda e, w, p, k: (e + p) / (w + k)),
        ("log alone", lambda e, w, p, k: e / w),
        ("the hours of the prior as if earned", lambda e, w, p, k: (e + k) / (w + k)),
    ],
    "16.6": [
        ("all at the share of the second", lambda t, q, n: n * t * q / 100),
        ("all at the time of the last", lambda t, q, n: n * t * (q / 100) ** math.log2(n)),
    ],
    "16.7": [("how much more than planned", lambda p, e: e / p - 1)],
    "17.4": [("on the radius", lambda L, e, k: e * k / L), ("length of the work left out", lambda L, e, k: 2 * e)],
    "17.5": [("lengths left out", lambda L, D, k: D / 2)],
    "17.7": [("per minute", lambda d, p, v: 1000 * v / p)],
}
