"""What `python -m course` can do: open the workbook, check the checkout, freeze notebooks. Standard library only."""
