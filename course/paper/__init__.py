"""Lessons on paper: pages, answer keys and worksheets as HTML; the text of their questions comes from course.lessons."""
