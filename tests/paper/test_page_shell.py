"""The page around everything: whole in itself, and refused when it would fetch or run anything."""

import pytest

from course.errors import WorkbookError
from course.paper.page_shell import INK, page, table


@pytest.mark.parametrize(
    "body",
    [
        "<script>alert(1)</script>",
        '<link rel="stylesheet" href="a.css">',
        '<img src="https://example.org/a.png" alt="a">',
        '<img alt="a" src=missing.png>',
        '<svg><image xlink:href="//example.org/a.png"/></svg>',
        '<iframe title="x"></iframe>',
        '<p style="background: url(https://example.org/a.png)">x</p>',
        "<style>@import 'a.css';</style>",
    ],
)
def test_what_would_be_fetched_is_refused_by_name(body):
    with pytest.raises(WorkbookError, match="A title: the page would fetch .* keep pictures beside the notebook"):
        page("A title", body, "")


@pytest.mark.parametrize(
    "body",
    [
        '<img alt="a" src="data:image/png;base64,AA==">',
        '<svg><use xlink:href="#m1"/><path clip-path="url(#p1)"/></svg>',
        '<a href="06_charge.html">06</a> https://example.org/a.png',
    ],
)
def test_what_lies_in_the_page_passes(body):
    assert body in page("A title", body, "")


def test_words_are_escaped():
    assert "<td>2 &lt; 3</td>" in table(("a", "b"), [("x", "2 < 3")])
    assert "<title>2 &lt; 3</title>" in page("2 < 3", "", "")


def test_ink_is_grey():
    colours = [one.rpartition(":")[2] for one in INK.strip(";").split(";")]
    assert all(len(set(colour[1:])) == 1 for colour in colours)
