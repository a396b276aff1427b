"""Turns the shipped books and the workshop's own into one set of knowledge for an inspection."""
