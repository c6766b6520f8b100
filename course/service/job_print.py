"""The job sheet on paper: plain text, or a table for a page."""

from html import escape

from course.service.job import STEPS, check_job, missing_steps

HEADS = ("Time", "Step", "Reading", "Instrument", "Note")


def _rows(job):
    for entry in job.entries:
        reading = "" if entry.value is None else f"{entry.value:g} {entry.unit}"
        yield entry.time.replace("T", " "), STEPS[entry.step], reading, entry.instrument, entry.note


def _head(job):
    return (
        f"Job {job.number}: {job.car}. {job.refrigerant}, label charge {job.label_charge_g:g} g. "
        f"Technician: {job.technician}."
    )


def _foot(job):
    missing = missing_steps(job)
    if missing:
        return f"Not verified yet. Missing: {', '.join(missing).lower()}."
    return "Verified: performance and leak check were made after the last repair and charge."


def job_text(job):
    """The job sheet as plain text, in columns.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    str
        Lines with a head, a row for each entry and a foot.

    Raises
    ------
    UnknownChoice, OutOfRange
        When the job is not in order.

    Notes
    -----
    Columns are as wide as their longest word of content; notes come last and may run on.

    Examples
    --------
    >>> from course.service.job import Entry, Job
    >>> job = Job("17", "invented pickup", "R134a", 700.0, "A. B.", (
    ...     Entry("2026-03-02T10:40", "recovery", 430.0, "g", "machine scale", "twice, cold day"),))
    >>> print(job_text(job).splitlines()[3])
    2026-03-02 10:40  Refrigerant recovered  430 g    machine scale  twice, cold day
    """
    check_job(job)
    rows = [HEADS, *_rows(job)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(HEADS))]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]
    return "\n".join([_head(job), "", *lines, "", _foot(job)]) + "\n"


def job_html(job):
    """The job sheet as an HTML table.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    str
        A table with caption and column heads; every text is escaped.

    Raises
    ------
    UnknownChoice, OutOfRange
        When the job is not in order.

    Notes
    -----
    No style: whoever shows it brings the page's own.

    Examples
    --------
    >>> from course.service.job import Job
    >>> "<caption>Job 17: 2 &lt; 3" in job_html(Job("17", "2 < 3", "R134a", 700.0, "A. B."))
    True
    """
    check_job(job)
    heads = "".join(f'<th scope="col">{name}</th>' for name in HEADS)
    rows = "".join("<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>" for row in _rows(job))
    return (
        f"<table><caption>{escape(_head(job))}</caption><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"
        f"<p>{escape(_foot(job))}</p>"
    )
