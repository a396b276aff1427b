"""Telling: the words and numbers of a report, in the language and by the locale of its workshop."""
