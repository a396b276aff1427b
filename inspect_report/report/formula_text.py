"""Turns a formula as our docstrings typeset it into one line of plain signs, for terminals and plain text."""

import re
from collections.abc import Iterator
from typing import Final

SIGNS: Final = {
    "alpha": "α", "gamma": "γ", "delta": "δ", "Delta": "Δ", "epsilon": "ε", "theta": "θ", "lambda": "λ",
    "nu": "ν", "pi": "π", "rho": "ρ", "sigma": "σ", "phi": "φ", "sum": "Σ", "int": "∫", "pm": "±",
    "le": "≤", "ge": "≥", "Rightarrow": "⇒", "cdot": "·", "infty": "∞", ",": "", ";": "", "quad": "\u2003",
    "{": "{", "}": "}", "left": "", "right": "", "bmod": "mod",
}  # fmt: skip
"""Commands that stand for one sign."""
WORDS: Final = frozenset({"max", "min", "arg", "sin", "cos", "tan", "arctan", "exp", "ln", "lg", "log"})
_OVER: Final = {"bar": "\u0304", "dot": "\u0307"}
_RAISED: Final = str.maketrans("0123456789+-", "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻")
_TOKEN: Final = re.compile(r"\\[A-Za-z]+|\\.|\s+|[\^_{}]|\w+?|.")
_SIMPLE: Final = re.compile(r"√?[\w\u0304\u0307]+|⟦[^⟦⟧]*⟧")


class UnknownSign(ValueError):
    """A formula uses a command this module has no sign for."""


def plain_formula(typeset: str) -> str:
    """
    A formula in one line: ``u = d / (2 √3)``.

    Raises:
        UnknownSign: it uses a command that is not known here, or a brace too few.
    """
    text = _opened(_row(iter(_TOKEN.findall(typeset))))
    text = re.sub(rf"\b({'|'.join(sorted(WORDS))})([⁰-⁹²³]?)(?=[^\W_]|\()(?!\()", r"\1\2 ", text)
    text = re.sub(r" ?\u2003 ?", "  ", re.sub(r" +", " ", text))
    return re.sub(r" (?=[,;])", "", text).strip()


def _opened(text: str) -> str:
    """Fractions between brackets where something stands beside them, plain where they are a whole side."""
    text = re.sub(r"\(⟦([^⟦⟧]*)⟧\)", r"(\1)", text.strip())
    text = re.sub(r"(^|= )⟦([^⟦⟧]*)⟧(?=$|,| =)", r"\1\2", text)
    while "⟦" in text:
        text = re.sub(r"⟦([^⟦⟧]*)⟧", r"(\1)", text)
    return text


def _row(tokens: Iterator[str], end: str = "") -> str:
    """Signs up to an end; a brace that is never closed is refused."""
    parts: list[str] = []
    for token in tokens:
        if token == end:
            return "".join(parts)
        parts.append(_sign(token, tokens))
    if end:
        raise UnknownSign(f"a brace is never closed behind {''.join(parts)!r}")
    return "".join(parts)


def _sign(sign: str, tokens: Iterator[str]) -> str:
    if sign == "{":
        return _row(tokens, "}")
    if sign == "^":
        return _raised(_next(tokens))
    if sign == "_":
        return f"_{_bracketed(_next(tokens), always=False)}"
    return _command(sign[1:], tokens) if sign.startswith("\\") else sign


def _command(name: str, tokens: Iterator[str]) -> str:
    if name in ("frac", "tfrac"):
        above, below = _bracketed(_next(tokens)), _bracketed(_next(tokens))
        return f"⟦{above} / {below}⟧"
    if name == "sqrt":
        return f"√{_bracketed(_next(tokens))}"
    if name == "text":
        return _next(tokens)
    if name in _OVER:
        return f"{_next(tokens)}{_OVER[name]}"
    if name not in SIGNS and name not in WORDS:
        raise UnknownSign(f"no plain sign is known for \\{name}")
    return SIGNS.get(name, name)


def _next(tokens: Iterator[str]) -> str:
    """The next sign or group, spaces before it left out."""
    return next((_sign(token, tokens) for token in tokens if not token.isspace()), "")


def _bracketed(text: str, *, always: bool = True) -> str:
    """A group as it stands in a line: between brackets where it has several signs."""
    simple = _SIMPLE.fullmatch(text) if always else re.fullmatch(r"[^\s,()/_]+", text)
    return text if simple else f"({text})"


def _raised(text: str) -> str:
    if re.fullmatch(r"[0-9+-]+", text):
        return text.translate(_RAISED)
    return "*" if text == "*" else f"^{_bracketed(text, always=False)}"
