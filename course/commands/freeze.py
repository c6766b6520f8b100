"""Running notebooks and storing them as they are shipped: outputs kept, live widgets dropped, the same bytes every time."""

import os
import sys
import tempfile
from pathlib import Path

import nbformat
from nbclient import NotebookClient
from nbclient.exceptions import CellExecutionError
from traitlets.config import Config

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"
LIVE = "application/vnd.jupyter.widget-view+json"
QUIET = Config({"KernelManager": {"transport_encryption": "auto"}})  # else each kernel says that it talks in the clear
KERNEL = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}


def settle(notebook):
    """Drop everything of a run notebook that is not the same next time, or that is dead on a shelf."""
    notebook.metadata = nbformat.from_dict({"kernelspec": KERNEL, "language_info": {"name": "python"}})
    for number, cell in enumerate(notebook.cells):
        cell["id"] = f"cell-{number:02d}"
        cell.metadata.pop("execution", None)
        if cell.cell_type != "code":
            continue
        for output in cell.outputs:
            output.get("data", {}).pop(LIVE, None)
        cell.outputs = [output for output in cell.outputs if output.get("data") != {}]
    return notebook


def freeze(path):
    """Run one notebook from a fresh kernel and write it back; returns whether its bytes changed."""
    path = Path(path)
    before = path.read_bytes()
    notebook = nbformat.reads(before.decode("utf-8"), as_version=4)
    where = {"metadata": {"path": str(path.parent)}}
    with tempfile.TemporaryDirectory() as nowhere:
        # a stored notebook shows the units everybody starts with, not those of whoever froze it
        variables = dict(os.environ, WORKBOOK_PREFERENCES=str(Path(nowhere) / "preferences.json"))
        client = NotebookClient(notebook, timeout=120, kernel_name="python3", resources=where, config=QUIET)
        client.execute(env=variables)
    text = nbformat.writes(settle(notebook)).rstrip("\n") + "\n"
    path.write_text(text, encoding="utf-8", newline="\n")
    return text.encode("utf-8") != before


def main(names):
    """Freeze the named notebooks, or all of them; returns an exit code."""
    failed = 0
    for path in [Path(name) for name in names] or sorted(NOTEBOOKS.glob("*.ipynb")):
        try:
            print(f"{path.name}: {'frozen anew' if freeze(path) else 'unchanged'}", flush=True)
        except FileNotFoundError:
            failed += 1
            print(f"{path}: there is no such notebook; give the path of one, or none to freeze all.", flush=True)
        except (nbformat.reader.NotJSONError, UnicodeDecodeError):
            failed += 1
            print(f"{path}: this is not a notebook; give a file that JupyterLab opens as one.", flush=True)
        except CellExecutionError as problem:
            failed += 1
            print(f"{path.name}: left as it was, because a cell failed: {problem.ename}: {problem.evalue}", flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
