"""Every picture of the workbook: drawn by matplotlib for print, as light SVG where it moves; the only matplotlib here."""
