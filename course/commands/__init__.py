"""What `python -m course` can do: open the workbook, check the checkout, freeze and export notebooks. Standard library only."""
