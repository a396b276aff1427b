"""Turns a spec sheet, one file per engine model, into layout, geometry, parts on sale and limits in SI."""

from collections.abc import Iterable
from typing import Annotated, Final, Literal, Self

from pydantic import BeforeValidator, Field, ValidationInfo, WithJsonSchema, field_validator, model_validator

from inspect_report.records.quantity import QuantityFault, unit_named
from inspect_report.records.shape import (
    AMOUNT_SCHEMA,
    Id,
    Record,
    Text,
    amount,
    amount_in,
    is_si,
    refusal,
)
from inspect_report.records.shell_table import ShellTable

Wear = Literal["up", "down", "either"]
Sure = Literal["seen", "common practice", "from memory"]
ROW_AMOUNT: Final = WithJsonSchema(AMOUNT_SCHEMA)
DEFAULT_WATCH: Final = 0.75


class Valves(Record):
    """Valves of one cylinder."""

    inlet: Annotated[int, Field(ge=0, le=4)] = 0
    exhaust: Annotated[int, Field(ge=0, le=4)] = 0


class Layout(Record):
    """What kind of engine it is and how many of each part it has."""

    strokes: Literal[2, 4]
    cylinders: Annotated[int, Field(ge=1, le=24)]
    arrangement: Literal["single", "inline", "vee", "flat", "other"] = "inline"
    banks: tuple[tuple[Annotated[int, Field(ge=1)], ...], ...] = ()
    """The cylinders of each bank as they stand, ``[[1, 3], [2, 4]]``; for the plan of the engine."""
    valves: Valves = Valves()
    valve_actuation: Literal[
        "shim under bucket", "shim over bucket", "finger follower", "rocker with screw", "pushrod",
        "hydraulic", "reed", "piston port", "rotary disc",
    ]  # fmt: skip
    timing_drive: Literal["chain", "belt", "gear", "none"] = "none"
    lubrication: Literal["wet sump", "dry sump", "mixture", "oil injection"]
    cooling: Literal["air", "liquid", "oil"] = "liquid"
    clutch: Literal["wet multi-plate", "dry multi-plate", "dry single-plate", "centrifugal", "none"] = "none"
    camshafts: tuple[Text, ...] = ()
    """Their names; those that open one side only are named after it: inlet, exhaust-front."""
    camshaft_lobes: Literal["one side", "both sides"] = "one side"
    """Whether each camshaft opens inlet or exhaust valves, or both."""
    rings: tuple[Text, ...] = ("top", "second", "oil")
    bore_lining: Literal["iron", "plated", "not given"] = "not given"
    """What the rings run on; a plated bore is plated anew where an iron one is bored out."""
    counts: dict[Text, Annotated[int, Field(ge=0, le=200)]] = {}
    """How many of each further part: main-journal, crankpin, friction-plate, steel-plate, clutch-spring …"""

    @model_validator(mode="after")
    def _told_apart(self) -> Self:
        _each_once(self.camshafts, "camshafts")
        _each_once(self.rings, "rings")
        _whole_banks(self.banks, self.cylinders)
        return self


def _whole_banks(banks: tuple[tuple[int, ...], ...], cylinders: int) -> None:
    if banks and sorted(n for bank in banks for n in bank) != list(range(1, cylinders + 1)):
        raise refusal(
            "K316",
            "banks that do not hold each cylinder once",
            f"lists that together hold 1 to {cylinders}, each once, such as [[1, 3], [2, 4]]",
            "write the cylinders of each bank in the order they stand along the crankshaft",
            key="banks",
        )


def _each_once(names: Iterable[str], key: str) -> None:
    listed = tuple(names)
    twice = next((n for n in listed if listed.count(n) > 1), None)
    if twice is not None:
        raise refusal(
            "K312", f"{twice!r} written twice", "each name once", "delete one, or tell them apart", key=key
        )


class CamDrive(Record):
    """
    The timing chain: its pitch, the cam sprocket, and the pitches under tension to each camshaft.

    Counted are free pitches, from the crank sprocket along the pulling side; where the chain passes another
    camshaft first, those up to it and those between, without the ones that lie on its sprocket.
    """

    pitch: amount("mm", low=2, below=130)  # type: ignore[valid-type]
    sprocket_teeth: Annotated[int, Field(ge=8, le=200)]
    strand: dict[Text, Annotated[int, Field(ge=1, le=400)]]
    tensioner_stroke: amount("mm", above=0) | None = None  # type: ignore[valid-type]
    """How far the tensioner's plunger can come out."""


class Geometry(Record):
    """Nominal dimensions that formulas need; what is not given is not computed."""

    bore: amount("mm", low=10, below=1000) | None = None  # type: ignore[valid-type]
    stroke: amount("mm", low=10, below=1000) | None = None  # type: ignore[valid-type]
    rod_length: amount("mm", low=20, below=2000) | None = None  # type: ignore[valid-type]
    gasket_bore: amount("mm", low=10, below=1000) | None = None  # type: ignore[valid-type]
    chamber_volume: amount("cm³", low=0.5, below=5000) | None = None  # type: ignore[valid-type]
    dome_volume: amount("cm³") | None = None  # type: ignore[valid-type]
    """Volume of the piston crown above its edge, minus the valve pockets; negative for a dish."""
    deck_height: amount("mm") | None = None  # type: ignore[valid-type]
    """Piston edge below the cylinder's top face at top dead centre; negative when it stands proud."""
    inlet_closes: amount("°", low=-90, below=180) | None = None  # type: ignore[valid-type]
    """Inlet closing after bottom dead centre."""
    compression_ratio: Annotated[float, Field(gt=1, lt=40)] | None = None
    """Nominal ratio over the whole stroke, where the manual prints one; taken where volumes are not read."""
    exhaust_port_opens: amount("°", low=0, below=180) | None = None  # type: ignore[valid-type]
    """Two-stroke: exhaust port opening after top dead centre."""
    crankcase_volume: amount("cm³", low=10, below=50_000) | None = None  # type: ignore[valid-type]
    """Two-stroke: volume closed off in the crankcase leak test, of one cylinder."""
    clearance_height: Text = ""
    """Height of the bore, as the checklist names it, at which the maker states the piston's clearance."""
    skirt_height: amount("mm", low=0) | None = None  # type: ignore[valid-type]
    """Where the skirt is measured, above its lower edge."""
    barrel_expansion: amount("µm/(m·K)", low=0, below=50) | None = None  # type: ignore[valid-type]
    """Linear expansion of the barrel or its liner; with its temperature bores are corrected to 20 °C."""
    piston_expansion: amount("µm/(m·K)", low=0, below=50) | None = None  # type: ignore[valid-type]
    """Linear expansion of the piston."""
    lever_ratio: Annotated[float, Field(gt=0)] = 1.0
    """Valve lift over cam lift; matters where the gap is taken at the cam."""
    cam_drive: CamDrive | None = None

    @model_validator(mode="after")
    def _crank_turns(self) -> Self:
        if self.rod_length and self.stroke and self.rod_length <= self.stroke / 2:
            raise refusal(
                "K311",
                "rod too short for its stroke",
                "'rod-length', between the centres of its eyes, above half of 'stroke'",
                "look which of the two is wrong, or in another unit",
                key="rod-length",
            )
        return self


class ShimSeries(Record):
    """Shims on sale: a list of sizes, or first, last and step."""

    sizes: tuple[amount("mm", above=0), ...] = ()  # type: ignore[valid-type]
    first: amount("mm", above=0) | None = None  # type: ignore[valid-type]
    last: amount("mm", above=0) | None = None  # type: ignore[valid-type]
    step: amount("mm", above=0) | None = None  # type: ignore[valid-type]

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        series = (self.first, self.last, self.step)
        if bool(self.sizes) == all(v is not None for v in series):
            raise refusal(
                "K310",
                "shim sizes given in no way or in two",
                "either 'sizes', or 'first', 'last' and 'step'",
                "keep one of the two ways, whole",
            )
        if self.first and self.last and self.step:
            steps = (self.last - self.first) / self.step
            _sane_series(steps)
        return self


MOST_SHIMS: Final = 1000


def _sane_series(steps: float) -> None:
    if not 0 <= steps <= MOST_SHIMS:
        raise refusal(
            "K313",
            "shim sizes that run backwards" if steps < 0 else "shim sizes without end",
            f"'first' not above 'last', and at most {MOST_SHIMS} steps between them",
            "exchange 'first' and 'last' if they were swapped, or correct 'step'",
            key="first" if steps < 0 else "step",
        )


class GasketGrade(Record):
    """A head gasket on sale: its mark and its thickness when clamped."""

    grade: Text
    thickness: amount("mm", above=0)  # type: ignore[valid-type]


class OnSale(Record):
    """Sizes of parts that can be bought for this engine."""

    shims: ShimSeries | None = None
    head_gaskets: tuple[GasketGrade, ...] = ()
    oversizes: tuple[amount("mm", above=0), ...] = ()  # type: ignore[valid-type]
    shells: tuple[ShellTable, ...] = ()

    @model_validator(mode="after")
    def _told_apart(self) -> Self:
        _each_once((g.grade for g in self.head_gaskets), "head-gaskets")
        _each_once((t.bearing for t in self.shells), "shells")
        return self


class Band(Record):
    """A range with one or both ends."""

    low: Annotated[float, ROW_AMOUNT] | None = None
    high: Annotated[float, ROW_AMOUNT] | None = None


def _row_amount(written: object, info: ValidationInfo) -> object:
    if is_si(info):
        return written
    return amount_in(written, str(info.data.get("unit", "mm")))


def _band(written: object, info: ValidationInfo) -> object:
    """A band from ``[low, high]`` or ``{low: …, high: …}``, in the unit of its row."""
    if isinstance(written, Band | None) or is_si(info):
        return written
    if isinstance(written, list) and len(written) == 2:
        written = {"low": written[0], "high": written[1]}
    if not isinstance(written, dict):
        raise refusal(
            "K301",
            "not a range",
            "[low, high], or {low: …} or {high: …}",
            "write both ends, or name the one given",
        )
    unit = str(info.data.get("unit", "mm"))
    ends = {k: v if v is None or k not in ("low", "high") else amount_in(v, unit) for k, v in written.items()}
    low, high = ends.get("low"), ends.get("high")
    if isinstance(low, float) and isinstance(high, float) and low > high and not info.data.get("disputed"):
        raise refusal(
            "K302",
            "least value above the greatest",
            "a range that runs upwards",
            "exchange the two if they were swapped; if printed so, mark the row 'disputed'",
        )
    return ends


BAND_SCHEMA: Final = {
    "anyOf": [
        {"type": "array", "minItems": 2, "maxItems": 2, "items": {"type": ["number", "string", "null"]}},
        {
            "type": "object",
            "additionalProperties": False,
            "properties": {"low": {"type": ["number", "string"]}, "high": {"type": ["number", "string"]}},
        },
    ]
}
RowBand = Annotated[Band, BeforeValidator(_band), WithJsonSchema(BAND_SCHEMA)]


class Characteristic(Record):
    """
    One row of a limit table: what is new, what is the limit, which way it wears, and who says so.

    A limit is a dimension (``limit``) or an amount of wear from new (``wear``). ``where`` narrows a row to
    some places, ``{valve: inlet}``. A row that no checklist item and no formula knows is read as it stands:
    ``axes`` then says where it is measured.
    """

    id: Id
    unit: Text = "mm"
    name: Text = ""
    axes: tuple[Text, ...] = ()
    section: Annotated[Text, Field(pattern=r"^([a-z0-9]+(-[a-z0-9]+)*)?$")] = ""
    assembly: Text = ""
    where: dict[Text, Text] = {}
    disputed: Text = ""
    """Why a printed row that contradicts itself is kept: it is shown, and not used for judging."""
    nominal: Annotated[float, BeforeValidator(_row_amount), ROW_AMOUNT] | None = None
    standard: RowBand | None = None
    limit: RowBand | None = None
    wear: Annotated[float, BeforeValidator(_row_amount), ROW_AMOUNT] | None = None
    wears: Wear | None = None
    watch: Annotated[float, Field(gt=0, le=1)] = DEFAULT_WATCH
    """Share of the wear allowance from which a part is marginal."""
    condition: Literal["cold", "hot", ""] = ""
    page: Text = ""
    source: Text = ""
    sure: Sure = "seen"
    note: Text = ""

    @field_validator("unit")
    @classmethod
    def _known_unit(cls, unit: str) -> str:
        try:
            unit_named(unit)
        except QuantityFault as fault:
            raise refusal("V201", fault.title, fault.allowed, fault.mend) from None
        return unit

    @model_validator(mode="after")
    def _holds_together(self) -> Self:
        for check in (_limit_once, _limit_outside_standard, _wear_has_direction, _limit_where_it_wears):
            check(self)
        return self


def _limit_once(row: Characteristic) -> None:
    if row.limit is not None and row.wear is not None:
        raise refusal(
            "K304",
            "limit given twice",
            "'limit' as a dimension, or 'wear' as an amount from new",
            "keep the one the manual prints",
            key="wear",
        )
    if row.wear is not None and row.wear < 0:
        raise refusal(
            "K305",
            "negative amount of wear",
            "an amount above 0",
            "write the amount; 'wears' says which way",
            key="wear",
        )


def _wear_has_direction(row: Characteristic) -> None:
    if row.wear is None:
        return
    if row.wears not in ("up", "down") or (row.standard is None and row.nominal is None):
        raise refusal(
            "K306",
            "amount of wear without a start or a direction",
            "'standard' or 'nominal', and 'wears: up' or 'wears: down'",
            "add what is new, and whether the value grows or shrinks with wear",
            key="wear",
        )


def _limit_where_it_wears(row: Characteristic) -> None:
    """A part that only grows with wear never meets a limit that is only below it."""
    limit = row.limit
    if limit is None or row.disputed or row.wears not in ("up", "down"):
        return
    missing = limit.high if row.wears == "up" else limit.low
    if missing is None and (limit.low is not None or limit.high is not None):
        raise refusal(
            "K308",
            "limit on the side it does not wear to",
            "a 'high' limit with 'wears: up', a 'low' limit with 'wears: down'",
            "correct 'wears', or the side of the limit",
            key="wears",
        )


def _limit_outside_standard(row: Characteristic) -> None:
    """A service limit that a new part may already break is a print error, not a limit."""
    if row.limit is None or row.disputed:
        return
    standard = row.standard or Band(low=row.nominal, high=row.nominal)
    new_low, new_high = standard.low, standard.high
    most_new = new_high if new_high is not None else new_low
    least_new = new_low if new_low is not None else new_high
    above = row.limit.high is not None and most_new is not None and row.limit.high < most_new - 1e-12
    below = row.limit.low is not None and least_new is not None and row.limit.low > least_new + 1e-12
    if above or below:
        raise refusal(
            "K307",
            "limit inside its own standard range",
            "a limit that every new part keeps",
            "look at the source again; if printed so, add 'disputed: printed so': shown, but not judged",
            key="limit",
        )


class SpecSheet(Record):
    """Everything the maker's manual says that an inspection needs, for one engine model."""

    spec_sheet: Id
    version: Annotated[int, Field(ge=1)]
    maker: Text
    model: Text
    manual: Text = ""
    """Work the pages of the rows refer to."""
    layout: Layout
    geometry: Geometry = Geometry()
    on_sale: OnSale = OnSale()
    characteristics: tuple[Characteristic, ...] = ()
    notes: Text = ""

    def rows(self, characteristic: str) -> tuple[Characteristic, ...]:
        """The rows of one characteristic, in the order of the sheet."""
        return tuple(r for r in self.characteristics if r.id == characteristic)

    def source_of(self, row: Characteristic) -> str:
        """Work and page of a row, as printed on the report."""
        page = f"p. {row.page}" if row.page else ""
        return ", ".join(part for part in (row.source or self.manual, page) if part)
