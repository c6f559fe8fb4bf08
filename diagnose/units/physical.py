"""The closed lists of unit spellings for quantities that come from handbooks and calculators."""

from __future__ import annotations

from diagnose.units.dimension import Dimension, Unit
from diagnose.units.everyday import CELSIUS, FAHRENHEIT, KELVIN, unit

# A difference of one kelvin is one degree Celsius, so handbooks write either under the line.
PER_KELVIN = (*KELVIN[:3], *CELSIUS[:3])
PER_FAHRENHEIT = FAHRENHEIT[:3]


def under(symbol: str, pint: str, above: str, degrees: tuple[str, ...], *also: str) -> Unit:
    """Return a unit with a temperature difference under the line, in every way that is written.

    `above` holds what stands before it, separated by bars: `J/kg` gives J/kg/K, J/(kg K), J/(kg C) and so on.
    """
    starts = [one.strip() for one in above.split("|")]
    written = [f"{start} per {degree}" for start in starts for degree in degrees]
    written += [f"{start} {degree}" for start in starts for degree in degrees if "/" in start]
    return Unit(symbol, pint, (*written, *also))


DIMENSIONS = (
    Dimension(
        "diffusivity",
        "a diffusivity",
        "meter ** 2 / second",
        (
            unit("mm2/s", "millimeter ** 2 / second", "mm2 s-1 | sq mm per s | mm2 per second | cSt"),
            unit("m2/s", "meter ** 2 / second", "m2 s-1 | sq m per s | m2 per second"),
            unit("cm2/s", "centimeter ** 2 / second", "cm2 s-1 | sq cm per s | cm2 per second | St"),
            unit("ft2/h", "foot ** 2 / hour", "ft2/hr | sq ft per hour | sq ft/hr"),
            unit("in2/s", "inch ** 2 / second", "sq in per s | sq in/s"),
        ),
        ("mm2/s", "m2/s"),
        "0.1 mm2/s or 1e-7 m2/s",
    ),
    Dimension(
        "conductivity",
        "a thermal conductivity",
        "watt / meter / kelvin",
        (
            under("W/m/K", "watt / meter / kelvin", "W/m | W per m", PER_KELVIN, "W m-1 K-1"),
            under("W/cm/K", "watt / centimeter / kelvin", "W/cm", PER_KELVIN),
            under("mW/m/K", "milliwatt / meter / kelvin", "mW/m", PER_KELVIN),
            under("cal/s/cm/K", "calorie / second / centimeter / kelvin", "cal/s/cm | cal/cm/s", PER_KELVIN),
            under(
                "BTU/h/ft/F",
                "Btu_it / hour / foot / delta_degF",
                "btu/h/ft | btu/hr/ft | btu/ft/h | btu/ft/hr",
                PER_FAHRENHEIT,
            ),
            under(
                "BTU in/h/ft2/F",
                "Btu_it * inch / hour / foot ** 2 / delta_degF",
                "btu in/h/ft2 | btu in/hr/ft2",
                PER_FAHRENHEIT,
            ),
        ),
        ("W/m/K", "BTU/h/ft/F"),
        "0.15 W/m/K",
    ),
    Dimension(
        "specific heat",
        "a specific heat",
        "joule / kilogram / kelvin",
        (
            under("J/kg/K", "joule / kilogram / kelvin", "J/kg | J per kg", PER_KELVIN, "J kg-1 K-1"),
            under("kJ/kg/K", "kilojoule / kilogram / kelvin", "kJ/kg", PER_KELVIN),
            under("J/g/K", "joule / gram / kelvin", "J/g", PER_KELVIN),
            under("cal/g/K", "calorie / gram / kelvin", "cal/g | kcal/kg", PER_KELVIN),
            under("BTU/lb/F", "Btu_it / pound / delta_degF", "btu/lb", PER_FAHRENHEIT),
        ),
        ("J/kg/K", "BTU/lb/F"),
        "1800 J/kg/K",
    ),
    Dimension(
        "expansion",
        "a thermal expansion",
        "1 / kelvin",
        (
            under("1/K", "1 / kelvin", "1 | | m/m | mm/mm | in/in", PER_KELVIN, "K-1", "C-1", "°C-1"),
            under("ppm/K", "ppm / kelvin", "ppm | um/m | 1e-6 | 10-6", PER_KELVIN),
            under("%/K", "percent / kelvin", "% | percent", PER_KELVIN),
            under("1/F", "1 / delta_degF", "1 | | in/in", PER_FAHRENHEIT),
            under("ppm/F", "ppm / delta_degF", "ppm | uin/in", PER_FAHRENHEIT),
        ),
        ("1/K", "ppm/K"),
        "2.2e-4 1/K or 220 ppm/K",
        signed=True,
    ),
    Dimension(
        "energy per mole",
        "an energy per mole",
        "joule / mole",
        (
            unit("kJ/mol", "kilojoule / mole", "kJ per mole | kJ/mole | kJ mol-1"),
            unit("J/mol", "joule / mole", "J per mole | J/mole | J mol-1"),
            unit("kcal/mol", "kilocalorie / mole", "kcal per mole | kcal/mole | kcal mol-1"),
        ),
        ("kJ/mol", "kcal/mol"),
        "100 kJ/mol",
    ),
    Dimension(
        "energy",
        "an energy",
        "joule",
        (
            unit("kJ", "kilojoule", "kilojoule | kilojoules"),
            unit("J", "joule", "joule | joules"),
            unit("MJ", "megajoule", "megajoule | megajoules"),
            unit("kWh", "kilowatt_hour", "kW h | kilowatt hour | kilowatt hours"),
            unit("Wh", "watt_hour", "W h | watt hour | watt hours"),
            unit("cal", "calorie", "calorie | calories"),
            unit("kcal", "kilocalorie", "kilocalorie | kilocalories"),
            unit("BTU", "Btu_it", "BTUs"),
        ),
        ("kJ", "kWh", "BTU"),
        "35 kJ or 0.01 kWh",
    ),
    Dimension(
        "power",
        "a power",
        "watt",
        (
            unit("kW", "kilowatt", "kilowatt | kilowatts"),
            unit("W", "watt", "watt | watts"),
            unit("BTU/h", "Btu_it / hour", "btu/hr | btu per hour | btuh"),
            unit("hp", "horsepower", "horsepower"),
        ),
        ("kW", "W", "BTU/h"),
        "3 kW",
    ),
    Dimension(
        "heat transfer",
        "a heat transfer coefficient",
        "watt / meter ** 2 / kelvin",
        (
            under("W/m2/K", "watt / meter ** 2 / kelvin", "W/m2 | W per m2", PER_KELVIN, "W m-2 K-1"),
            under("kW/m2/K", "kilowatt / meter ** 2 / kelvin", "kW/m2", PER_KELVIN),
            under("W/cm2/K", "watt / centimeter ** 2 / kelvin", "W/cm2", PER_KELVIN),
            under(
                "BTU/h/ft2/F",
                "Btu_it / hour / foot ** 2 / delta_degF",
                "btu/h/ft2 | btu/hr/ft2 | btu/ft2/h | btu/ft2/hr",
                PER_FAHRENHEIT,
            ),
        ),
        ("W/m2/K", "BTU/h/ft2/F"),
        "300 W/m2/K",
    ),
    Dimension(
        "volume flow",
        "a flow",
        "meter ** 3 / second",
        (
            unit(
                "l/min",
                "liter / minute",
                "lpm | liter per minute | liters per minute | litres per minute | l/m",
            ),
            unit("cfm", "foot ** 3 / minute", "cubic feet per minute | ft3/min | cu ft/min"),
            unit("CFH", "foot ** 3 / hour", "cubic feet per hour | ft3/h | ft3/hr | cu ft/hr | scfh"),
            unit("m3/h", "meter ** 3 / hour", "m3/hr | cubic meters per hour | cubic metres per hour"),
            unit("m3/s", "meter ** 3 / second", "cubic meters per second | cubic metres per second"),
            unit("l/s", "liter / second", "liters per second | litres per second"),
            unit("l/h", "liter / hour", "l/hr | liters per hour | litres per hour"),
            unit("ml/s", "milliliter / second", "cc/s | cm3/s | ml per second | cc per second"),
            unit("ml/min", "milliliter / minute", "cc/min | cm3/min | ml per minute | sccm"),
            unit("gpm", "gallon / minute", "gal/min | gallons per minute"),
        ),
        ("l/min", "cfm", "CFH"),
        "10 l/min or 20 CFH",
    ),
    Dimension(
        "mass flow",
        "a mass flow",
        "kilogram / second",
        (
            unit("g/s", "gram / second", "grams per second"),
            unit("g/min", "gram / minute", "grams per minute"),
            unit("kg/s", "kilogram / second", "kilograms per second"),
            unit("kg/h", "kilogram / hour", "kg/hr | kilograms per hour"),
            unit("lb/h", "pound / hour", "lb/hr | lbs/hr | pounds per hour"),
        ),
        ("g/s", "kg/h"),
        "2 g/s",
    ),
    Dimension(
        "speed of travel",
        "a speed",
        "meter / second",
        (
            unit("m/s", "meter / second", "meters per second | metres per second | m s-1 | m/sec"),
            unit("mm/s", "millimeter / second", "millimeters per second | mm/sec"),
            unit("cm/s", "centimeter / second", "centimeters per second | cm/sec"),
            unit("ft/s", "foot / second", "fps | feet per second | ft/sec"),
            unit("in/s", "inch / second", "ips | inches per second | in/sec"),
            unit("mm/min", "millimeter / minute", "millimeters per minute"),
            unit("m/min", "meter / minute", "meters per minute | metres per minute"),
            unit("ft/min", "foot / minute", "fpm | feet per minute"),
            unit("in/min", "inch / minute", "ipm | inches per minute"),
            unit("km/h", "kilometer / hour", "kph | kmh | km/hr"),
            unit("mph", "mile / hour", "miles per hour"),
        ),
        ("m/s", "ft/s"),
        "0.5 m/s",
    ),
    Dimension(
        "surface tension",
        "a surface tension",
        "newton / meter",
        (
            unit("mN/m", "millinewton / meter", "mN per m | mN m-1 | mJ/m2"),
            unit("N/m", "newton / meter", "N per m | N m-1 | J/m2"),
            unit("dyn/cm", "dyne / centimeter", "dyne/cm | dynes/cm | dynes per cm"),
        ),
        ("mN/m", "N/m"),
        "25 mN/m",
    ),
    Dimension(
        "viscosity",
        "a viscosity",
        "pascal * second",
        (
            unit("Pa s", "pascal * second", "Pa-s | Pas | pascal second | pascal seconds"),
            unit("mPa s", "millipascal * second", "mPa-s | mPas | millipascal second | millipascal seconds"),
            unit("cP", "centipoise", "cps | centipoise | cpoise"),
            unit("P", "poise", "poise"),
            unit("kPa s", "kilopascal * second", "kPa-s | kPas"),
        ),
        ("Pa s", "cP"),
        "0.5 Pa s or 500 cP",
    ),
    Dimension(
        "latent heat",
        "a latent heat",
        "joule / kilogram",
        (
            unit("kJ/kg", "kilojoule / kilogram", "kJ per kg | J/g | J per g | kJ kg-1"),
            unit("J/kg", "joule / kilogram", "J per kg | J kg-1"),
            unit("MJ/kg", "megajoule / kilogram", "MJ per kg"),
            unit("cal/g", "calorie / gram", "cal per g | kcal/kg"),
            unit("BTU/lb", "Btu_it / pound", "btu per lb | btu per pound"),
        ),
        ("kJ/kg", "BTU/lb"),
        "110 kJ/kg",
    ),
    Dimension(
        "acceleration",
        "an acceleration",
        "meter / second ** 2",
        (
            unit("m/s2", "meter / second ** 2", "m per s2 | m/sec2 | m s-2"),
            unit("g", "standard_gravity", "gs | gee | gees | g force"),
            unit("ft/s2", "foot / second ** 2", "ft/sec2"),
        ),
        ("m/s2", "g"),
        "9.8 m/s2 or 1 g",
    ),
    Dimension(
        "frequency",
        "a frequency",
        "1 / second",
        (
            unit("Hz", "1 / second", "hertz | 1/s | cycles per second | per second"),
            unit("1/min", "1 / minute", "cycles per minute | cpm | vpm | per minute"),
        ),
        ("Hz", "1/min"),
        "50 Hz",
    ),
    Dimension(
        "angle",
        "an angle",
        "radian",
        (unit("deg", "degree", "° | degree | degrees"), unit("rad", "radian", "radian | radians")),
        ("deg",),
        "3 deg",
        signed=True,
    ),
)
