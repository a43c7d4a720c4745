"""Chapter 15: what it costs to run and keep the lathe, and building, part by part, beside buying used."""

from ...ranges import Range
from ...units import Area, HourPrice, HoursRate, LabourTime, Money, MoneyRate, Months, Ratio
from ..chain.entries import Figure, Limit, result

CHAPTER = "15"
_MONTHS_A_YEAR = 12

FIGURES = [
    Figure("turning_hours", "hours of turning a month, once it runs", HoursRate(), CHAPTER, value=Range(2, 6, 15)),
    Figure("load_share", "share of the motor's power that is taken on average", Ratio("%"), CHAPTER, value=Range(10, 20, 40)),
    Figure("power_price", "price of a kilowatt-hour of electricity", HourPrice(), CHAPTER, value=Range(0.15, 0.30, 0.50)),
    Figure(
        "wear_price",
        "tools, oil and other things used up in an hour of turning",
        HourPrice(),
        CHAPTER,
        value=Range(0.2, 0.6, 1.5),
    ),
    Figure("repair_share", "repairs a year over the money paid", Ratio("%"), CHAPTER, value=Range(1, 2, 4)),
    Figure("space_price", "what a square metre of workshop costs a month", MoneyRate(), CHAPTER, value=Range(0, 2, 8)),
    Figure("ordered_price", "price of an hour of turning done by a shop", HourPrice(), CHAPTER, value=Range(25, 45, 80)),
    Figure("months_kept", "months the lathe is kept", Months(), CHAPTER, value=Range(60, 120, 240)),
    Figure(
        "resale_share", "resale price of a home-built lathe over the money in it", Ratio("%"), CHAPTER, value=Range(5, 25, 50)
    ),
    Figure("used_resale_share", "resale price of a used lathe over its price", Ratio("%"), CHAPTER, value=Range(50, 75, 100)),
]


@result(Area("m²"), "floor it takes, with the place to stand", CHAPTER)
def floor_taken(machine_length, machine_depth, standing_depth):
    """Length of the machine, by its depth and that of whoever stands there."""
    return machine_length * (machine_depth + standing_depth)


@result(MoneyRate(), "electricity a month", CHAPTER)
def power_money(turning_hours, motor_power, load_share, motor_efficiency, power_price):
    """What the motor takes from the socket on average, at the price of an hour at one kilowatt."""
    return turning_hours * motor_power * load_share / motor_efficiency / 1000.0 * power_price


@result(MoneyRate(), "tools and oil used up a month", CHAPTER)
def wear_money(turning_hours, wear_price):
    """Edges, oil, cloths, and the small things that vanish."""
    return turning_hours * wear_price


@result(MoneyRate(), "price of its place a month", CHAPTER)
def space_money(floor_taken, space_price):
    """The floor at what a square metre costs; nothing where it stands for nothing."""
    return floor_taken * space_price


@result(MoneyRate(), "monthly cost of running it, without repairs", CHAPTER)
def use_money(power_money, wear_money, space_money):
    """Electricity, what is used up, and the place: alike for a lathe built and one bought."""
    return power_money + wear_money + space_money


def _running(price: str, name: str, label: str):
    def body(use_money, price, repair_share):
        """What using it costs, and repairs."""
        return use_money + price * repair_share / _MONTHS_A_YEAR

    return result(MoneyRate(), label, CHAPTER, name=name, price=price)(body)


def _a_year(running: str, price: str, share: str, name: str, label: str):
    def body(running, price, share, months_kept):
        """Twelve months of running, and what it loses in worth in a year."""
        return _MONTHS_A_YEAR * (running + price * (1 - share) / months_kept)

    return result(Money(), label, CHAPTER, name=name, running=running, price=price, share=share)(body)


@result(HourPrice(), "what an hour at the finished lathe costs", CHAPTER)
def turning_hour_cost(keeping_a_year, turning_hours):
    """A year of keeping it, shared out over the hours of turning."""
    return keeping_a_year / (turning_hours * _MONTHS_A_YEAR)


@result(Money(), "price of a year's turning ordered from a shop", CHAPTER)
def ordered_a_year(turning_hours, ordered_price, outside_local):
    """The hours of turning at what a shop asks near you; a shop is quicker, and asks for setting up."""
    return _MONTHS_A_YEAR * turning_hours * ordered_price * outside_local


@result(LabourTime(), "hours of turning while it is kept", CHAPTER)
def hours_of_use(turning_hours, months_kept):
    """Hours a month over the months it is kept."""
    return turning_hours * months_kept


@result(Ratio(), "hours of building for an hour of turning", CHAPTER)
def building_for_turning(own_hours, hours_of_use):
    """How the hours of the build compare with those of its use."""
    return own_hours / hours_of_use


@result(Money(), "cost of building, with your hours counted", CHAPTER, source="own_work, money plus hours at their worth")
def building_by_parts(charged_total, own_hours, hour_cost):
    """Money charged to the lathe, and the hours at what an hour costs you (a gain if you want the building)."""
    return charged_total + own_hours * hour_cost


@result(
    Money(),
    "cost of building over buying used, with your hours counted",
    CHAPTER,
    source="own_work, money plus hours at their worth",
)
def building_over_buying(building_by_parts, used_total):
    """What building costs more than buying used; below zero it costs less."""
    return building_by_parts - used_total


RESULTS = [
    floor_taken,
    power_money,
    wear_money,
    space_money,
    use_money,
    _running("charged_total", "running_money", "monthly cost of running and repairs"),
    _running("used_price", "used_running_money", "monthly cost of running and repairs of a used lathe"),
    _a_year("running_money", "charged_total", "resale_share", "keeping_a_year", "yearly cost of ownership"),
    _a_year(
        "used_running_money", "used_price", "used_resale_share", "used_keeping_a_year", "yearly cost of ownership of a used lathe"
    ),
    turning_hour_cost,
    ordered_a_year,
    hours_of_use,
    building_for_turning,
    building_by_parts,
    building_over_buying,
]
LIMITS = [
    Limit(
        "keeping_is_affordable",
        "owning the lathe can be afforded",
        CHAPTER,
        "running_money",
        "at most",
        "money_should",
        "Running and repairing it takes {value}; you should spend {limit}.",
        comfort=1.0,
        source="own_work, running cost held against the money a month",
    )
]
