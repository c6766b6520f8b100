"""What separates what: how often the trouble is named, bar by bar, from the two gauges to the weight on the scale."""

from course.charts.style import COLOURS, TEXT, plain_axes
from course.charts.words import rounded
from course.evidence.separating_power import ONE_MORE, READING_SETS, confused_pairs, result_for, trouble_name

HEIGHT = 400.0  # px
FRAME = (0.03, 0.2, 0.94, 0.72)  # left, bottom, width and height of the axes in the picture
BAR = 0.26  # of the room of one set of readings
ERRORS_SHOWN = 2.0  # sampling errors each way: 95 of 100 such studies would lie inside
CAUTION = (
    "This is the most that can be got out of the readings: the reasoner makes no mistake and its model of the car is "
    "right. The hatched bars let sound cars differ from one another; a model that is wrong is in neither. Eyes and ears "
    "are not among the readings: whether the clutch holds and the fan turns is seen at once."
)


def percent(share):
    """A share in whole per cent.

    Parameters
    ----------
    share : float
        Of one [-].

    Returns
    -------
    str
        The number without its sign.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The sampling error is more than one per cent, so digits after the point would be noise.

    Examples
    --------
    >>> percent(0.384)
    '38'
    """
    return rounded(100.0 * share)


def _bar(axes, place, result, pattern):
    """One bar with its sampling error and its number; told by filling or hatching, not by colour."""
    ink, paper = COLOURS["ink"][0], COLOURS["paper"][0]
    share, error = 100.0 * result.right_share, 100.0 * ERRORS_SHOWN * result.right_error_share
    filled = ink if pattern is None else paper
    artists = list(axes.barh(place, share, BAR, color=filled, edgecolor=ink, hatch=pattern, linewidth=1.0))
    # the whisker stands in the paper's colour inside the filled bar and in ink outside it
    artists += axes.plot([share, share + error], [place, place], color=ink, linewidth=1.6)
    if pattern is None:
        artists += axes.plot([max(share - error, 0.0), share], [place, place], color=paper, linewidth=1.6)
    at = share + error + 1.5
    artists.append(axes.text(at, place, f"{percent(result.right_share)} %", va="center", fontsize=TEXT, color=ink))
    return artists


def _frame(axes, rows):
    plain_axes(axes)
    axes.grid(False, axis="y")
    axes.set_xlim(0.0, 112.0)  # room for the number behind a bar that ends at a hundred
    axes.set_xticks(range(0, 101, 20))
    axes.set_ylim(rows - 0.45, -0.75)
    axes.set_yticks([])
    axes.set_axisbelow(True)


def draw_separating_power(axes, study, rates="equal", chosen=None):
    """How often the trouble is named from each set of readings.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    study : SeparatingPowerTable
        From course.tables.read_separating_power.
    rates : str
        How often each trouble is met: a name in course.evidence.separating_power.RATES.
    chosen : str or None
        The set of readings whose name is printed bold.

    Returns
    -------
    list
        The artists.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Filled: this very car is known. Hatched: sound cars differ from one another. Lines at the ends: two sampling errors.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.tables import read_separating_power
    >>> len(draw_separating_power(new_figure().add_subplot(), read_separating_power())) > 20
    True
    """
    _frame(axes, len(READING_SETS))
    artists = []
    for row, (key, (name, _)) in enumerate(READING_SETS.items()):
        weight = "bold" if key == chosen else "normal"
        artists.append(
            axes.text(1.0, row - 0.32, name, va="bottom", fontsize=TEXT, weight=weight, color=COLOURS["ink"][0])
        )
        artists += _bar(axes, row - 0.13, result_for(study, key, "exact", rates), None)
        artists += _bar(axes, row + 0.17, result_for(study, key, "car_to_car", rates), "////")
    axes.set_title("trouble named rightly, % of cars", loc="left", fontsize=TEXT, color=COLOURS["ink"][0])
    axes.set_xlabel("filled: this very car known to the model\nhatched: sound cars differ")
    return artists


def draw_one_more(axes, study):
    """What one reading beside the two gauges buys, the best first.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    study : SeparatingPowerTable
        From course.tables.read_separating_power.

    Returns
    -------
    list
        The artists.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Every trouble as likely as any other, this very car known. The upright line is the two gauges alone.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.tables import read_separating_power
    >>> len(draw_one_more(new_figure().add_subplot(), read_separating_power())) > 16
    True
    """
    _frame(axes, len(ONE_MORE))
    artists = []
    for row, one in enumerate(sorted(study.one_more, key=lambda one: -one.right_share)):
        name = ONE_MORE[one.readings][0]
        clear = {"facecolor": COLOURS["paper"][0], "edgecolor": "none", "pad": 0.5}  # of the dashed line behind it
        artists.append(axes.text(1.0, row - 0.2, name, va="bottom", fontsize=TEXT, color=COLOURS["ink"][0], bbox=clear))
        artists += _bar(axes, row + 0.05, one, None)
    alone = 100.0 * result_for(study, "gauges").right_share
    artists.append(axes.axvline(alone, color=COLOURS["ink"][0], linewidth=1.4, linestyle=(0, (4, 3)), zorder=2.5))
    axes.set_title("two gauges and one more reading, %", loc="left", fontsize=TEXT, color=COLOURS["ink"][0])
    axes.set_xlabel("dashed: the two gauges alone")
    return artists


def describe_separating_power(study, rates="equal"):
    """The picture in words.

    Parameters
    ----------
    study : SeparatingPowerTable
        From course.tables.read_separating_power.
    rates : str
        How often each trouble is met.

    Returns
    -------
    str
        Two sentences.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Rounded to whole per cent.

    Examples
    --------
    >>> from course.tables import read_separating_power
    >>> describe_separating_power(read_separating_power())[:63]
    'A reasoner that makes no mistakes names the trouble of 100 cars'
    """
    said = {}
    for model in ("exact", "car_to_car"):
        parts = [
            f"{percent(result_for(study, key, model, rates).right_share)} from {name}"
            if row == 0
            else f"{percent(result_for(study, key, model, rates).right_share)} with {name.removeprefix('+ ')} as well"
            for row, (key, (name, _)) in enumerate(READING_SETS.items())
        ]
        said[model] = ", ".join(parts)
    return (
        f"A reasoner that makes no mistakes names the trouble of 100 cars rightly in {said['exact']}. "
        f"Where sound cars differ from one another: {said['car_to_car']}."
    )


def describe_one_more(study):
    """What one more reading buys, in words.

    Parameters
    ----------
    study : SeparatingPowerTable
        From course.tables.read_separating_power.

    Returns
    -------
    str
        One sentence.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The best first.

    Examples
    --------
    >>> from course.tables import read_separating_power
    >>> describe_one_more(read_separating_power()).startswith("Beside the two gauges")
    True
    """
    ordered = sorted(study.one_more, key=lambda one: -one.right_share)
    alone = percent(result_for(study, "gauges").right_share)
    said = ", ".join(f"{ONE_MORE[one.readings][0]} {percent(one.right_share)}" for one in ordered)
    return f"Beside the two gauges ({alone} of 100 named rightly) one more reading brings it to: {said}."


def describe_confusion(study, result, most=3):
    """Which troubles are taken for one another, in words.

    Parameters
    ----------
    study : SeparatingPowerTable
        The study.
    result : StudyResultTable
        One of its summaries.
    most : int
        How many pairs.

    Returns
    -------
    str
        One sentence.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    See course.evidence.separating_power.confused_pairs.

    Examples
    --------
    >>> from course.tables import read_separating_power
    >>> study = read_separating_power()
    >>> "taken for one another" in describe_confusion(study, result_for(study, "gauges"))
    True
    """
    pairs = [
        f"{trouble_name(one).lower()} and {trouble_name(other).lower()} ({percent(share)} %)"
        for one, other, share in confused_pairs(study, result, most)
    ]
    return f"Most often taken for one another: {'; '.join(pairs)}; at 50 % nothing tells two apart."
