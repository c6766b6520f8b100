"""The chance that a look finds a leak: how each method sees, in which state, how careful, and what it never sees."""

import math
from dataclasses import dataclass

import scipy

from course.errors import check_choice, check_range
from course.service.dye import oil_out_mg
from course.service.leak_flow import (
    COLDEST_C,
    HOTTEST_C,
    STATES,
    flow_ratio,
    reference_pressure,
    side_pressure,
    side_pressures,
    standing_pressure,
)
from course.service.leak_signals import (
    LARGEST_LEAK_G_PER_YEAR,
    bubble_seconds,
    by_care,
    gauge_change_pa,
    method_terms,
    nitrogen_flow_factor,
    tip_distance_and_speed,
    tip_factor,
)
from course.tables import read_dye, read_leak_methods
from course.units import PA_PER_KPA, STANDARD_ATMOSPHERE_PA, celsius_to_kelvin, gauge_from_absolute_pa

METHODS = ("electronic", "bubbles", "uv_dye", "nitrogen_bubbles", "tracer_gas", "pressure_drop", "vacuum_rise")
SCALES_G_PER_YEAR = (4.0, 7.0, 14.0)  # settings of an electronic detector: SAE J2791, second-hand
FILL = {"tracer_gas": "fill_kpa_gauge", "pressure_drop": "hold_kpa_gauge"}
NOTHING = 1e-9  # - of what it takes to notice a signal: no chance is reckoned below it
DECISION = 2.0  # standard deviations a gauge must move before the test is called failed; assumed


@dataclass(frozen=True)
class Look:
    """One look at one place: the method, the state of the car, and how well it is done."""

    method: str  # one of METHODS
    state: str = "at_rest"  # one of STATES
    care: float = 1.0  # -, 0 hurried to 1 by the book: tip speed and distance; watching; lamp and glasses; temperature
    wind_m_s: float = 0.0  # m/s, moving air in the bay
    background_g_per_year: float = 0.0  # g/yr, gas already in the air, as the leak that would read the same
    temperature_c: float = 25.0  # °C, circuit at rest, weather when running
    charge_left_fraction: float = 1.0  # -, of the label charge
    dye_days: float = 0.0  # days since dye went in
    running_hours: float = 0.0  # h run since then
    wait_minutes: float = 0.0  # min with the blower off before the case is probed, or that a gauge is watched
    scale_g_per_year: float = 7.0  # g/yr, one of SCALES_G_PER_YEAR

    def __post_init__(self):
        check_choice("method", self.method, METHODS)
        check_choice("state", self.state, STATES)
        scale = check_range("detector setting", self.scale_g_per_year, 4.0, 14.0, "g/yr", "choose 4, 7 or 14")
        check_choice("detector setting in g/yr", f"{scale:g}", [f"{one:g}" for one in SCALES_G_PER_YEAR])
        for name, low, high, unit, advice in LOOK_RANGES:
            check_range(name.replace("_", " "), getattr(self, name), low, high, unit, advice)


LOOK_RANGES = (  # the workbook's own limits
    ("care", 0.0, 1.0, "of doing it by the book", "0 is hurried, 1 is by the book"),
    ("wind_m_s", 0.0, 15.0, "m/s", "wait for a calmer hour or go inside"),
    ("background_g_per_year", 0.0, 1e4, "g/yr", "air the bay first"),
    ("temperature_c", COLDEST_C, HOTTEST_C, "°C", "warm or shade the car"),
    ("charge_left_fraction", 0.0, 1.4, "of the label charge", "give it as a share of one"),
    ("dye_days", 0.0, 3650.0, "days", "count from the day the dye went in"),
    ("running_hours", 0.0, 1e5, "h", "count from the day the dye went in"),
    ("wait_minutes", 0.0, 20160.0, "min", "at most two weeks"),
)


def _access(place):
    choices = read_leak_methods().access
    return {key: quantity.value for key, quantity in choices[check_choice("access", place.access, choices)].items()}


def _noticed(ratio, spread, at_one=0.5):
    """Chance that a signal is noticed, from its ratio to what it takes, at which the chance is at_one."""
    if ratio < NOTHING:
        return 0.0
    return scipy.special.ndtr(math.log(ratio) / spread + scipy.special.ndtri(at_one))


def _sniff(look, place, rate, background):
    """Chance that a detector alarms, for what the hole lets out now [g/yr]."""
    terms, access = method_terms("electronic"), _access(place)
    distance, speed = tip_distance_and_speed(look.care)
    fan = terms["fan_wind_m_s"] if look.state == "running" else 0.0
    wind = access["wind_share"] * (look.wind_m_s + fan)
    signal = rate * tip_factor(distance + access["away_mm"], speed) / (1.0 + wind / terms["half_wind_m_s"])
    if place.access == "inside_case":
        if look.state == "running":
            signal *= terms["blower_on_share"]
        else:
            signal *= max(1.0 - math.exp(-look.wait_minutes / terms["case_fill_minutes"]), terms["blower_on_share"])
    threshold = math.hypot(look.scale_g_per_year, background)
    return access["sniff_share"] * _noticed(signal / threshold, terms["spread_factor"], terms["certified_share"])


def _flow_factor(look, place, refrigerant):
    """What the hole lets out in this state, over the leak as it is named: by mass of refrigerant, by volume of nitrogen."""
    if look.state == "nitrogen":
        method = "tracer_gas" if look.method == "tracer_gas" else "pressure_drop"
        return nitrogen_flow_factor(refrigerant, method_terms(method)[FILL[method]])
    both = side_pressures(refrigerant, look.state, look.temperature_c, look.charge_left_fraction)
    return flow_ratio(side_pressure(both, place.side), reference_pressure(refrigerant))


def _electronic(look, place, leak, refrigerant):
    if look.state in ("nitrogen", "vacuum"):
        return 0.0
    return _sniff(look, place, leak * _flow_factor(look, place, refrigerant), look.background_g_per_year)


def _tracer_gas(look, place, leak, refrigerant):
    if look.state != "nitrogen":
        return 0.0
    return _sniff(look, place, leak * _flow_factor(look, place, refrigerant), 0.0)


def _bubbles(look, place, leak, refrigerant):
    terms, access = method_terms("bubbles"), _access(place)
    watched = by_care(look.care, terms["hurried_seconds"], terms["careful_seconds"])
    fan = method_terms("electronic")["fan_wind_m_s"] if look.state == "running" else 0.0
    film = math.exp(-access["wind_share"] * (look.wind_m_s + fan) / terms["wind_m_s"])
    seen = 1.0 - math.exp(-watched / bubble_seconds(leak, refrigerant, _flow_factor(look, place, refrigerant)))
    return access["wet_share"] * film * seen


def _nitrogen_bubbles(look, place, leak, refrigerant):
    return _bubbles(look, place, leak, refrigerant) if look.state == "nitrogen" else 0.0


def _uv_dye(look, place, leak, refrigerant):
    terms = method_terms("uv_dye")
    oil = oil_out_mg(leak, look.dye_days)
    if not place.oil_wetted:
        return 0.0
    needed = read_dye().visible["oil_mg"].value * by_care(look.care, terms["careless_factor"], 1.0)
    mixed = 1.0 - math.exp(-look.running_hours / terms["mixing_hours"])
    return _access(place)["see_share"] * mixed * _noticed(oil / needed, terms["spread_factor"])


def _gauge_error_pa(look):
    """One standard deviation of what the gauge shows without a leak [Pa]."""
    terms = method_terms(look.method)
    if look.method == "vacuum_rise":
        return by_care(look.care, terms["hurried_pa"], terms["careful_pa"])
    filled = terms["hold_kpa_gauge"] * PA_PER_KPA + STANDARD_ATMOSPHERE_PA
    warmth = by_care(look.care, terms["hurried_error_k"], terms["careful_error_k"])
    return math.hypot(terms["gauge_kpa"] * PA_PER_KPA, filled / celsius_to_kelvin(look.temperature_c) * warmth)


def _watched_gauge(look, place, leak, refrigerant):
    if look.state != {"pressure_drop": "nitrogen", "vacuum_rise": "vacuum"}[look.method] or look.wait_minutes == 0.0:
        return 0.0
    moved = gauge_change_pa(look.method, leak, refrigerant, look.wait_minutes)
    return scipy.special.ndtr(moved / _gauge_error_pa(look) - DECISION)


CHANCES = {
    "electronic": _electronic,
    "bubbles": _bubbles,
    "uv_dye": _uv_dye,
    "nitrogen_bubbles": _nitrogen_bubbles,
    "tracer_gas": _tracer_gas,
    "pressure_drop": _watched_gauge,
    "vacuum_rise": _watched_gauge,
}


def chance_of_finding(look, place, leak_g_per_year, refrigerant):
    """The chance that this look shows this leak.

    Parameters
    ----------
    look : Look
        Method, state and how well it is done.
    place : object
        Where the leak is: side, access and oil_wetted, as tables.read_leak_places gives them.
    leak_g_per_year : float
        The leak as the car stands at 25 °C, 0 to 1,000,000; 0 while it is shut [g/yr].
    refrigerant : str
        "R134a" or "R1234yf".

    Returns
    -------
    float
        Chance, 0 to 1 [-].

    Raises
    ------
    UnknownChoice, OutOfRange
        When a name is unknown or a value outside its range.

    Notes
    -----
    Each method by its physics: what the hole lets out in this state (leak_flow), against what the method needs. Settings,
    tip speed and distance, standing pressure and wait come from SAE J2791, J1628 and J2970 (second-hand or from memory);
    every other term is assumed, see data/service/leak_methods.toml: use the chances to compare looks, not to promise.
    pressure_drop and vacuum_rise say that it leaks and not where.

    Examples
    --------
    The type limit of 40 g/yr at a joint under the bonnet, by the book, and waved past in a breeze:

    >>> from types import SimpleNamespace
    >>> joint = SimpleNamespace(side="high", access="under_bonnet", oil_wetted=True)
    >>> slow = chance_of_finding(Look("electronic"), joint, 40.0, "R134a")
    >>> fast = chance_of_finding(Look("electronic", care=0.0, wind_m_s=2.0), joint, 40.0, "R134a")
    >>> slow > 0.85, fast < 0.2
    (True, True)
    """
    leak = check_range("leak", leak_g_per_year, 0.0, LARGEST_LEAK_G_PER_YEAR, "g/yr", "a faster leak is heard")
    if leak == 0.0:
        return 0.0
    return float(CHANCES[look.method](look, place, leak, refrigerant))


def chance_of_false_alarm(look, place):
    """The chance that this look points at a tight joint.

    Parameters
    ----------
    look : Look
        Method, state and how well it is done.
    place : object
        The place: its access.

    Returns
    -------
    float
        Chance, 0 to 1 [-].

    Raises
    ------
    UnknownChoice
        When the access is unknown.

    Notes
    -----
    What sets a detector off or glows is from service literature; how often is assumed throughout. Under the bonnet and
    under the car there is more of it. For a watched gauge: it moves twice its own error without a leak.

    Examples
    --------
    A finer setting in a gassy bay cries wolf more often:

    >>> from types import SimpleNamespace
    >>> joint = SimpleNamespace(side="high", access="open", oil_wetted=True)
    >>> calm = chance_of_false_alarm(Look("electronic", scale_g_per_year=14.0), joint)
    >>> chance_of_false_alarm(Look("electronic", scale_g_per_year=4.0, background_g_per_year=8.0), joint) > calm
    True
    """
    access = _access(place)
    if look.method in ("electronic", "tracer_gas"):
        terms = method_terms("electronic")
        often = terms["false_per_scale_g_per_year"] / look.scale_g_per_year
        if look.method == "electronic":
            often += terms["false_background_share"] * look.background_g_per_year / look.scale_g_per_year
            often += terms["false_dirt_share"] if place.access in ("under_bonnet", "under_car") else 0.0
        return 1.0 - math.exp(-often)
    if look.method in ("bubbles", "nitrogen_bubbles"):
        return method_terms("bubbles")["false_share"] * (1.0 - look.care) * access["wet_share"]
    if look.method == "uv_dye":
        return method_terms("uv_dye")["false_share"] * access["see_share"]
    return float(scipy.special.ndtr(-DECISION)) if look.wait_minutes > 0.0 else 0.0


def blind_spots(method):
    """What a method can never see.

    Parameters
    ----------
    method : str
        One of METHODS.

    Returns
    -------
    list of str
        Sentences.

    Raises
    ------
    UnknownChoice
        When there is no such method.

    Notes
    -----
    From data/service/leak_methods.toml.

    Examples
    --------
    >>> "oil" in blind_spots("uv_dye")[0]
    True
    """
    return list(read_leak_methods().method[check_choice("method", method, METHODS)].blind_spots)


def take_care(method):
    """What can hurt, or is against the law, in a method.

    Parameters
    ----------
    method : str
        One of METHODS.

    Returns
    -------
    list of str
        Sentences, to be said before the work; local rules and the licensed technician come first.

    Raises
    ------
    UnknownChoice
        When there is no such method.

    Notes
    -----
    From data/service/leak_methods.toml.

    Examples
    --------
    >>> any("regulator" in sentence for sentence in take_care("tracer_gas"))
    True
    """
    return list(read_leak_methods().method[check_choice("method", method, METHODS)].care)


def cautions(look, place, refrigerant):
    """What is wrong with a look before it begins: each a sentence with what to do.

    Parameters
    ----------
    look : Look
        The look.
    place : object
        The place: its access and oil_wetted.
    refrigerant : str
        "R134a" or "R1234yf".

    Returns
    -------
    list of str
        Sentences, none when the look follows the procedure.

    Raises
    ------
    UnknownChoice, OutOfRange
        When a name is unknown or a value outside its range.

    Notes
    -----
    Against SAE J1628 and J2791 as reprinted (second-hand).

    Examples
    --------
    R-134a stands at 340 kPa gauge at 12 °C; a car at 8 °C does not reach it:

    >>> from types import SimpleNamespace
    >>> joint = SimpleNamespace(side="high", access="open", oil_wetted=True)
    >>> cautions(Look("electronic", temperature_c=8.0), joint, "R134a")[0]
    'The circuit stands at 286 kPa gauge; below 340 kPa small leaks may not be measurable: warm the car or fill it first.'
    """
    said = []
    if look.method == "electronic":
        said += _detector_cautions(look, place, refrigerant)
    if look.method == "uv_dye":
        if not place.oil_wetted:
            said.append("No oil comes by this place, so no dye does: use a detector or bubbles here.")
        mixing = method_terms("uv_dye")["mixing_hours"]
        if look.running_hours < mixing:
            said.append(f"The dye has not been carried round yet: run the A/C for {60.0 * mixing:.0f} minutes first.")
    if method_state(look.method) not in ("", look.state):
        said.append(f"This method needs the car in the state {method_state(look.method)!r}; as it is it shows nothing.")
    if _access(place)["wet_share"] == 0.0 and look.method in ("bubbles", "nitrogen_bubbles"):
        said.append("Nobody sees a bubble here: probe the drain or the resistor's hole with a detector instead.")
    return said


def _detector_cautions(look, place, refrigerant):
    terms = method_terms("electronic")
    said = []
    if look.state in ("at_rest", "just_stopped"):
        stands = standing_pressure(refrigerant, look.temperature_c, look.charge_left_fraction)
        gauge = gauge_from_absolute_pa(stands) / PA_PER_KPA
        if gauge < terms["least_kpa_gauge"]:
            said.append(
                f"The circuit stands at {gauge:.0f} kPa gauge; below {terms['least_kpa_gauge']:.0f} kPa small leaks may not "
                "be measurable: warm the car or fill it first."
            )
    elif look.state == "running":
        said.append("The procedure is with the engine off: the fan carries the gas away, and hands stay clear of it.")
    else:
        said.append("There is no refrigerant in the circuit: a refrigerant detector has nothing to find.")
    if not terms["least_temperature_c"] <= look.temperature_c <= terms["most_temperature_c"]:
        least, most = terms["least_temperature_c"], terms["most_temperature_c"]
        said.append(
            f"Detectors are tested from {least:.0f} to {most:.0f} °C; outside that nobody vouches for the setting."
        )
    if look.background_g_per_year >= look.scale_g_per_year:
        said.append(
            "There is as much gas in the air as the setting looks for: air the bay and find the large leak first."
        )
    if place.access == "inside_case" and look.wait_minutes < terms["case_wait_minutes"]:
        blow, wait = terms["blower_seconds"], terms["case_wait_minutes"]
        said.append(
            f"Blower on high for {blow:.0f} s, then off, and wait {wait:.0f} minutes or more before probing the case."
        )
    return said


def method_state(method):
    """The one state a method needs, or an empty word where several will do.

    Parameters
    ----------
    method : str
        One of METHODS.

    Returns
    -------
    str
        One of STATES, or "".

    Raises
    ------
    UnknownChoice
        When there is no such method.

    Notes
    -----
    None.

    Examples
    --------
    >>> method_state("tracer_gas"), method_state("bubbles")
    ('nitrogen', '')
    """
    needs = {
        "nitrogen_bubbles": "nitrogen",
        "tracer_gas": "nitrogen",
        "pressure_drop": "nitrogen",
        "vacuum_rise": "vacuum",
    }
    return needs.get(check_choice("method", method, METHODS), "")


def minutes_needed(look, place):
    """How long a look takes, the way in and any wait included.

    Parameters
    ----------
    look : Look
        The look.
    place : object
        The place: its access.

    Returns
    -------
    float
        Time [min].

    Raises
    ------
    UnknownChoice
        When the access is unknown.

    Notes
    -----
    Assumed, apart from the tip's speed and the evaporator's wait. A wait at the evaporator or at a gauge is counted in
    full: whoever plans a hunt may do something else meanwhile. Recovering, filling and evacuating for a nitrogen or
    vacuum test, and the days a dye needs, are not in it.

    Examples
    --------
    Thirteen minutes' wait at the evaporator is most of what that look costs:

    >>> from types import SimpleNamespace
    >>> core = SimpleNamespace(side="low", access="inside_case", oil_wetted=True)
    >>> 13.0 < minutes_needed(Look("electronic", wait_minutes=13.0), core) < 20.0
    True
    """
    way_in = _access(place)["reach_minutes"]
    if look.method in ("electronic", "tracer_gas"):
        terms = method_terms("electronic")
        path = terms["path_mm"] / tip_distance_and_speed(look.care)[1] / 60.0
        case = look.wait_minutes + terms["blower_seconds"] / 60.0 if place.access == "inside_case" else 0.0
        return way_in + path + case
    if look.method in ("bubbles", "nitrogen_bubbles"):
        terms = method_terms("bubbles")
        watched = by_care(look.care, terms["hurried_seconds"], terms["careful_seconds"])
        return way_in + terms["joint_minutes"] + watched / 60.0
    if look.method == "uv_dye":
        return way_in + method_terms("uv_dye")["joint_minutes"]
    return look.wait_minutes
