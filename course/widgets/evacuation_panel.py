"""The evacuation bench: pump, hose, cores, ports and water in; pressure and what is left of the water out."""

from course.charts.pump_down import describe_pump_down, draw_pump_down, micron
from course.charts.style import new_figure, svg_of
from course.charts.words import degrees
from course.service.evacuation import pump_down, usual_circuit
from course.service.rise_case import deep_vacuum_pa, wet_place_w_k
from course.service.vacuum_flow import load_pump, load_tube, speed_at_the_car_m3_s
from course.units import M3_PER_L
from course.widgets.service_panel import ServicePanel, answered, choice, units_choice

PUMPS = (
    ("Small, fresh oil", "pump_small"),
    ("Large, fresh oil", "pump_large"),
    ("Small, wet old oil", "pump_old_oil"),
)
HOSES = (("Thin, 3/16 inch", "hose_thin"), ("Usual, 1/4 inch", "hose_usual"), ("Wide, 3/8 inch", "hose_wide"))
CORES = (("In", "port_with_core"), ("Out", "port_without_core"))
PORTS = (("One", 1), ("Both", 2))
WATER = (("None", 0.0), ("1 g", 1.0), ("3 g", 3.0), ("10 g", 10.0))
PLACES = (("On a warm pipe", "warm_pipe"), ("Half-way in", "usual"), ("Deep in the accumulator", "deep"))
TIMES = tuple((f"{minutes} min", float(minutes)) for minutes in (10, 30, 60, 120, 240))


class EvacuationPanel(ServicePanel):
    """One pump-down; the one before the last change stays in the picture, dashed."""

    def __init__(self, pump="pump_small", hose="hose_thin", water_g=0.0, minutes=30.0):
        self.pump, self.hose = choice("Pump", PUMPS, pump), choice("Hose", HOSES, hose)
        self.cores, self.ports = choice("Valve cores", CORES), choice("Ports", PORTS)
        self.water = choice("Water inside", WATER, water_g)
        self.place = choice("The water is", PLACES, "usual")
        self.minutes = choice("Pump runs", TIMES, minutes)
        self.curve = self.earlier = None
        self.units = units_choice()
        setting = (self.pump, self.hose, self.cores, self.ports, self.water, self.place, self.minutes)
        super().__init__(*setting, self.units)

    def _tubes(self):
        return [load_tube(self.hose.value), load_tube(self.cores.value)]

    def compute(self):
        """Run the pump with the settings as they are."""
        circuit = usual_circuit(water_g=self.water.value, heat_w_k=wet_place_w_k(self.place.value))
        pump, ways = load_pump(self.pump.value), self.ports.value
        curve = pump_down(circuit, pump, self._tubes(), self.minutes.value, ways)
        self.speed_l_min = speed_at_the_car_m3_s(pump, self._tubes(), deep_vacuum_pa(), ways) * 60.0 / M3_PER_L
        self.pump_l_min = pump.speed_m3_s * 60.0 / M3_PER_L
        if curve != self.curve:  # other units are not another run
            self.curve, self.earlier = curve, self.curve

    def speed_sentence(self):
        """What hose, core and port leave of the pump."""
        return f"At {micron(deep_vacuum_pa())} the pump's {self.pump_l_min:.0f} L/min are {self.speed_l_min:.1f} L/min at the car."

    def sentence(self):
        """The pump-down in words."""
        warm = degrees(self.curve.circuit.temperature_c, self.shown_units)
        wet = f"{self.water.label} of water; " if self.water.value else "no water; "
        return (
            f"Pump: {self.pump.label.lower()}; hose: {self.hose.label.lower()}; cores {self.cores.label.lower()}; "
            f"{self.ports.label.lower()} port{'s' * (self.ports.value > 1)}; {wet}shop at {warm}. "
            f"{describe_pump_down(self.curve, self.shown_units)} {self.speed_sentence()}"
        )

    def message(self):
        """The same, short."""
        return answered(describe_pump_down(self.curve, self.shown_units), self.speed_sentence())

    def pictures(self):
        """Pressure and water against time."""
        figure = new_figure(340.0, 300.0)
        draw_pump_down(figure, self.curve, self.earlier)
        return svg_of(figure, self.sentence())


def show_evacuation(**start):
    """The evacuation bench with a lesson's start values."""
    return EvacuationPanel(**start)
