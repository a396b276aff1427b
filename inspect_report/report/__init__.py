"""Turns an assessment into what people read: pages, printed sheets, tables and the chain behind a finding."""
