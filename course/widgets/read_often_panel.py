"""One car read by many, each with instruments of their own: what a single reading is worth."""

from dataclasses import replace

from course.charts.read_often import describe_read_often, draw_read_often
from course.charts.style import WIDTH, new_figure, svg_of
from course.charts.words import degrees
from course.physics.bench import run_bench
from course.physics.car_file import load_system
from course.physics.readings import Instruments, take_readings
from course.widgets.controls import NumberControl
from course.widgets.service_panel import ServicePanel, answered, choice, units_choice

HEIGHT = 420.0
MOST_READERS = 20
CARE = {"usual": 1.0, "twice as far off": 2.0, "half as far off": 0.5}  # times the errors assumed for each instrument


def instruments(times):
    """The usual instruments with their errors so many times as large."""
    usual = Instruments()
    return replace(usual, **{name: times * error for name, error in vars(usual).items()})


class ReadOftenPanel(ServicePanel):
    """A sound car and the same car with less charge, read by several people; the dots are what they wrote down."""

    def __init__(self, car="sedan", charge_percent=60, readers=1, ambient_c=35.0):
        self.key, self.ambient_c = car, ambient_c
        self.charge = NumberControl("charge_percent", "Charge", "% of label", 20, 140, 1, 100)
        self.readers = NumberControl("readers", "Readers", "people", 1, MOST_READERS, 1, 1)
        self.charge.value, self.readers.value = charge_percent, readers
        self.care = choice("Instruments", list(CARE.items()))
        self.units = units_choice()
        self.car = None
        super().__init__(self.charge, self.readers, self.care, self.units)

    def compute(self):
        """Run both cars and let everybody read them; the same person always misreads alike."""
        sound = run_bench(self.key, ambient_c=self.ambient_c)
        self.car = run_bench(
            self.key, ambient_c=self.ambient_c, charge_fraction=self.charge.value / 100.0, previous=self.car
        )
        used, people = instruments(self.care.value), range(int(self.readers.value))
        self.of_sound = [take_readings(sound, used, seed=person) for person in people]
        # other people, with instruments of their own, read the other car
        self.of_car = [take_readings(self.car, used, seed=MOST_READERS + person) for person in people]

    def sentence(self):
        """The car, the day and what was read."""
        day = f"{load_system(self.key).name}, {degrees(self.ambient_c, self.shown_units)} outside"
        return (
            f"{day}, at 100 % and at {self.charge.value:.0f} % charge. "
            f"{describe_read_often(self.of_sound, self.of_car, self.shown_units)}"
        )

    def message(self):
        """The same, and how to read the dots."""
        return answered(
            self.sentence(), "Rings: the sound car. Filled dots: this car. Each dot is one person's reading."
        )

    def pictures(self):
        """The rows of dots."""
        figure = new_figure(WIDTH, HEIGHT)
        draw_read_often(figure, self.of_sound, self.of_car, self.shown_units)
        return f"<div>{svg_of(figure, describe_read_often(self.of_sound, self.of_car, self.shown_units))}</div>"


def show_read_often(**start):
    """A sound car and a short one, read by several people with instruments of their own."""
    return ReadOftenPanel(**start)
