"""Chapter 11: what it costs, how sure that is, and how long the money takes to come together."""

import numpy as np

from ...planning import scaling, three_point
from ...planning.schedule import HORIZON
from ...planning.shops import SELL
from ...ranges import Range, as_figure, middling, sample, total
from ...tables import table
from ...units import Money, Months, Ratio
from ..chain.entries import Decision, Figure, result
from ..chain.luck import FIRMS
from ..money import read_money
from .parts import ACCESSORIES, PRICE_LEVEL, thing_luck

CHAPTER = "11"
#: what the level of prices alone spreads a sum by, as a share of it
PRICE_SPREAD = float(three_point.triangular_spread.si(*PRICE_LEVEL)) / middling(PRICE_LEVEL)
#: mean of its square over that of the middling level: what one level of prices adds to the luck of each part
_PRICE_SQUARE = PRICE_SPREAD**2 + (float(three_point.triangular_mean.si(*PRICE_LEVEL)) / middling(PRICE_LEVEL)) ** 2
#: how much dearer than the middling level prices are on average
_PRICE_LEAN = float(three_point.triangular_mean.si(*PRICE_LEVEL)) / middling(PRICE_LEVEL)


DECISIONS = [
    Decision(
        "savings",
        "money put by at the start",
        "How much money is put by when you begin?",
        CHAPTER,
        Money(at_least=0),
        0,
        3000,
        50,
    ),
    Decision(
        "confidence",
        "how sure the budget must be",
        "In how many of a hundred builds like yours should the money suffice?",
        CHAPTER,
        Ratio("%", above=0, below=100),
        50,
        95,
        5,
        movable=False,
    ),
    Decision(
        "accessories",
        "chucks and other accessories",
        "Is the budget to hold only what first use needs, or the later accessories too?",
        CHAPTER,
        options=ACCESSORIES,
    ),
    Decision(
        "currency",
        "name of your money, and prices you know",
        "What is your money called, and what do a metre of bright round steel bar of 30 mm and an hour of a machine shop cost in it? "
        "(one of the two will do, or the name alone)",
        CHAPTER,
        free_text=True,
        reader=read_money,
        example="SEK: bar 230, hour 700",
    ),
]
FIGURES = [
    Figure("loss_a_year", "what a used machine loses of its price in a year", Ratio("%"), CHAPTER, value=Range(0, 5, 12)),
    Figure("selling_cost", "what selling and delivery take of the price", Ratio("%"), CHAPTER, value=Range(5, 10, 20)),
]


def _items_growth(things):
    """What the prices of some things follow; a machine is bought at the size it is sold in."""
    return scaling.items_growth(tuple("" if item.sort == "machine" else item.name for item in things))


@result(
    None,
    "money for each thing to buy",
    CHAPTER,
    source="common_practice, table of equipment and of laws",
    material_prices="material_local",
)
def item_money(things_to_buy, thing_again, part_sizes, powers, price_level, material_prices, draws):
    """Money of each tool, accessory, consumable and machine bought for the build, shape (..., things): by what drives it, or by the size of the lathe.

    What is found second-hand and of no use is paid for twice.
    """
    size = _items_growth(things_to_buy).factors(part_sizes, powers)
    ends = Range(*np.array([item.money for item in things_to_buy], float).reshape(-1, 3).T)
    middle = sum(ends) / 3 if draws is None else sample(ends, thing_luck(things_to_buy, "money", draws))
    chance, again = thing_again
    return {
        "things": things_to_buy,
        "money": middle
        * size
        * np.asarray(price_level * material_prices, float)[..., None]
        * (1 + (chance if again is None else again)),
    }


@result(
    Money(), "money for tools, accessories, stand and what is used up", CHAPTER, source="definition, sum over the things to buy"
)
def tools_money(item_money):
    """Money paid for everything beside the parts."""
    return total(item_money["money"])


@result(
    Money(), "share of the tools that other work carries", CHAPTER, source="common_practice, shares of the table of equipment"
)
def tools_shared(item_money):
    """Tools serve later work as well; that share need not be charged to the lathe, though it must be paid."""
    return total(item_money["money"] * np.array([item.other_uses for item in item_money["things"]]))


@result(Money(), "money to be paid", CHAPTER, source="definition, parts and tools")
def cash_total(material_money, outside_money, carriage_money, fees_money, tools_money):
    """Everything that is paid until the lathe is done, at the middling level of prices or at one that is drawn."""
    return material_money + outside_money + carriage_money + fees_money + tools_money


@result(
    Ratio("%"),
    "share of its price a machine fetches when it is sold again",
    CHAPTER,
    source="common_practice, used machines kept well",
)
def sold_share(loss_a_year, selling_cost, patience):
    """Kept until your patience ends, at the latest: what the years leave of the price, less what selling costs."""
    return np.maximum((1 - loss_a_year) ** (patience / 12) - selling_cost, 0.0)


@result(None, "what each thing fetches when it is sold again", CHAPTER, source="definition, price times its share")
def thing_resale(item_money, sold_share, thing_again):
    """Money that comes back of machines bought to be sold again; one of no use fetches nothing."""
    chance, again = thing_again
    sold = np.array([item.how == SELL for item in item_money["things"]])
    return item_money["money"] / (1 + (chance if again is None else again)) * sold * np.asarray(sold_share, float)[..., None]


@result(Money(), "what machines fetch when they are sold again", CHAPTER, source="definition, sum over the machines")
def machine_resale(thing_resale):
    """It comes back after the lathe is done, or never."""
    return total(thing_resale)


@result(Money(), "money paid in the end, machines sold again", CHAPTER, source="definition, money paid less what comes back")
def cash_in_the_end(cash_total, machine_resale):
    """What has gone when the machines bought for the build are sold again."""
    return cash_total - machine_resale


@result(Money(), "money to be paid, on average", CHAPTER, source="definition, mean of the sum")
def cash_average(cash_total, draws):
    """What many builds like yours would pay on average; prices rise more easily than they fall."""
    return cash_total * _PRICE_LEAN if draws is None else float(np.mean(cash_total))


@result(Money(), "money charged to the lathe", CHAPTER, source="definition, money paid less what other work carries")
def charged_total(cash_in_the_end, tools_shared):
    """What the lathe itself has cost when the tools go on to other work and machines are sold again."""
    return cash_in_the_end - tools_shared


@result(Money(), "spread of the money to be paid", CHAPTER, source="definition, spreads of the parts and of the prices together")
def cash_spread(
    cash_total,
    part_columns,
    part_growth,
    part_again,
    part_fees,
    part_material,
    part_outside,
    part_carriage,
    part_sizes,
    item_money,
    thing_again,
    price_level,
    material_local,
    outside_local,
    carriage_local,
    draws,
):
    """Standard deviation of the sum: each part its own luck and a share of that of all firms, one level of prices for all, and the powers by which money grows.

    A find that is of no use is paid for twice, which is luck as well.  Far from the size a row was judged at the powers count most.
    """
    if draws is not None:
        return float(np.std(cash_total))
    own = mean = 0.0
    for figure, local in (("material", material_local), ("outside", outside_local), ("carriage", carriage_local)):
        ends, factor = getattr(part_columns, figure), part_growth[figure] * np.asarray(price_level * local, float)[..., None]
        own, mean = own + three_point.triangular_spread.si(*ends) * factor, mean + sum(ends) / 3 * factor
    parts = _with_seconds(own, mean, part_columns.found * part_again[0])
    ends = np.array([item.money for item in item_money["things"]], float).reshape(-1, 3).T
    once = item_money["money"] / (1 + thing_again[0])
    with np.errstate(invalid="ignore", divide="ignore"):
        size = once / np.where(ends.sum(axis=0) > 0, ends.sum(axis=0) / 3, 1.0)
    tools = _with_seconds(three_point.triangular_spread.si(*ends) * size, once, thing_again[0])
    # parts of one place are dear together: of that share the spreads add as they are, of the rest in squares
    together = sum(weight**2 for _, weight in FIRMS)
    each = parts.sum(axis=-1) + together * (own.sum(axis=-1) ** 2 - (own**2).sum(axis=-1)) + tools.sum(axis=-1)
    paid = np.concatenate(np.broadcast_arrays(part_fees, part_material, part_outside, part_carriage), axis=-1)
    grown = _by_powers(part_sizes, (part_columns.growing, paid), (_items_growth(item_money["things"]), item_money["money"]))
    return as_figure(np.sqrt(each * _PRICE_SQUARE + grown + (cash_total * PRICE_SPREAD) ** 2))


def _by_powers(sizes, *columns):
    """Variance that the powers of all laws bring to the sum of some columns of money, each power being one for all of them."""
    moved = {}
    for growing, money in columns:
        for name, slope in zip(growing.laws, np.moveaxis((growing.slopes(sizes) * money[..., None, :]).sum(axis=-1), -1, 0)):
            moved[name] = moved.get(name, 0.0) + slope
    laws = table("laws")
    return sum((slope * three_point.triangular_spread.si(*laws[name]["exponent"])) ** 2 for name, slope in moved.items())


def _with_seconds(spread, mean, chance):
    """Variance of a sum that is paid once, or twice with some chance."""
    return spread**2 * (1 + 3 * chance) + mean**2 * chance * (1 - chance)


@result(Money(), "money that suffices for the build", CHAPTER, source="hillier_lieberman, normal approximation of a sum")
def money_needed(cash_total, cash_average, cash_spread, confidence, draws):
    """Enough in so many builds of a hundred as you asked for."""
    if draws is not None:
        return float(np.quantile(cash_total, float(np.median(confidence))))
    return three_point.money_at.si(cash_average, cash_spread, confidence)


@result(Money(), "contingency of the budget", CHAPTER, source="definition, what suffices less the average")
def contingency(money_needed, cash_average):
    """What to put by beyond the average."""
    return np.maximum(money_needed - cash_average, 0.0)


def _months_of_money(rate: str, name: str, label: str):
    def body(money_needed, savings, rate):
        """Until the sum that suffices has come together."""
        with np.errstate(divide="ignore", invalid="ignore"):
            short = np.maximum(money_needed - savings, 0.0)
            months = np.where(short == 0, 0.0, short / np.asarray(rate, float))
        return np.where(months >= HORIZON, np.inf, months)[()]

    return result(Months(), label, CHAPTER, name=name, source="definition", rate=rate)(body)


RESULTS = [
    item_money,
    tools_money,
    tools_shared,
    cash_total,
    cash_average,
    sold_share,
    thing_resale,
    machine_resale,
    cash_in_the_end,
    charged_total,
    cash_spread,
    money_needed,
    contingency,
    _months_of_money("money_can", "months_of_money", "months until the money is together, at the money available"),
    _months_of_money(
        "money_should", "months_of_money_should", "months until the money is together, at the money you should spend"
    ),
]
#: whether the money comes together in time is part of whether it is finished in time (chapter 12)
