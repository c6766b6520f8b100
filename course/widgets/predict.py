"""One question alone, by its id: a prediction to commit to before the run that shows it."""

from course.lessons.lesson import find_question
from course.widgets.question_panel import QuestionPanel


def ask(question_id):
    """One question of data/lessons by its id; a prediction stays as it was made, and shows so at the next visit."""
    question = find_question(question_id)
    return QuestionPanel(question, "Predict:" if question.table.kind == "predict" else "")
