"""Commit to an answer before the run: one choice, then every option's own explanation."""

from html import escape

import ipywidgets

from course.errors import WorkbookError, check_choice
from course.tables import read_predictions
from course.widgets.page_style import STYLE


class Predict:
    """A question with options; each option is (text, explanation) and one of them is right."""

    def __init__(self, question, options, right):
        if right not in range(len(options)):
            raise WorkbookError(f"prediction: option {right} was marked right; allowed are 0 to {len(options) - 1}.")
        self.question, self.options, self.right = question, list(options), right
        self.chosen = None
        self.choice = ipywidgets.RadioButtons(
            options=[(text, number) for number, (text, _) in enumerate(self.options)], value=None,
            layout=ipywidgets.Layout(width="100%"),
        )  # fmt: skip
        self.choice.add_class("workbook-choice")
        self.button = ipywidgets.Button(description="Commit", tooltip="Lock this answer in")
        self.answer = ipywidgets.HTML()
        self.button.on_click(lambda button: self.commit())

    def commit(self):
        """Lock the answer and show what each option would have meant."""
        if self.choice.value is None:
            self.answer.value = '<p class="workbook" role="alert">Choose an answer first, then commit.</p>'
            return
        self.chosen = self.choice.value
        self.choice.disabled = self.button.disabled = True
        verdict = "Yes." if self.chosen == self.right else "Not this time: now run it below and see."
        items = "".join(
            f"<li><b>{escape(text)}</b>{' (your answer)' if number == self.chosen else ''}: {escape(why)}</li>"
            for number, (text, why) in enumerate(self.options)
        )
        self.answer.value = f'<div class="workbook" role="status"><p><b>{verdict}</b></p><ul>{items}</ul></div>'

    def view(self):
        """The question as one widget."""
        asked = ipywidgets.HTML(f'{STYLE}<p class="workbook"><b>Predict:</b> {escape(self.question)}</p>')
        return ipywidgets.VBox([asked, self.choice, self.button, self.answer])

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        texts = " / ".join(text for text, _ in self.options)
        bundle["text/plain"] = f"Predict: {self.question} ({texts})"
        items = "".join(f"<li>{escape(text)}</li>" for text, _ in self.options)
        bundle["text/html"] = f"<p><b>Predict:</b> {escape(self.question)}</p><ul>{items}</ul>"
        return bundle


def ask(prediction_id):
    """A prediction of data/predictions.toml to commit to."""
    predictions = read_predictions()
    table = predictions[check_choice("prediction", prediction_id, predictions)]
    return Predict(table.question, [(option.text, option.why) for option in table.options], table.right)
