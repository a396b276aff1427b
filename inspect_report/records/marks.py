"""Defines the arrows, circles and ellipses by which a photo points at what it shows."""

from typing import Annotated, Final, Self

from pydantic import BeforeValidator, Field, WithJsonSchema, model_validator

from inspect_report.records.shape import Record, Text, refusal

MOST_LETTERS: Final = 40
"""Letters of a label: more would hide the picture it explains."""
MOST_MARKS: Final = 8
_SHARES: Final = {
    "type": "array",
    "items": {"type": "number", "minimum": 0, "maximum": 1},
    "minItems": 2,
    "maxItems": 2,
}


def _shares(written: object) -> tuple[float, float]:
    """Two numbers from 0 to 1, complained of together."""
    if isinstance(written, list | tuple) and len(written) == 2:
        across, down = (_share(w) for w in written)
        if across is not None and down is not None:
            return across, down
    raise refusal(
        "V368",
        "no place in the picture",
        "two numbers from 0 to 1: across from the left edge, down from the upper one",
        "divide a place in pixels by the picture's width and height",
    )


def _share(written: object) -> float | None:
    if isinstance(written, bool) or not isinstance(written, int | float):
        return None
    return float(written) if 0 <= written <= 1 else None


Spot = Annotated[tuple[float, float], BeforeValidator(_shares), WithJsonSchema(_SHARES)]
"""Across, then down, in shares of the picture as it stands upright."""
Extent = Annotated[float, Field(gt=0, le=1)]


class Arrow(Record):
    """An arrow: ``tip`` points at the thing, ``tail`` is where it comes from."""

    tip: Spot
    tail: Spot

    @model_validator(mode="after")
    def _has_length(self) -> Self:
        if self.tip == self.tail:
            allowed = "'tip' and 'tail' at two places"
            raise refusal("V361", "arrow without length", allowed, "move 'tail' away from what it points at")
        return self


class Circle(Record):
    """A circle round the thing; its radius is a share of the picture's width."""

    centre: Spot
    radius: Extent


class Ellipse(Record):
    """An ellipse round the thing: half its width as a share of the picture's, half its height likewise."""

    centre: Spot
    radii: tuple[Extent, Extent]


class Mark(Record):
    """One mark on a photo: an arrow, a circle or an ellipse, with a few words or without."""

    arrow: Arrow | None = None
    circle: Circle | None = None
    ellipse: Ellipse | None = None
    label: Text = ""

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        if sum(s is not None for s in (self.arrow, self.circle, self.ellipse)) != 1:
            allowed = "one of 'arrow', 'circle' and 'ellipse'"
            raise refusal(
                "V362", "mark of no shape or of several", allowed, "write each as an entry of its own"
            )
        if len(self.label) > MOST_LETTERS:
            allowed = f"at most {MOST_LETTERS} letters"
            raise refusal(
                "V363", "label too long for a picture", allowed, "say the rest in 'caption'", key="label"
            )
        return self

    @property
    def spot(self) -> Spot:
        """What is pointed at."""
        if self.arrow is not None:
            return self.arrow.tip
        ring = self.circle or self.ellipse
        return ring.centre if ring else (0.5, 0.5)


Marks = Annotated[tuple[Mark, ...], Field(max_length=MOST_MARKS)]
