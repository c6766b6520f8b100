"""The cautions of a service step: what can hurt, what the law asks, and who has the last word."""

from course.errors import check_choice
from course.tables import read_cautions

STEPS = ("recovery", "evacuation", "pressure_test", "charging", "oil", "job")
REGIONS = ("United States", "European Union", "everywhere")


def cautions_for(step, region="everywhere"):
    """The cautions that belong to a step, as sentences to print beside it.

    Parameters
    ----------
    step : str
        One of STEPS.
    region : str
        One of REGIONS; law of other regions is left out, what holds everywhere never is.

    Returns
    -------
    tuple of str
        Sentences, each with its date, its source and to whom it defers.

    Raises
    ------
    UnknownChoice
        When the step or region is not among the choices.

    Notes
    -----
    data/service/cautions.toml. They are reminders as of their dates, not law and not a training: local codes and a
    licensed person go first.

    Examples
    --------
    >>> any("a regulator rated for that cylinder" in one for one in cautions_for("pressure_test"))
    True
    """
    check_choice("service step", step, STEPS)
    check_choice("region", region, REGIONS)
    return tuple(
        f"{one.text} ({one.region}, as of {one.as_of}; {one.source}.) First comes: {one.defers_to}."
        for one in read_cautions().values()
        if step in one.steps and one.region in (region, "everywhere")
    )
