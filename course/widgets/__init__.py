"""Panels for the notebooks; the only place of ipywidgets. Importing a panel function here keeps lesson cells to one line."""

from course.widgets.air_panel import AirPanel, show_air
from course.widgets.bench_panel import BenchPanel, show_bench
from course.widgets.bottle_panel import BottlePanel, show_bottle
from course.widgets.charge_curve_panel import ChargeCurvePanel, show_charge_curve
from course.widgets.charging_panels import ChargingPanel, SameGaugesPanel, show_charging, show_same_gauges
from course.widgets.competency_panel import CompetencyPanel, show_competencies
from course.widgets.evacuation_panel import EvacuationPanel, show_evacuation
from course.widgets.evidence_panel import DirectionPanel, PrintedReadingsPanel, show_directions, show_printed_readings
from course.widgets.hold_panels import HoldPanel, RisePanel, show_nitrogen_hold, show_rise_test
from course.widgets.hunt_panel import HuntPanel, show_hunt
from course.widgets.index_panel import IndexPanel, show_index
from course.widgets.job_panel import JobPanel, show_job_sheet
from course.widgets.leak_rate_panel import LeakByStatePanel, LeakHistoryPanel, show_leak_by_state, show_leak_history
from course.widgets.lessons_panel import LessonsPanel, show_lessons
from course.widgets.look_alike_panel import LookAlikePanel, show_look_alikes
from course.widgets.next_reading_panel import NextReadingPanel, show_next_reading
from course.widgets.oil_panel import OilPanel, show_oil_form
from course.widgets.placement_panel import PlacementPanel, show_placement
from course.widgets.predict import ask
from course.widgets.question_file_panel import QuestionFilePanel, show_question_file
from course.widgets.question_panel import QuestionPanel, QuestionSection, ask_questions
from course.widgets.quick_reference import ReferencePanel, show_reference
from course.widgets.read_often_panel import ReadOftenPanel, show_read_often
from course.widgets.record_panel import RecordPanel, ReviewPanel, show_record, show_review
from course.widgets.recovery_panel import RecoveryPanel, show_recovery
from course.widgets.separating_power_panel import SeparatingPowerPanel, show_separating_power
from course.widgets.side_by_side_panel import SideBySidePanel, show_side_by_side
from course.widgets.three_cars_panel import ThreeCarsPanel, show_three_cars
from course.widgets.walk_panel import WalkPanel, show_walk

__all__ = [
    "AirPanel",
    "BenchPanel",
    "BottlePanel",
    "ChargeCurvePanel",
    "ChargingPanel",
    "CompetencyPanel",
    "DirectionPanel",
    "EvacuationPanel",
    "HoldPanel",
    "HuntPanel",
    "IndexPanel",
    "JobPanel",
    "LeakByStatePanel",
    "LeakHistoryPanel",
    "NextReadingPanel",
    "LessonsPanel",
    "LookAlikePanel",
    "OilPanel",
    "PlacementPanel",
    "PrintedReadingsPanel",
    "QuestionFilePanel",
    "QuestionPanel",
    "QuestionSection",
    "ReadOftenPanel",
    "RecordPanel",
    "RecoveryPanel",
    "ReviewPanel",
    "ReferencePanel",
    "RisePanel",
    "SameGaugesPanel",
    "SeparatingPowerPanel",
    "SideBySidePanel",
    "ThreeCarsPanel",
    "WalkPanel",
    "ask",
    "ask_questions",
    "show_air",
    "show_bench",
    "show_bottle",
    "show_charge_curve",
    "show_charging",
    "show_competencies",
    "show_directions",
    "show_evacuation",
    "show_hunt",
    "show_index",
    "show_job_sheet",
    "show_leak_by_state",
    "show_leak_history",
    "show_next_reading",
    "show_nitrogen_hold",
    "show_lessons",
    "show_look_alikes",
    "show_oil_form",
    "show_placement",
    "show_printed_readings",
    "show_question_file",
    "show_read_often",
    "show_record",
    "show_recovery",
    "show_review",
    "show_reference",
    "show_rise_test",
    "show_same_gauges",
    "show_separating_power",
    "show_side_by_side",
    "show_three_cars",
    "show_walk",
]
