"""A card with what can be chosen for it above and its page to print below: what every panel of cards shares."""

import ipywidgets

from course.widgets.card_layout import CARD_STYLE, card_html, card_text, print_link
from course.widgets.page_style import STYLE


class CardPanel:
    """A panel that shows one card; whoever makes it says what can be chosen and puts the card in."""

    def __init__(self):
        self.card, self.shown, self.link = None, ipywidgets.HTML(), ipywidgets.HTML()

    def put(self, card, name):
        """Show a card, with a link to print it under a name."""
        self.card = card
        self.shown.value = card_html(card)
        self.link.value = f'<div class="workbook">{print_link(card, name)}</div>'

    def choices(self):
        """What stands above the card."""
        raise NotImplementedError

    def view(self):
        """The panel as one widget."""
        controls = ipywidgets.VBox(self.choices())
        controls.add_class("workbook-card-choices")
        panel = ipywidgets.VBox([controls, self.shown, self.link])
        panel.add_class("workbook-panel")
        panel.add_class("workbook-reference")
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE + CARD_STYLE), panel])
        bench.add_class("workbook-bench")
        return bench

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        bundle["text/plain"] = card_text(self.card)
        bundle["text/html"] = (
            f'{STYLE}{CARD_STYLE}<div class="workbook workbook-bench" style="margin:0">{card_html(self.card)}</div>'
        )
        return bundle
