"""Running notebooks and storing them as they are shipped: outputs kept, live widgets dropped, the same bytes every time."""

import os
import sys
from pathlib import Path

import nbformat
from nbclient import NotebookClient

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"
LIVE = "application/vnd.jupyter.widget-view+json"
KERNEL = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}


def settle(notebook):
    """Drop everything of a run notebook that is not the same next time, or that is dead on a shelf."""
    notebook.metadata = nbformat.from_dict({"kernelspec": KERNEL, "language_info": {"name": "python"}})
    for number, cell in enumerate(notebook.cells):
        cell["id"] = f"cell-{number:02d}"
        cell.metadata.pop("execution", None)
        if cell.cell_type != "code":
            continue
        kept = []
        for output in cell.outputs:
            if "data" in output:
                output["data"].pop(LIVE, None)
                if not output["data"]:
                    continue
            kept.append(output)
        cell.outputs = kept
    return notebook


def freeze(path):
    """Run one notebook from a fresh kernel and write it back; returns whether its bytes changed."""
    path = Path(path)
    before = path.read_bytes()
    notebook = nbformat.reads(before.decode("utf-8"), as_version=4)
    NotebookClient(
        notebook, timeout=120, kernel_name="python3", resources={"metadata": {"path": str(path.parent)}}
    ).execute()
    text = nbformat.writes(settle(notebook)).rstrip("\n") + "\n"
    path.write_text(text, encoding="utf-8", newline="\n")
    return text.encode("utf-8") != before


def main(names):
    """Freeze the named notebooks, or all of them."""
    os.environ["WORKBOOK_PREFERENCES"] = str(
        NOTEBOOKS / "no-preferences.json"
    )  # never made: stored notebooks know no taste
    for path in [Path(name) for name in names] or sorted(NOTEBOOKS.glob("*.ipynb")):
        print(f"{path.name}: {'frozen anew' if freeze(path) else 'unchanged'}", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
