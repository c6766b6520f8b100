"""The competency map: what a technician is asked to be able to do, which lessons serve it, and what none serves."""

from dataclasses import dataclass

from course.errors import check_choice
from course.tables import read_competencies

WAYS = ("taught", "practised", "checked")
SEEN = ("read", "second-hand")  # marks with which an entry's own number may be printed


@dataclass(frozen=True)
class Competency:
    """One competency, ready to be read."""

    id: str
    says: str
    asked_by: tuple  # of str: the list and, where that entry was seen, which one
    lessons: dict  # lesson id -> tuple of ways, out of WAYS
    missing: str  # what no lesson serves; empty where nothing is known to be missing


def _asked(lists, one):
    name = lists[check_choice("list of competencies", one.list, lists)].short
    if one.mark in SEEN:
        return f"{name}: {one.entry} ({one.mark})"
    return f"{name} ({one.mark})"


def competency_map():
    """Every competency with who asks for it and how lessons serve it.

    Returns
    -------
    tuple of Competency
        In the order of data/competencies.toml.

    Raises
    ------
    BadDataFile
        When that file cannot be used.
    UnknownChoice
        When a competency names a list that the file does not have.

    Notes
    -----
    An entry that is known from memory alone is named without its number: a number from memory looks like one that
    was looked up.

    Examples
    --------
    >>> first = competency_map()[0]
    >>> first.id, first.lessons["14_the_whole_job"]
    ('complaint_and_history', ('taught', 'practised'))
    >>> [one.asked_by for one in competency_map() if one.id == "noise_and_odour"]
    [('ASE A7 (from memory)',)]
    """
    table = read_competencies()
    return tuple(
        Competency(
            name,
            one.says,
            tuple(dict.fromkeys(_asked(table.list, asked) for asked in one.asked_by)),
            {served.lesson: tuple(way for way in WAYS if getattr(served, way)) for served in one.served_by},
            one.missing,
        )
        for name, one in table.competency.items()
    )


def without_a_lesson():
    """The competencies that no lesson serves.

    Returns
    -------
    tuple of Competency
        In the order of data/competencies.toml; each says why.

    Raises
    ------
    BadDataFile, UnknownChoice
        As competency_map.

    Notes
    -----
    They are listed wherever the map is shown.

    Examples
    --------
    >>> [one.id for one in without_a_lesson()]
    ['noise_and_odour', 'heat_pump_and_chiller', 'purity_terms', 'retrofit', 'hand_skills']
    """
    return tuple(one for one in competency_map() if not one.lessons)
