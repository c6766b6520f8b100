"""Where refrigerant sits: zone by zone against hand-worked masses and against integrals of the published void fraction."""

import math

import pytest
from scipy.integrate import quad

from course.physics.car_file import load_system
from course.physics.charge_inventory import condenser_mass, evaporator_mass, mean_two_phase_density, storage_mass
from course.physics.circuit import buffer
from course.physics.condenser import Pass
from course.physics.evaporator import CoilRun
from course.physics.refrigerant import Saturation, saturation_at_temperature
from course.physics.system import Evaporator, Storage

# an invented fluid with round numbers, for sums by hand: 1000 kg/m3 liquid, 1 kg/m3 vapour, 200 kJ/kg to boil
ROUND = Saturation(1e5, 300.0, 100e3, 300e3, 1000.0, 1.0, 1000.0)
EVEN = Saturation(1e5, 300.0, 100e3, 300e3, 1000.0, 125.0, 1000.0)  # slip (1/8)^(1/3) = 1/2


def zivi(saturated, quality):
    """Void fraction: 1 / (1 + (1 - x)/x (rho_g/rho_l)^(2/3)), Zivi, J. Heat Transfer 86 (1964) 247, as quoted in textbooks."""
    if quality == 0.0:
        return 0.0
    ratio = (saturated.vapour_density / saturated.liquid_density) ** (2.0 / 3.0)
    return 1.0 / (1.0 + (1.0 - quality) / quality * ratio)


def mean_by_integral(saturated, start, end):
    """Mean density between two qualities, the void fraction integrated by a library."""
    area, _ = quad(lambda x: zivi(saturated, x), start, end, epsabs=0.0, epsrel=1e-11, limit=200)
    void = area / (end - start)
    return void * saturated.vapour_density + (1.0 - void) * saturated.liquid_density


def test_half_vapour_by_hand():
    """Density ratio 1000: slip factor 1/100, void 1/1.01 = 0.990099, density 0.990099 + 9.90099 = 10.8911 kg/m3."""
    assert mean_two_phase_density(ROUND, 0.5, 0.5) == pytest.approx(10.891089, rel=1e-7)


@pytest.mark.parametrize("quality", [0.0, 0.1, 0.3, 0.9, 1.0])
def test_at_one_quality_it_is_the_void_fraction_itself(quality):
    void = zivi(EVEN, quality)
    by_hand = void * 125.0 + (1.0 - void) * 1000.0
    assert mean_two_phase_density(EVEN, quality, quality) == pytest.approx(by_hand, rel=1e-12)


@pytest.mark.parametrize("refrigerant", ["R134a", "R1234yf"])
@pytest.mark.parametrize("temperature", [263.15, 278.15, 323.15, 343.15])
@pytest.mark.parametrize("start, end", [(1.0, 0.0), (0.0, 1.0), (0.25, 1.0), (0.98, 0.35), (0.4, 0.41)])
def test_the_mean_is_the_integral_of_the_void_fraction(refrigerant, temperature, start, end):
    saturated = saturation_at_temperature(refrigerant, temperature)
    mean = mean_two_phase_density(saturated, start, end)
    assert mean == pytest.approx(mean_by_integral(saturated, start, end), rel=1e-9)


def test_nothing_jumps_where_the_two_ends_nearly_meet():
    """Just above the least span the logarithm is taken, just below the middle; both give the same to 8 figures."""
    above = mean_two_phase_density(EVEN, 0.3 - 0.6e-6, 0.3 + 0.6e-6)
    below = mean_two_phase_density(EVEN, 0.3 - 0.4e-6, 0.3 + 0.4e-6)
    assert above == pytest.approx(below, rel=1e-8)


def part(**given):
    """A part of a condenser; what is not given is a core full of nothing."""
    zones = {"vapour_area": 0.0, "condensing_area": 0.0, "liquid_area": 0.0} | given
    usual = {
        "enthalpy": 0.0,
        "temperature": 300.0,
        "quality": 0.0,
        "liquid_heat_capacity": 1400.0,
        "quality_in": 1.0,
        "heat": 0.0,
        "liquid_density": 1000.0,
        "vapour_span": 0.0,
    }
    return Pass(**(usual | zones))


def test_a_condenser_by_hand():
    """2 litres: 0.2 vapour from 80 to 125 kg/m3, 0.5 condensing, 0.3 liquid from 1000 to 1100 kg/m3.

    A span of ln 4 gives the vapour a weight of 1/ln 4 - 1/3 = 0.388014, so 125 - 45 x 0.388014 = 107.5394 kg/m3 in 0.4 l:
    43.0157 g. Void from vapour to liquid with a slip factor of 1/4: 4/3 - 4/9 ln 4 = 0.717202, so 372.4478 kg/m3 in 1 l:
    372.4478 g. Liquid of 1050 kg/m3 in 0.6 l: 630 g.
    """
    core = part(
        vapour_area=0.2,
        condensing_area=0.5,
        liquid_area=0.3,
        quality=-0.1,
        liquid_density=1100.0,
        vapour_span=math.log(4.0),
    )
    assert condenser_mass(2e-3, EVEN, [core], 80.0) == pytest.approx(1.0454638, rel=1e-6)
    # two such cores of half the size each hold the same, but each its own
    assert condenser_mass(1e-3, EVEN, [core, core], 80.0) == pytest.approx(1.0454638, rel=1e-6)


@pytest.mark.parametrize("span", [0.02, 0.7, 3.0, 30.0])
def test_the_vapour_zone_is_the_mean_of_an_exponential(span):
    """Density runs as a + b exp(-span z) from 60 kg/m3 at the inlet to 125 kg/m3 where condensing begins."""
    slope = (60.0 - 125.0) / -math.expm1(-span)
    mean, _ = quad(lambda z: 60.0 - slope + slope * math.exp(-span * z), 0.0, 1.0)
    core = part(vapour_area=1.0, liquid_area=1e-12, vapour_span=span)
    assert condenser_mass(1.0, EVEN, [core], 60.0) == pytest.approx(mean, rel=1e-7)


def test_a_vapour_zone_hardly_cooled_is_the_mean_of_its_ends():
    core = part(vapour_area=1.0, condensing_area=1e-15, vapour_span=1e-6)
    assert condenser_mass(1.0, EVEN, [core], 75.0) == pytest.approx(100.0, rel=1e-6)


def test_gas_that_leaves_hot_is_lighter_by_its_temperature():
    """Ideal gas from saturation: 125 kg/m3 at 300 K is 100 kg/m3 at 375 K; halfway to 60 kg/m3 at the inlet is 80."""
    hot = part(vapour_area=1.0, temperature=375.0, quality=1.3)
    assert condenser_mass(1.0, EVEN, [hot], 60.0) == pytest.approx(80.0)
    # gas cannot be denser than saturated, whatever a trial says of its temperature
    cold = part(vapour_area=1.0, temperature=290.0, quality=1.0)
    assert condenser_mass(1.0, EVEN, [cold], 125.0) == pytest.approx(125.0)
    # where it goes on to condense, or to cool as liquid, it was saturated on the way
    for zone in ("condensing_area", "liquid_area"):
        onward = part(vapour_area=1.0, temperature=375.0, **{zone: 1e-15})
        assert condenser_mass(1.0, EVEN, [onward], 125.0) == pytest.approx(125.0)


def test_condensing_starts_and_ends_inside_the_dome():
    """Qualities below 0 and above 1 count as all liquid and all vapour."""
    beyond = part(condensing_area=1.0, quality_in=1.2, quality=-0.3)
    inside = part(condensing_area=1.0, quality_in=1.0, quality=0.0)
    assert condenser_mass(1.0, EVEN, [beyond], 60.0) == condenser_mass(1.0, EVEN, [inside], 60.0)
    assert condenser_mass(1.0, EVEN, [inside], 60.0) == pytest.approx(mean_by_integral(EVEN, 1.0, 0.0))
    wrong_way = part(condensing_area=1.0, quality_in=-0.2, quality=1.4)
    assert condenser_mass(1.0, EVEN, [wrong_way], 60.0) == pytest.approx(mean_by_integral(EVEN, 0.0, 1.0))
    partly = part(condensing_area=1.0, quality_in=0.8, quality=0.3)
    assert condenser_mass(1.0, EVEN, [partly], 60.0) == pytest.approx(mean_by_integral(EVEN, 0.8, 0.3))


@pytest.mark.parametrize("zone, density", [("vapour_area", 125.0), ("liquid_area", 1000.0)])
def test_a_zone_holds_in_proportion_to_its_area(zone, density):
    for area in (1e-3, 0.5, 1.0):
        core = part(**{zone: area})
        assert condenser_mass(3e-3, EVEN, [core], 125.0) == pytest.approx(3e-3 * area * density)


def evaporator(factor=1.0, volume=1e-3):
    return Evaporator(100.0, 100.0, 100.0, 0.1, 0.5, volume, factor)


def coil(enthalpy, boiling):
    return CoilRun(enthalpy, boiling, 1.0, 0.0, 1.0)


def test_an_evaporator_by_hand():
    """From a quarter vapour (150 kJ/kg) to all vapour (300 kJ/kg) in 0.8 of a litre, the rest saturated vapour.

    Slip factor 1/4, rest 3/4: void 4/3 - (1/4)/(9/16 x 3/4) ln(1/0.4375) = 0.843449, density 261.9815 kg/m3; factor 1.5:
    392.972; the cap (1 + 0.392972^4)^(1/4) takes it to 390.664; 0.8 x 390.664 + 0.2 x 125 = 337.531 g.
    """
    mass = evaporator_mass(evaporator(1.5), EVEN, coil(300e3, 0.8), 150e3)
    assert mass == pytest.approx(0.337531, rel=3e-6)


def test_a_light_mixture_is_not_capped():
    """Far from liquid's density the factor counts in full: 10.891 x 2 of 1000 kg/m3, cap within 1e-7."""
    mass = evaporator_mass(evaporator(2.0), ROUND, coil(200e3, 1.0), 200e3)
    assert mass == pytest.approx(2.0 * 10.891089e-3, rel=1e-6)


def test_an_evaporator_never_holds_more_than_liquid():
    for factor in (1.0, 10.0, 1e3, 1e6):
        held = evaporator_mass(evaporator(factor), EVEN, coil(150e3, 1.0), 100e3)
        assert held <= 1e-3 * EVEN.liquid_density
    assert held == pytest.approx(1e-3 * EVEN.liquid_density, rel=1e-9)
    # at the density of liquid itself the rounding leaves 2^(-1/4) of it
    assert evaporator_mass(evaporator(1.0), EVEN, coil(100e3, 1.0), 100e3) == pytest.approx(0.840896, rel=1e-6)


@pytest.mark.parametrize(
    "boiling, enthalpy_in, enthalpy_out, as_if",
    [
        (1.3, 150e3, 300e3, (1.0, 150e3, 300e3)),  # more core than there is: all of it boils
        (-0.2, 150e3, 300e3, (0.0, 150e3, 300e3)),  # vapour comes in: none boils
        (0.7, 80e3, 300e3, (0.7, 100e3, 300e3)),  # liquid comes in
        (0.7, 330e3, 300e3, (0.7, 300e3, 300e3)),  # vapour comes in
        (0.7, 150e3, 320e3, (0.7, 150e3, 300e3)),  # superheated out
        (0.7, 150e3, 90e3, (0.7, 150e3, 100e3)),  # a trial that leaves as liquid
    ],
)
def test_trials_beyond_the_core_and_the_dome_count_as_its_ends(boiling, enthalpy_in, enthalpy_out, as_if):
    mass = evaporator_mass(evaporator(1.5), EVEN, coil(enthalpy_out, boiling), enthalpy_in)
    boiling, enthalpy_in, enthalpy_out = as_if
    assert mass == evaporator_mass(evaporator(1.5), EVEN, coil(enthalpy_out, boiling), enthalpy_in)


def test_a_dry_core_holds_saturated_vapour():
    assert evaporator_mass(evaporator(1.5, 2e-3), EVEN, coil(300e3, 0.0), 150e3) == pytest.approx(0.25)


@pytest.mark.parametrize(
    "level, mass, reserve",
    [
        (0.0, 0.05, 0.0),  # 0.4 l x 125 kg/m3
        (0.5, 0.05 + 0.16 * 0.875, 0.16),  # 0.16 l of liquid in place of vapour
        (1.0, 0.05 + 0.32 * 0.875, 0.32),  # 0.8 of 0.4 l is usable
    ],
)
def test_a_vessel_by_hand(level, mass, reserve):
    vessel = Storage("receiver", 0.4e-3, 0.8)
    assert storage_mass(vessel, 1000.0, level, 125.0) == pytest.approx((mass, reserve))


def test_a_vessel_runs_empty_and_full_over_a_fiftieth_of_its_level():
    """At the very edge the rounding leaves 0.02 ln 2 = 1.386 % of the level; five widths inside, less than a hundredth of it."""
    for edge, way in ((0.0, 1.0), (1.0, -1.0)):
        level, shortage, excess = buffer(edge)
        assert way * (level - edge) == pytest.approx(0.01386294, rel=1e-6)
        assert max(shortage, excess) == pytest.approx(0.01386294, rel=1e-6)
        assert buffer(edge + way * 0.1)[0] == pytest.approx(edge + way * 0.1, abs=1.4e-4)


@pytest.mark.parametrize("name", ["pickup", "sedan", "compact"])
def test_a_full_car_can_hold_its_label_charge(name):
    """Vessel full, condenser and evaporator as on a usual day: more than the label; all vapour: far less."""
    car = load_system(name)
    warm, cold = (saturation_at_temperature(car.refrigerant, kelvin) for kelvin in (323.15, 278.15))
    full = storage_mass(car.storage, warm.liquid_density, 1.0, warm.vapour_density)[0]
    full += car.condenser.volume * mean_two_phase_density(warm, 1.0, 0.0)
    full += evaporator_mass(car.evaporator, cold, coil(cold.vapour_enthalpy, 1.0), 0.8 * cold.liquid_enthalpy)
    full += car.liquid_line.volume * warm.liquid_density
    assert full > car.label_charge
    assert car.volume * cold.vapour_density < 0.1 * car.label_charge
