"""Activity tables printed in textbooks: name -> (before, low, likely, high)."""

from tests.scheduling.reference.cases import Row

# Hillier & Lieberman, Introduction to Operations Research, chapter "Project
# Management with PERT/CPM", tables 10.1 and 10.4. Predecessors of J to N and the
# three-point figures [from memory].
RELIABLE: dict[str, Row] = {
    "A": ((), 1, 2, 3),
    "B": (("A",), 2, 3.5, 8),
    "C": (("B",), 6, 9, 18),
    "D": (("C",), 4, 5.5, 10),
    "E": (("C",), 1, 4.5, 5),
    "F": (("E",), 4, 4, 10),
    "G": (("D",), 5, 6.5, 11),
    "H": (("E", "G"), 5, 8, 17),
    "I": (("C",), 3, 7.5, 9),
    "J": (("F", "I"), 3, 9, 9),
    "K": (("J",), 4, 4, 4),
    "L": (("J",), 1, 5.5, 7),
    "M": (("H",), 1, 2, 3),
    "N": (("K", "L"), 5, 5.5, 9),
}

# Heizer & Render, Operations Management, the Milwaukee Paper example (General
# Foundry in Render's Quantitative Analysis) [from memory].
FOUNDRY: dict[str, Row] = {
    "A": ((), 1, 2, 3),
    "B": ((), 2, 3, 4),
    "C": (("A",), 1, 2, 3),
    "D": (("A", "B"), 2, 4, 6),
    "E": (("C",), 1, 4, 7),
    "F": (("C",), 1, 2, 9),
    "G": (("D", "E"), 3, 4, 11),
    "H": (("F", "G"), 1, 2, 3),
}

# Wikipedia, "Program evaluation and review technique" [from memory].
ENCYCLOPEDIA: dict[str, Row] = {
    "a": ((), 2, 4, 6),
    "b": ((), 3, 5, 9),
    "c": (("a",), 4, 5, 7),
    "d": (("a",), 4, 6, 10),
    "e": (("b", "c"), 4, 5, 7),
    "f": (("d",), 3, 4, 8),
    "g": (("e",), 3, 5, 8),
}

# Taylor, Introduction to Management Science, chapter 8, PERT example: the critical
# path only, for the page at hand does not print the other arrows.
TAYLOR_PATH: dict[str, Row] = {
    "1": ((), 5, 8, 17),
    "3": (("1",), 3, 5, 7),
    "5": (("3",), 4, 6, 8),
    "7": (("5",), 3, 4, 5),
}

# University of North Carolina at Greensboro, SCM 304, PERT exercise.
GREENSBORO: dict[str, Row] = {
    "A": ((), 6, 7, 14),
    "B": ((), 8, 10, 12),
    "C": (("A",), 2, 3, 4),
    "D": (("A",), 6, 7, 8),
    "E": (("B", "C"), 5, 5.5, 9),
    "F": (("B", "C"), 5, 7, 9),
    "G": (("D", "E"), 4, 6, 8),
    "H": (("F",), 2.5, 3, 3.5),
}

# A course page's ten-activity table ("Unit-4").
TEN_ACTIVITIES: dict[str, Row] = {
    "A": ((), 5, 6, 7),
    "B": ((), 1, 3, 5),
    "C": ((), 1, 4, 7),
    "D": (("A",), 1, 2, 3),
    "E": (("B",), 1, 2, 9),
    "F": (("C",), 1, 5, 9),
    "G": (("C",), 2, 2, 8),
    "H": (("E", "F"), 4, 4, 10),
    "I": (("D",), 2, 5, 8),
    "J": (("H", "G"), 2, 2, 8),
}

# A course page's fourteen-activity table.
FOURTEEN: dict[str, Row] = {
    "A": ((), 5, 5, 7),
    "B": ((), 1, 2, 5),
    "C": (("A",), 5, 5, 5),
    "D": (("A",), 4, 8, 13),
    "E": (("B", "C"), 1, 10, 17),
    "F": (("D",), 1, 5, 7),
    "G": (("D",), 2, 6, 9),
    "H": (("E", "F"), 4, 4, 6),
    "I": (("G", "H"), 2, 7, 10),
    "J": (("I",), 2, 4, 7),
    "K": (("I",), 6, 10, 13),
    "L": (("J",), 2, 6, 6),
    "M": (("K",), 2, 2, 3),
    "N": (("L", "M"), 7, 7, 12),
}
