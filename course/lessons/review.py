"""What comes back for review, and when: what was missed, after one day, then three, seven and twenty-one."""

from dataclasses import dataclass
from datetime import date, timedelta

REVIEW_AFTER_DAYS = (1, 3, 7, 21)  # spaced, each longer than the last; the steps themselves are assumed


@dataclass(frozen=True)
class Due:
    """A question that comes back."""

    question: str  # lesson/question
    day: date
    step: int  # 0 to 3: which of the waits this is


def review_queue(answers):
    """What was missed and is not yet mastered, the most urgent first.

    Parameters
    ----------
    answers : iterable of Answered
        The record, oldest first.

    Returns
    -------
    list of Due
        Each question with the day from which it is due.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A wrong answer brings a question back after one day. Right when it is due, it waits three, seven and twenty-one days,
    and then leaves. Only the first try of a day counts: after it the explanation has been read. That spacing helps is
    published (Dunlosky et al. 2013, second-hand); these four waits are assumed.

    Examples
    --------
    >>> from types import SimpleNamespace as Answer
    >>> from datetime import date
    >>> missed = Answer(question="a/b", is_right=False, day=date(2030, 5, 1))
    >>> review_queue([missed])[0].day.isoformat()
    '2030-05-02'
    """
    queue, tried = {}, set()
    for answer in answers:
        if (answer.question, answer.day) in tried:
            continue
        tried.add((answer.question, answer.day))
        waiting = queue.get(answer.question)
        if not answer.is_right:
            queue[answer.question] = _due(answer, 0)
        elif waiting and answer.day >= waiting.day:
            if waiting.step + 1 < len(REVIEW_AFTER_DAYS):
                queue[answer.question] = _due(answer, waiting.step + 1)
            else:
                del queue[answer.question]
    return sorted(queue.values(), key=lambda due: (due.day, due.question))


def _due(answer, step):
    return Due(answer.question, answer.day + timedelta(days=REVIEW_AFTER_DAYS[step]), step)


def due_today(answers, today):
    """What is due for review by a day.

    Parameters
    ----------
    answers : iterable of Answered
        The record, oldest first.
    today : date
        The day.

    Returns
    -------
    list of Due
        The most urgent first.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    See review_queue.

    Examples
    --------
    >>> due_today([], None)
    []
    """
    return [due for due in review_queue(answers) if due.day <= today]
