"""A charge by weight against the label: what the scale lost, what stayed in the hose, what is in the car, and the doubt."""

from course.charts.style import COLOURS, TEXT, plain_axes

EITHER_SIDE_G = 120.0  # g of the label on each side that the chart always shows
ROWS = ("in the car", "off the scale")


def draw_charge_weight(axes, check, hose_g):
    """The charge between the label's limits, with its doubt.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    check : ChargeCheck
        From course.service.charging.
    hose_g : float
        What was taken off for the hose [g].

    Returns
    -------
    list
        The artists.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Hatched: the label with its tolerance. Ring: what left the cylinder. Dot: what is in the car, the bar two errors
    either way. A charge far from the label lies outside the frame, and the words name it.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.service.charging import check_charge
    >>> check = check_charge(9000.0, 8350.0, 600.0, hose_g=52.0)
    >>> len(draw_charge_weight(new_figure().add_subplot(), check, 52.0))
    4
    """
    ink, faint = COLOURS["ink"][0], COLOURS["faint"][0]
    plain_axes(axes)
    low, high = check.label_g - EITHER_SIDE_G, check.label_g + EITHER_SIDE_G
    band = (check.label_g - check.tolerance_g, check.label_g + check.tolerance_g)
    artists = [axes.axvspan(*band, facecolor="none", edgecolor=faint, hatch="///", linewidth=1.2)]
    artists.append(axes.axvline(check.label_g, color=faint, linewidth=1.4, linestyle=(0, (4, 2))))
    taken = check.charged_g + hose_g
    artists += axes.plot([taken], [1.0], "o", markersize=9.0, markerfacecolor="none", color=ink, markeredgewidth=2.0)
    style = {"fmt": "o", "markersize": 9.0, "color": ink, "elinewidth": 2.4, "capsize": 5.0, "capthick": 2.4}
    artists.append(axes.errorbar([check.charged_g], [0.0], xerr=2.0 * check.error_g, **style))
    axes.set_xlim(low, high)
    axes.set_ylim(-0.6, 1.6)
    axes.set_yticks((0.0, 1.0), ROWS)
    axes.set_xticks([check.label_g + step for step in (-100.0, 0.0, 100.0)])
    axes.set_xlabel("g (hatched: the label)")
    axes.set_title(f"label {check.label_g:.0f} g", loc="left", fontsize=TEXT, color=ink)
    return artists


def describe_charge_weight(check, hose_g):
    """The charge in one sentence.

    Parameters
    ----------
    check : ChargeCheck
        From course.service.charging.
    hose_g : float
        What was taken off for the hose [g].

    Returns
    -------
    str
        The sentence.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The verdict with its reason.

    Examples
    --------
    >>> from course.service.charging import check_charge
    >>> print(describe_charge_weight(check_charge(9000.0, 8350.0, 600.0, hose_g=52.0), 52.0)[:67])
    650 g left the cylinder, 52 g of it for the hose: 598 g in the car.
    """
    return (
        f"{check.charged_g + hose_g:.0f} g left the cylinder, {hose_g:.0f} g of it for the hose: {check.charged_g:.0f} g in the "
        f"car. {check.verdict[0].upper()}{check.verdict[1:]}: {check.reason}"
    )
