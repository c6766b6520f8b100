"""What is asked and how it is marked: numbers with units, question kinds, explanations, the learner's own record."""
