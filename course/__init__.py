"""The vehicle A/C diagnosis workbook: a simulator of a car's air conditioning, and the lessons that stand on it."""

__version__ = "0.1.0"
