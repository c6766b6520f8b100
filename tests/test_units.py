"""Conversions against the factors of NIST SP 811 (2008), the trade's own arithmetic and the standard atmosphere."""

import pytest

from course import units


@pytest.mark.parametrize(
    ("ours", "printed", "within"),
    [
        (units.PA_PER_PSI, 6894.757, 1e-6),
        (units.PA_PER_BAR, 1e5, 1e-12),
        (units.PA_PER_MBAR, 1e2, 1e-12),
        (units.PA_PER_INHG, 3386.389, 1e-6),
        (units.PA_PER_MICRON, 0.1333224, 1e-6),
        (units.ML_PER_FL_OZ, 29.57353, 1e-6),
        (units.M3_S_PER_CFM, 4.719474e-4, 1e-6),
        (units.M_PER_INCH, 0.0254, 1e-12),
        (units.G_PER_OUNCE, 28.34952, 1e-6),
    ],
)
def test_factors_of_nist_sp_811(ours, printed, within):
    assert ours == pytest.approx(printed, rel=within)


def test_one_atmosphere_in_the_units_of_the_trade():
    """1 atm is 14.696 psi, 29.92 inHg and 760,000 micron; 1 inHg is 25,400 micron; 500 micron are 0.667 mbar."""
    air = units.STANDARD_ATMOSPHERE_PA
    assert air / units.PA_PER_PSI == pytest.approx(14.696, abs=5e-4)
    assert air / units.PA_PER_INHG == pytest.approx(29.92, abs=5e-3)
    assert air / units.PA_PER_MICRON == pytest.approx(760000)
    assert pytest.approx(25400, rel=1e-4) == units.PA_PER_INHG / units.PA_PER_MICRON
    assert pytest.approx(0.667, abs=5e-4) == 500 * units.PA_PER_MICRON / units.PA_PER_MBAR


@pytest.mark.parametrize(
    ("metres", "kpa"), [(0, 101.325), (500, 95.46), (1000, 89.88), (1500, 84.56), (2000, 79.50), (3000, 70.11)]
)
def test_standard_atmosphere(metres, kpa):
    """ISO 2533:1975 (ISA), pressure against geopotential altitude; 3,000 m on a map (geometric) have 70.12."""
    assert units.atmospheric_pressure_pa(metres) / 1e3 == pytest.approx(kpa, abs=0.01)


@pytest.mark.parametrize(("feet", "inhg"), [(1000, 28.86), (5000, 24.90)])
def test_what_a_perfect_vacuum_reads_at_altitude(feet, inhg):
    """ISA in the units of a dial: 28.86 inHg at 1,000 ft, 24.90 at 5,000 ft."""
    metres = feet * 12 * units.M_PER_INCH
    assert units.atmospheric_pressure_pa(metres) / units.PA_PER_INHG == pytest.approx(inhg, abs=0.01)
