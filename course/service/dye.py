"""UV dye: how much for how much oil, how soon it shows, what too much does, and what glows besides."""

from dataclasses import dataclass

from course.errors import check_range
from course.tables import read_dye
from course.units import DAYS_PER_YEAR

MOST_OIL_ML = 600.0  # mL: more than any car's system total (120-350); the workbook's own limit


@dataclass(frozen=True)
class DyeDose:
    """How much dye to put in, and why no more."""

    dose_ml: float  # mL to add, 0 when none may be added
    dose_fl_oz: float  # US fl oz
    share_after: float  # -, dye in the oil once it is in
    limited_by: str  # "oil", "cap", "label" or "dye already in"
    sentence: str


def _dose_terms():
    return {key: quantity.value for key, quantity in read_dye().dose.items()}


def oil_out_mg(leak_g_per_year, days):
    """Oil that a leak has brought to the outside.

    Parameters
    ----------
    leak_g_per_year : float
        Leak, 0 to 1,000,000 [g/yr].
    days : float
        Days of it [days].

    Returns
    -------
    float
        Oil [mg].

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    4 % of what leaks (from memory; circuits carried 0.5-4.7 % in published tests). A leak of pure vapour at the top of
    a still pipe carries less; that is not modelled.

    Examples
    --------
    40 g/yr bring out about 4 mg a day:

    >>> round(oil_out_mg(40.0, 1.0), 1)
    4.4
    """
    leak = check_range("leak", leak_g_per_year, 0.0, 1e6, "g/yr", "a faster leak needs no dye")
    days = check_range("days", days, 0.0, 3650.0, "days", "count from the day the dye went in")
    return leak * 1000.0 / DAYS_PER_YEAR * days * read_dye().visible["oil_in_leak_share"].value
