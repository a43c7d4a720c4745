"""Chapter 06: what a bore costs, what warmth does to the play, what speed takes from the grip."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ...design.evaluation import Evaluation, evaluate
from ...machine.bearings import SLANTED_BALLS, SLANTED_ROLLERS, contact_of
from ...units import Force, Length, Ratio, RotationalSpeed, Stiffness, TemperatureRise
from .axes import Places, inside, label, shown
from .register import NothingToDraw, picture
from .style import INK, LINES, MUTED, PALE, PALETTE, on_white

_MM, _UM, _STIFF, _N = Length("mm"), Length("µm"), Stiffness(), Force()
_KELVIN, _RPM, _SHARE = TemperatureRise("K"), RotationalSpeed(), Ratio("%")
#: widest bore that is drawn, as a share of the diameter
_WIDEST = 0.92


def _mark(axes: Axes, at: float, words: str, level: float, side: str) -> None:
    """A dotted line up from the axis and its words, right or left of it."""
    axes.axvline(at, color=MUTED, ls=":", lw=1.5)
    axes.annotate(
        words,
        (at, level),
        xycoords=("data", "axes fraction"),
        xytext=(6 if side == "left" else -6, 0),
        textcoords="offset points",
        ha=side,
        va="center",
        bbox=on_white(1, 0.85),
    )


# --- bore --------------------------------------------------------------------------------------------
def _hollow(e: Evaluation) -> Evaluation:
    """The middling figures, if there is a spindle at all."""
    plain = e.central
    if not plain["spindle_bore"] < plain["spindle_diameter"]:
        raise NothingToDraw(
            f"A bore of {e.shown('spindle_bore')} leaves nothing of a spindle {e.shown('spindle_diameter')} thick."
        )
    return plain


def _bore_words(e: Evaluation) -> str:
    plain = _hollow(e)
    solid = evaluate(plain.design.trying(spindle_bore=0.0), earlier=plain)
    lost = 1 - plain["nose_stiffness"] / solid["nose_stiffness"]
    return (
        f"Stiffness over the bore of a spindle {e.shown('spindle_diameter')} thick. With the chosen bore of {e.shown('spindle_bore')} the nose stands "
        f"{shown(e, plain['nose_stiffness'], _STIFF)}, {lost:.0%} less than without a bore. Up to half of the diameter little is lost; beyond seven tenths the curves drop."
    )


@picture("What a larger bore costs", _bore_words, panels=((0.115, 0.15, 0.70, 0.82),))
def bore_curve(e: Evaluation, axes: Axes) -> None:
    """Stiffness at the nose, and of the shaft alone, over the bore; chosen and seven tenths marked."""
    plain = _hollow(e)
    diameter, bore = plain["spindle_diameter"], plain["spindle_bore"]
    bores = np.linspace(0, max(_WIDEST * diameter, min(bore * 1.02, 0.999 * diameter)), 120)
    swept = evaluate(plain.design.trying(spindle_bore=bores), earlier=plain)
    curves = {"shaft alone": 1 / swept["nose_shaft_compliance"], "whole nose": 1 / swept["nose_compliance"]}
    x = inside(e, bores, _MM)
    top = 1.25 * max(inside(e, curve, _STIFF).max() for curve in curves.values())
    axes.set_xlim(0, x[-1])
    axes.set_ylim(0, top)
    axes.set_xlabel(label("bore", _MM, e))
    axes.set_ylabel(label("stiffness at the nose", _STIFF, e))
    thin = inside(e, 0.7 * diameter, _MM)
    axes.axvspan(thin, x[-1], color=PALE, zorder=0)
    axes.text((thin + x[-1]) / 2, 0.99 * top, "thin seat", ha="center", va="top", color=INK)
    for (name, curve), (colour, style), marker in zip(curves.items(), LINES, ("o", "s")):
        y = inside(e, curve, _STIFF)
        axes.plot(x, y, color=colour, ls=style)
        here = float(np.interp(bore, bores, curve))
        axes.plot([inside(e, bore, _MM)], [inside(e, here, _STIFF)], marker, color=INK, markeredgecolor="white", zorder=5)
        axes.annotate(name, (x[0], y[0]), xytext=(8, 7), textcoords="offset points", ha="left", va="bottom")
    right = bore > 0.45 * bores[-1]
    _mark(axes, inside(e, bore, _MM), f"chosen {shown(e, bore, _MM)}", 0.06, "right" if right else "left")


# --- warm --------------------------------------------------------------------------------------------
def _slanted(e: Evaluation) -> Evaluation:
    """The middling figures, if the bearings are of a kind whose play follows the heat."""
    plain = e.central
    kind = plain["bearing_kind"]
    if contact_of(kind) not in (SLANTED_BALLS, SLANTED_ROLLERS):
        raise NothingToDraw(
            f"The end play of {kind} bearings stays at {e.shown('warm_end_play')} when warm: a spring takes it up, or collars hold it apart from the span."
        )
    return plain


def _warm_words(e: Evaluation) -> str:
    plain = _slanted(e)
    return (
        f"End play over how much warmer the spindle is than its housing. Set to {e.shown('cold_end_play')} cold, {plain['bearing_kind']} bearings "
        f"{plain['bearing_arrangement']} keep {shown(e, plain['warm_end_play'], _UM)} when the spindle is {shown(e, plain['spindle_above_housing'], _KELVIN)} warmer. "
        "Face to face they would tighten faster than back to back."
    )


@picture("End play that warmth takes away", _warm_words, panels=((0.115, 0.15, 0.68, 0.82),))
def warm_play(e: Evaluation, axes: Axes) -> None:
    """End play over the difference of temperature for both arrangements; loose and tight marked."""
    plain = _slanted(e)
    rises = np.linspace(0, max(25.0, 1.3 * plain["spindle_above_housing"]), 30)
    gained = e.chain.results["play_gained"]
    lines = {}
    for way in e.chain.decisions["bearing_arrangement"].options:
        fed = {name: plain[name] for name in gained.inputs} | {"bearing_arrangement": way, "spindle_above_housing": rises}
        lines[way] = plain["cold_end_play"] + gained.body(*fed.values())
    x = inside(e, rises, _KELVIN)
    ys = {way: inside(e, line, _UM) for way, line in lines.items()}
    loose, tight = inside(e, 5e-6, _UM), inside(e, -10e-6, _UM)
    low = min(min(y.min() for y in ys.values()), 2.2 * tight)
    high = max(max(y.max() for y in ys.values()), 2.5 * loose)
    axes.set_xlim(0, x[-1])
    axes.set_ylim(low * 1.08, high * 1.15)
    axes.set_xlabel(label("spindle warmer than its housing by", _KELVIN, e))
    axes.set_ylabel(label("end play, below zero a squeeze", _UM, e))
    axes.axhspan(loose, high * 1.15, color=PALE, zorder=0)
    axes.axhspan(low * 1.08, tight, color=PALE, zorder=0)
    axes.axhline(0, color=INK, lw=1)
    for (way, y), (colour, style) in zip(ys.items(), LINES):
        axes.plot(x, y, color=colour, ls=style, lw=3 if way == plain["bearing_arrangement"] else 1.8)
        axes.annotate(
            way, (x[-1], y[-1]), xytext=(6, 0), textcoords="offset points", ha="left", va="center", annotation_clip=False
        )
    here = inside(e, plain["spindle_above_housing"], _KELVIN)
    axes.plot([here], [inside(e, plain["warm_end_play"], _UM)], "o", color=INK, markeredgecolor="white", zorder=5, markersize=9)
    places = Places(axes)
    places.keep_off(np.tile(x, 2), np.concatenate(list(ys.values())), 4)
    for words, y in (("too loose for a warm spindle", (loose + high * 1.15) / 2), ("too tight", (low * 1.08 + tight) / 2)):
        places.put(x[-1] * 0.5, y, words, centred=True, color=INK)
    places.put(here, inside(e, plain["warm_end_play"], _UM), f"yours {shown(e, plain['warm_end_play'], _UM)}", weight="bold")


# --- grip --------------------------------------------------------------------------------------------
def _grip_words(e: Evaluation) -> str:
    plain = e.central
    return (
        f"Grip of a chuck of {e.shown('chuck_diameter')} over its speed: {shown(e, plain['static_grip'], _N)} at rest, {shown(e, plain['grip_at_speed'], _N)} at the "
        f"top speed of {e.shown('fastest_speed')}. The chuck is stamped for {e.shown('chuck_top_speed')}. Below a third of the grip at rest it is not to be run."
    )


@picture("What speed takes from the grip", _grip_words, panels=((0.125, 0.15, 0.84, 0.82),))
def grip_over_speed(e: Evaluation, axes: Axes) -> None:
    """Grip of the chuck over speed; a third of it, the top speed and the stamp marked."""
    plain = e.central
    rest, top_speed, stamp = plain["static_grip"], plain["fastest_speed"], plain["chuck_top_speed"]
    pull = plain["chuck_jaws"] * plain["jaw_mass"] * plain["jaw_radius"]
    end = max(1.35 * max(top_speed, stamp), np.sqrt(rest / pull) * 0.9)
    speeds = np.linspace(0, end, 120)
    grip = np.maximum(rest - pull * speeds**2, 0)
    x, y = inside(e, speeds, _RPM), inside(e, grip, _N)
    axes.set_xlim(0, x[-1])
    axes.set_ylim(0, 1.25 * y[0])
    axes.set_xlabel(label("speed", _RPM, e))
    axes.set_ylabel(label("grip of all jaws", _N, e))
    axes.plot(x, y, color=PALETTE["blue"])
    axes.axhspan(0, y[0] / 3, color=PALE, zorder=0)
    here, there = (inside(e, speed, _RPM) for speed in (top_speed, stamp))
    axes.axvline(there, color=PALETTE["red"], ls="--")
    axes.axvline(here, color=MUTED, ls=":")
    axes.plot([here], [inside(e, np.interp(top_speed, speeds, grip), _N)], "o", color=INK, markeredgecolor="white", zorder=5)
    style = {"va": "center", "bbox": on_white(1, 0.85), "zorder": 4}
    for at, words, level in (
        (there, f"stamped {shown(e, stamp, _RPM)}", 1.17),
        (here, f"your top {shown(e, top_speed, _RPM)}", 0.55),
    ):
        side = "right" if at > 0.5 * x[-1] or (level < 1 and at > 0.3 * x[-1]) else "left"  # a word keeps off the other line
        axes.annotate(
            words, (at, level * y[0]), xytext=(6 if side == "left" else -6, 0), textcoords="offset points", ha=side, **style
        )
    axes.text(0.02 * x[-1], y[0] / 6, "less than a third is left", ha="left", **style)
