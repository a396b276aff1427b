"""Turns quantities, ratings and answers into findings with a verdict, into grades and into trends."""
