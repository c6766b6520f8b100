"""A cycle of given pressures, superheat, subcooling and efficiency, sent through the workbook's own compressor and energy sums."""

from typing import NamedTuple

from course.physics.compressor import Pumping, pump
from course.physics.refrigerant import Fluid, Saturation
from course.physics.report import Energy, cycle_energy
from course.physics.system import Compressor

RPM = 1000.0  # at which a compressor of the workbook has no losses with speed


class PlainCycle(NamedTuple):
    """What comes out: compressor, energy [W], work, cooling effect [J/kg] and condenser heat [W]."""

    pumping: Pumping
    energy: Energy
    work: float
    cooling: float
    condenser_heat: float


def textbook_compressor(flow, density, efficiency):
    """A compressor without clearance, leak or shell loss, of one efficiency, sized for the flow [kg/s]."""
    return Compressor(
        displacement=flow / density * 60.0 / RPM,
        clearance=0.0,
        expansion_exponent=1.0,
        speed_loss_per_krpm=0.0,
        isentropic_efficiency=efficiency,
        isentropic_speed_loss_per_krpm=0.0,
        best_pressure_ratio=1.0,
        isentropic_ratio_loss=0.0,
        leakage=0.0,
        shell_loss=0.0,
        volume=0.0,
    )


def plain_cycle(
    refrigerant: str, suction: Fluid, high: Saturation, end_enthalpy: float, efficiency: float, flow: float
):
    """One cycle whose suction line and hoses do nothing: what leaves the evaporator enters the compressor."""
    compressor = textbook_compressor(flow, suction.density, efficiency)
    pumping = pump(compressor, refrigerant, suction, 0.0, high, RPM, 1.0)
    energy = cycle_energy(pumping.flow, end_enthalpy, suction, suction, pumping)
    return PlainCycle(
        pumping,
        energy,
        energy.power / pumping.flow,
        energy.capacity / pumping.flow,
        pumping.flow * (pumping.discharge_enthalpy - end_enthalpy),
    )
