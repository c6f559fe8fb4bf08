"""The closed lists of unit spellings for quantities that people read off clocks, scales, rules and dials."""

from __future__ import annotations

from diagnose.units.dimension import Dimension, Unit


def unit(symbol: str, pint: str, written: str = "", *, family: str = "", reading: str = "") -> Unit:
    """Return a unit from its spellings, separated by bars."""
    spellings = tuple(one.strip() for one in written.split("|") if one.strip())
    return Unit(symbol, pint, spellings, family, reading)


def degrees(letter: str, *words: str) -> tuple[str, ...]:
    """Return the ways to write a degree of temperature: 20 C, 20 deg C, 20 degrees Celsius."""
    names = (letter, *words)
    before = ("", "°", "deg ", "degree ", "degrees ")
    return (*(start + name for name in names for start in before), *(f"{name}°" for name in names))


FAHRENHEIT = degrees("f", "fahrenheit", "farenheit", "fahr")
CELSIUS = degrees("c", "celsius", "celcius", "centigrade")
KELVIN = degrees("k", "kelvin", "kelvins")
PER_SECOND = ("s", "sec", "second")
PER_MINUTE = ("min", "minute", "m")
PER_HOUR = ("h", "hr", "hour")

TEMPERATURE = Dimension(
    "temperature",
    "a temperature",
    "kelvin",
    (
        Unit("°F", "degF", FAHRENHEIT, "us"),
        Unit("°C", "degC", CELSIUS, "metric"),
        Unit("K", "kelvin", KELVIN),
    ),
    ("°F", "°C"),
    "64 F or 18 C",
    signed=True,
)

TEMPERATURE_CHANGE = Dimension(
    "temperature change",
    "a temperature change",
    "kelvin",
    (
        Unit("°F", "delta_degF", FAHRENHEIT, "us"),
        Unit("°C", "delta_degC", CELSIUS, "metric"),
        Unit("K", "kelvin", KELVIN),
    ),
    ("°F", "°C"),
    "10 F or 5 C",
    signed=True,
)


def _rates() -> tuple[Unit, ...]:
    scales = (("°F", "delta_degF", FAHRENHEIT), ("°C", "delta_degC", CELSIUS), ("K", "kelvin", KELVIN))
    spans = (("min", "minute", PER_MINUTE), ("h", "hour", PER_HOUR), ("s", "second", PER_SECOND))
    return tuple(
        Unit(
            f"{scale}/{span}",
            f"{pint} / {time}",
            tuple(f"{one} per {per}" for one in written for per in spans_written),
        )
        for scale, pint, written in scales
        for span, time, spans_written in spans
    )


RATE_OF_TEMPERATURE = Dimension(
    "rate of temperature",
    "a rate of temperature",
    "kelvin / second",
    _rates(),
    ("°F/min", "°C/min", "°C/h"),
    "5 F/min or 100 C/h",
    signed=True,
)

LENGTH = Dimension(
    "length",
    "a length",
    "meter",
    (
        unit("in", "inch", 'inch | inches | "', family="us"),
        unit("mm", "millimeter", "millimeter | millimeters | millimetre | millimetres | mms", family="metric"),
        unit("cm", "centimeter", "centimeter | centimeters | centimetre | centimetres | cms", family="metric"),
        unit("m", "meter", "meter | meters | metre | metres", family="metric"),
        unit("ft", "foot", "foot | feet | '", family="us"),
        unit("yd", "yard", "yard | yards | yds", family="us"),
        unit("mil", "thou", "mils | thou | thousandth | thousandths | thousandths of an inch", family="us"),
        unit("um", "micrometer", "micron | microns | micrometer | micrometers | micrometre | micrometres"),
        unit("nm", "nanometer", "nanometer | nanometers | nanometre | nanometres"),
        unit("km", "kilometer", "kilometer | kilometers | kilometre | kilometres"),
    ),
    ("in", "mm", "cm"),
    "3/8 in or 10 mm",
    chains=(("yd", "ft", "in"), ("m", "cm", "mm")),
)

AREA = Dimension(
    "area",
    "an area",
    "meter ** 2",
    (
        unit("in2", "inch ** 2", "sq in | sq inch | sq inches | square inch | square inches | inch2 | inches2"),
        unit(
            "cm2",
            "centimeter ** 2",
            "sq cm | square cm | square centimeters | square centimetres | square centimeter",
        ),
        unit("mm2", "millimeter ** 2", "sq mm | square mm | square millimeters | square millimetres"),
        unit("ft2", "foot ** 2", "sq ft | square foot | square feet"),
        unit(
            "m2",
            "meter ** 2",
            "sq m | square m | square meters | square metres | square meter | square metre",
        ),
    ),
    ("in2", "cm2"),
    "12 in2 or 80 cm2",
)

VOLUME = Dimension(
    "volume",
    "a volume",
    "meter ** 3",
    (
        unit("ml", "milliliter", "milliliter | milliliters | millilitre | millilitres | mls", family="metric"),
        unit(
            "cm3",
            "centimeter ** 3",
            "cc | ccs | ccm | cubic cm | cubic centimeter | cubic centimeters | cubic centimetres",
        ),
        unit("cl", "centiliter", "centiliter | centilitre"),
        unit("dl", "deciliter", "deciliter | decilitre"),
        unit("l", "liter", "liter | liters | litre | litres | ltr", family="metric"),
        unit("mm3", "millimeter ** 3", "cubic mm | cubic millimeters | cubic millimetres"),
        unit("m3", "meter ** 3", "cubic m | cubic meter | cubic meters | cubic metre | cubic metres"),
        unit(
            "fl oz",
            "fluid_ounce",
            "fl ozs | fluid oz | fluid ounce | fluid ounces | oz | ozs | ounce | ounces",
            family="us",
        ),
        unit(
            "in3",
            "inch ** 3",
            "cu in | cubic in | cubic inch | cubic inches | cu inch | cu inches",
            family="us",
        ),
        unit("ft3", "foot ** 3", "cu ft | cubic ft | cubic foot | cubic feet", family="us"),
        unit("tsp", "teaspoon", "teaspoon | teaspoons", family="us"),
        unit("tbsp", "tablespoon", "tablespoon | tablespoons | tbs", family="us"),
        unit("cup", "cup", "cups", family="us"),
        unit("pt", "pint", "pint | pints", family="us"),
        unit("qt", "quart", "quart | quarts", family="us"),
        unit("gal", "gallon", "gallon | gallons | us gallon | us gallons", family="us"),
    ),
    ("ml", "fl oz", "l"),
    "150 ml or 5 fl oz",
)

MASS = Dimension(
    "mass",
    "a mass",
    "kilogram",
    (
        unit("g", "gram", "gm | gms | gram | grams | gramme | grammes | gr | grs", family="metric"),
        unit("kg", "kilogram", "kgs | kilo | kilos | kilogram | kilograms | kilogramme", family="metric"),
        unit("mg", "milligram", "milligram | milligrams", family="metric"),
        unit("lb", "pound", "lbs | pound | pounds | #", family="us"),
        unit(
            "oz av",
            "ounce",
            "oz | ozs | ounce | ounces | oz avdp | avoirdupois ounce | avoirdupois ounces",
            family="us",
        ),
        unit(
            "ozt",
            "troy_ounce",
            "oz t | t oz | oz tr | troy oz | oz troy | troy ounce | troy ounces | ounce troy | ounces troy"
            " | oz | ozs | ounce | ounces",
            family="troy",
        ),
        unit("dwt", "pennyweight", "dwts | pwt | pennyweight | pennyweights", family="troy"),
        unit("grain", "grain", "grains | gr | grs", family="troy"),
        unit("ct", "carat", "cts | carat | carats"),
    ),
    ("g", "dwt", "lb"),
    "25 g or 16 dwt",
    chains=(("lb", "oz av"), ("kg", "g"), ("ozt", "dwt", "grain")),
    shared={
        "oz": {"us": "oz av", "troy": "ozt"},
        "ozs": {"us": "oz av", "troy": "ozt"},
        "ounce": {"us": "oz av", "troy": "ozt"},
        "ounces": {"us": "oz av", "troy": "ozt"},
        # A troy shop may write gr for grams or for grains: 15 times apart, so it is asked.
        "gr": {"metric": "g"},
        "grs": {"metric": "g"},
    },
)

DENSITY = Dimension(
    "density",
    "a density",
    "kilogram / meter ** 3",
    (
        unit(
            "g/cm3",
            "gram / centimeter ** 3",
            "g/cc | g/ml | gm/cc | g per ccm | grams per cc | grams per ml | grams per cubic centimeter"
            " | kg/l | kg/dm3 | g cm-3",
        ),
        unit("kg/m3", "kilogram / meter ** 3", "g/l | kg per cubic meter | kg per cubic metre | kg m-3"),
        unit(
            "lb/ft3",
            "pound / foot ** 3",
            "lb/cu ft | lbs/ft3 | pcf | pounds per cubic foot | lbs per cubic foot",
        ),
        unit("lb/in3", "pound / inch ** 3", "lb/cu in | lbs/in3 | pounds per cubic inch"),
    ),
    ("g/cm3", "lb/ft3"),
    "1.05 g/cm3 or 65 lb/ft3",
)

TIME = Dimension(
    "time",
    "a time",
    "second",
    (
        unit("min", "minute", "mins | minute | minutes | m | '"),
        unit("s", "second", 'sec | secs | second | seconds | "'),
        unit("h", "hour", "hr | hrs | hour | hours"),
        unit("d", "day", "day | days"),
        unit("wk", "week", "wks | week | weeks"),
        unit("month", "month", "months | mo | mos"),
        unit("year", "year", "years | yr | yrs | y"),
        unit("ms", "millisecond", "msec | millisecond | milliseconds"),
    ),
    ("min", "h", "s"),
    "45 min or 1 h 15 min",
    chains=(("wk", "d", "h", "min", "s"),),
)

PRESSURE = Dimension(
    "pressure",
    "a pressure",
    "pascal",
    (
        unit(
            "psi",
            "psi",
            "lb | lbs | pound | pounds | lb/in2 | lbs/in2 | lb/sq in | lbs per square inch | pounds per square inch",
        ),
        unit("kPa", "kilopascal", "kilopascal | kilopascals | kN/m2"),
        unit("bar", "bar", "bars"),
        unit(
            "inHg",
            "inch_Hg",
            'in hg | inch hg | inches hg | "hg | inch of mercury | inches of mercury | in | inch | inches | "',
            reading="vacuum",
        ),
        unit("mbar", "millibar", "mbars | millibar | millibars"),
        unit("Pa", "pascal", "pascal | pascals | N/m2"),
        unit("hPa", "hectopascal", "hectopascal | hectopascals"),
        unit("MPa", "megapascal", "megapascal | megapascals | N/mm2"),
        unit("GPa", "gigapascal", "gigapascal | gigapascals"),
        unit("torr", "torr", "torrs", reading="absolute"),
        unit(
            "mmHg",
            "mmHg",
            "mm hg | mm of mercury | mm | millimeters of mercury | millimetres of mercury",
            reading="absolute",
        ),
        unit("micron", "millitorr", "microns | mtorr | um hg | microns of mercury", reading="absolute"),
        unit("atm", "standard_atmosphere", "atmosphere | atmospheres | atms"),
        unit("kgf/cm2", "technical_atmosphere", "kg/cm2 | kp/cm2 | kg per square centimeter"),
        unit("ksi", "kilopound_force_per_square_inch", "kip/in2"),
        unit("inH2O", "inH2O", 'in h2o | inches h2o | in wc | "wc | inches of water | in wg'),
        unit("cmH2O", "centimeter_H2O", "cm h2o | cm of water"),
    ),
    ("psi", "kPa", "bar"),
    "15 psi or 1 bar",
    signed=True,
)

FORCE = Dimension(
    "force",
    "a force",
    "newton",
    (
        unit("lbf", "pound_force", "lb | lbs | # | pound | pounds | lb f | pounds force | pound force"),
        unit("kN", "kilonewton", "kilonewton | kilonewtons"),
        unit("N", "newton", "newton | newtons"),
        unit("kgf", "kilogram_force", "kg | kp | kilo | kilos | kg f | kilograms force"),
        unit(
            "tonf",
            "force_ton",
            "us ton | us tons | short ton | short tons | ton | tons | ton force | tons force",
        ),
        unit(
            "tf",
            "metric_ton * standard_gravity",
            "metric ton | metric tons | tonne | tonnes | ton | tons | t",
        ),
    ),
    ("lbf", "kN", "kgf"),
    "2000 lbf or 9 kN",
)

SPEED = Dimension(
    "speed",
    "a speed of turning",
    "radian / second",
    (
        unit(
            "rpm",
            "turn / minute",
            "rev/min | r/min | revs per minute | revolutions per minute | turns per minute | u/min | 1/min",
        ),
        unit("rps", "turn / second", "rev/s | r/s | revolutions per second | turns per second"),
        unit("rad/s", "radian / second", "radians per second"),
    ),
    ("rpm",),
    "300 rpm",
)

PERCENT = Dimension(
    "percent",
    "a percentage",
    "dimensionless",
    (
        unit("%", "percent", "percent | pct | per cent | percents"),
        unit("permille", "permille", "‰ | per mille | per mil"),
        unit("ppm", "ppm", "parts per million"),
    ),
    ("%",),
    "2.5 %",
    signed=True,
)

NUMBER = Dimension("number", "a plain number", "dimensionless", (unit("", "dimensionless"),), ("",), "1.5", signed=True)

RATIO = Dimension(
    "ratio",
    "a mix ratio",
    "",
    (
        unit(
            "per 100",
            "",
            "% | percent | parts per 100 | parts per 100 parts | parts per hundred | per hundred | phr",
        ),
        unit(
            "ml/100 g",
            "",
            "ml per 100 g | ml per 100 grams | cc/100g | cc per 100 grams | cm3/100 g | mls per 100 g",
        ),
        unit("g/100 g", "", "g per 100 g | g per 100 grams | grams per 100 grams | gm/100 gm | g/100g powder"),
    ),
    ("per 100",),
    "100:38 or 38 per 100",
)

DIMENSIONS = (
    TEMPERATURE, TEMPERATURE_CHANGE, RATE_OF_TEMPERATURE, LENGTH, TIME, MASS, VOLUME, AREA, DENSITY, PRESSURE,
    FORCE, SPEED, NUMBER, PERCENT, RATIO,
)  # fmt: skip
